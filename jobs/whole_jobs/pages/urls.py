from django.urls import path

from jobs.whole_jobs.pages import changes

urlpatterns = [
    path("new/", changes.job_add, name="job_add"),
    path("<int:job_id>/change/", changes.job_change, name="job_change"),
    path("<int:job_id>/close/", changes.job_close, name="job_close"),
]
