from jobs.walls.api import walls
from quoting.platform.people.access import DESK, STAFF, route

urlpatterns = [
    route("jobs/<str:key>/walls", walls.Walls, GET=STAFF, POST=DESK),
    route("jobs/<str:key>/walls/<str:wall_key>", walls.OneWall, "api_wall", GET=STAFF, PUT=DESK, DELETE=DESK),
    route("jobs/<str:key>/walls/<str:wall_key>/confirm", walls.ConfirmedWall, POST=DESK),
    route("jobs/<str:key>/walls/<str:wall_key>/ways", walls.WallWays, GET=STAFF, POST=DESK),
    route("jobs/<str:key>/walls/<str:wall_key>/copy", walls.WallCopies, POST=DESK),
]
