from jobs.plans.api import plans
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("jobs/<str:key>/plans", plans.JobPlans, GET=DESK),
    route("jobs/<str:key>/plans/<str:what>", plans.OnePlan, POST=DESK, PUT=DESK, DELETE=DESK),
]
