from django.urls import path

from quoting.job_files.pages import files

urlpatterns = [
    path("jobs/import/", files.job_import, name="job_import"),
    path("jobs/<int:job_id>/export/", files.job_export, name="job_export"),
]
