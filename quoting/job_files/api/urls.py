from quoting.job_files.api import job_files, work_up
from quoting.platform.people.access import DESK, PRICERS, STAFF, route

urlpatterns = [
    route("jobs/<str:key>/job-file", job_files.JobFileOut, GET=PRICERS),
    route("job-files", job_files.JobFileIn, POST=PRICERS),
    route("work-up", work_up.WorkUpJobFile, POST=DESK),
    route("takeoff", work_up.TakeoffOfWall, POST=STAFF),
]
