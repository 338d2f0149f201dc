from jobs.hours.api.urls import SAY_LEFT
from jobs.hours.pages import correction, hours, hours_file, job_hours, workers
from quoting.platform.people.access import BUYERS, OWNER, STAFF, route

urlpatterns = [
    route("hours/", hours.hours, both=STAFF),
    route("hours/file/", hours_file.hours_file, both=BUYERS),
    route("hours/file/apply/", hours_file.hours_file_apply, POST=BUYERS),
    route("hours/<int:entry_id>/", correction.time_entry, both=STAFF),
    route("hours/of/<int:worker_id>/<str:on>/", correction.hours_of_day, GET=STAFF),
    route("jobs/<int:job_id>/site/hours/", job_hours.job_hours_page, "job_hours", GET=STAFF),
    route("jobs/<int:job_id>/site/hours/left/", job_hours.hours_left_said, POST=SAY_LEFT),
    route("firm/workers/", workers.workers, both=OWNER),
    route("firm/workers/<int:worker_id>/", workers.worker, both=OWNER),
    route("firm/workers/rounding/", workers.hours_rounding, POST=OWNER),
    route("firm/workers/late-rates/", workers.late_rates_frozen, POST=OWNER),
]
