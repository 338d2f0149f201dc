from django.urls import path

from quoting.builds.pages import page

urlpatterns = [
    path("jobs/<int:job_id>/builds/", page.job_builds, name="job_builds"),
    path("jobs/<int:job_id>/builds/use/", page.job_build_use, name="job_build_use"),
]
