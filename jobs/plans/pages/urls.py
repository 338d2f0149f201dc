from django.urls import path

from jobs.plans.pages import page

urlpatterns = [
    path("jobs/<int:job_id>/plans/", page.job_plans, name="job_plans"),
    path("jobs/<int:job_id>/plans/on-hand/", page.on_hand, name="job_on_hand"),
    path("jobs/<int:job_id>/plans/<slug:what>/ask/", page.plan_ask, name="plan_ask"),
    path("jobs/<int:job_id>/plans/<slug:what>/use/", page.plan_use, name="plan_use"),
    path("jobs/<int:job_id>/plans/<slug:what>/drop/", page.plan_drop, name="plan_drop"),
    path("plans/errands/<int:errand_id>/", page.plan_progress, name="plan_progress"),
]
