from jobs.hours.api import hours, workers
from quoting.platform.people.access import OWNER, PRICERS, STAFF, route
from quoting.platform.people.models import Role

SAY_LEFT = PRICERS | {Role.LEAD}

urlpatterns = [
    route("workers", workers.Workers.as_view(), "api_workers", GET=STAFF, POST=OWNER),
    route("workers/<int:worker_id>", workers.OneWorker.as_view(), "api_worker", GET=STAFF, PUT=OWNER),
    route("hours", hours.AllHours.as_view(), "api_all_hours", both=STAFF),
    route("hours/rounding", workers.HoursRounding.as_view(), "api_hours_rounding", GET=STAFF, PUT=OWNER),
    route("hours/late-rates", workers.LateRates.as_view(), "api_late_rates", both=OWNER),
    route("hours/<int:entry_id>", hours.OneEntry.as_view(), "api_time_entry", GET=STAFF, PUT=STAFF),
    route("jobs/<str:key>/hours", hours.JobHours.as_view(), "api_job_hours", both=STAFF),
    route("jobs/<str:key>/hours-left", hours.HoursLeftOfJob.as_view(), "api_job_hours_left", GET=STAFF, POST=SAY_LEFT),
]
