from jobs.schedule.api import activities
from quoting.platform.people.access import STAFF, route

urlpatterns = [
    route("jobs/<str:key>/chance", activities.JobChance.as_view(), "api_chance", GET=STAFF),
    route("crew-clashes", activities.CrewClashes.as_view(), "api_crew_clashes", GET=STAFF),
]
