from quoting.job_files.api import job_files, work_up
from quoting.platform.people.access import DESK, PRICERS, STAFF, route

urlpatterns = [
    route("jobs/<str:key>/job-file", job_files.JobFileOut.as_view(), "api_job_file", GET=PRICERS),
    route("job-files", job_files.JobFileIn.as_view(), "api_job_files", POST=PRICERS),
    route("work-up", work_up.WorkUpJobFile.as_view(), "api_work_up", POST=DESK),
    route("takeoff", work_up.TakeoffOfWall.as_view(), "api_take_off", POST=STAFF),
]
