from quoting.builds.api import builds
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("jobs/<str:key>/builds", builds.JobBuilds, POST=DESK),
    route("jobs/<str:key>/walls/<str:wall_key>/ways/price", builds.WallWayPrice, GET=DESK),
]
