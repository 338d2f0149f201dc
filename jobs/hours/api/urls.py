from jobs.hours.api import hours, workers
from quoting.platform.people.access import OWNER, PRICERS, STAFF, route
from quoting.platform.people.models import Role

SAY_LEFT = PRICERS | {Role.LEAD}

urlpatterns = [
    route("workers", workers.Workers, GET=STAFF, POST=OWNER),
    route("workers/<int:worker_id>", workers.OneWorker, GET=STAFF, PUT=OWNER),
    route("hours", hours.AllHours, both=STAFF),
    route("hours/rounding", workers.HoursRounding, GET=STAFF, PUT=OWNER),
    route("hours/late-rates", workers.LateRates, both=OWNER),
    route("hours/<int:entry_id>", hours.OneEntry, GET=STAFF, PUT=STAFF),
    route("jobs/<str:key>/hours", hours.JobHours, both=STAFF),
    route("jobs/<str:key>/hours-left", hours.HoursLeftOfJob, GET=STAFF, POST=SAY_LEFT),
]
