from jobs.schedule.api import activities, actual_days
from quoting.platform.people.access import STAFF, route

urlpatterns = [
    route("jobs/<str:key>/chance", activities.JobChance, GET=STAFF),
    route("jobs/<str:key>/activities/<path:activity>/begin", actual_days.ActivityBegin, POST=STAFF, DELETE=STAFF),
    route("jobs/<str:key>/activities/<path:activity>/end", actual_days.ActivityEnd, POST=STAFF, DELETE=STAFF),
    route("crew-clashes", activities.CrewClashes, GET=STAFF),
]
