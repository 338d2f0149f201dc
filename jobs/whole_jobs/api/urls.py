from jobs.whole_jobs.api import jobs
from quoting.platform.people.access import DESK, STAFF, route

urlpatterns = [
    route("jobs", jobs.Jobs.as_view(), "api_jobs", GET=STAFF, POST=DESK),
    route("jobs/<str:key>", jobs.OneJob.as_view(), "api_job", GET=STAFF, PATCH=DESK),
]
