from jobs.whole_jobs.api import jobs
from quoting.platform.people.access import DESK, STAFF, route

urlpatterns = [
    route("jobs", jobs.Jobs, GET=STAFF, POST=DESK),
    route("jobs/<str:key>", jobs.OneJob, "api_job", GET=STAFF, PATCH=DESK),
]
