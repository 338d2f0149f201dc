from jobs.walls.api import walls
from quoting.platform.people.access import DESK, STAFF, route

urlpatterns = [
    route("jobs/<str:key>/walls", walls.Walls.as_view(), "api_walls", GET=STAFF, POST=DESK),
    route("jobs/<str:key>/walls/<str:wall_key>", walls.OneWall.as_view(), "api_wall", GET=STAFF, PUT=DESK, DELETE=DESK),
    route("jobs/<str:key>/walls/<str:wall_key>/confirm", walls.ConfirmedWall.as_view(), "api_wall_confirm", POST=DESK),
    route("jobs/<str:key>/walls/<str:wall_key>/copy", walls.WallCopies.as_view(), "api_wall_copy", POST=DESK),
]
