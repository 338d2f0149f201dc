from jobs.plans.api import plans
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("jobs/<str:key>/plans", plans.JobPlans.as_view(), "api_plans", GET=DESK),
    route("jobs/<str:key>/plans/<str:what>", plans.OnePlan.as_view(), "api_plan", POST=DESK, PUT=DESK, DELETE=DESK),
]
