from django.urls import path

from jobs.dates.pages import pages

urlpatterns = [
    path("", pages.order_dates, name="order_dates"),
    path("jobs/<int:job_id>/", pages.job_order_dates, name="job_order_dates"),
    path("jobs/<int:job_id>/paper/", pages.order_dates_paper, name="order_dates_paper"),
]
