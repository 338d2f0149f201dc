from django.urls import path

from quoting.views.job_dates import page

urlpatterns = [
    path("jobs/<int:job_id>/dates/", page.job_dates, name="job_dates"),
    path("jobs/<int:job_id>/dates/preview/", page.job_dates_preview, name="job_dates_preview"),
]
