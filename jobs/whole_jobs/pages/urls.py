from jobs.whole_jobs.pages import changes
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("jobs/new/", changes.job_add, both=DESK),
    route("jobs/<int:job_id>/change/", changes.job_change, both=DESK),
    route("jobs/<int:job_id>/close/", changes.job_close, POST=DESK),
]
