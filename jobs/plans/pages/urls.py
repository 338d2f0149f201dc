from jobs.plans.pages import page
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("jobs/<int:job_id>/plans/", page.job_plans, GET=DESK),
    route("jobs/<int:job_id>/plans/<slug:what>/ask/", page.plan_ask, POST=DESK),
    route("jobs/<int:job_id>/plans/<slug:what>/use/", page.plan_use, POST=DESK),
    route("jobs/<int:job_id>/plans/<slug:what>/drop/", page.plan_drop, POST=DESK),
    route("plans/errands/<int:errand_id>/", page.plan_progress, GET=DESK),
]
