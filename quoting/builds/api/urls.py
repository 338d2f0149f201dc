from quoting.builds.api import builds
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("jobs/<str:key>/builds", builds.JobBuilds, POST=DESK),
]
