from jobs.schedule.api import activities, actual_days
from quoting.platform.people.access import STAFF, route

urlpatterns = [
    route("jobs/<str:key>/chance", activities.JobChance.as_view(), "api_chance", GET=STAFF),
    route(
        "jobs/<str:key>/activities/<path:activity>/begin",
        actual_days.ActivityBegin.as_view(),
        "api_activity_begin",
        POST=STAFF,
        DELETE=STAFF,
    ),
    route(
        "jobs/<str:key>/activities/<path:activity>/end",
        actual_days.ActivityEnd.as_view(),
        "api_activity_end",
        POST=STAFF,
        DELETE=STAFF,
    ),
    route("crew-clashes", activities.CrewClashes.as_view(), "api_crew_clashes", GET=STAFF),
]
