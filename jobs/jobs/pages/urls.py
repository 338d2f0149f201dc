from django.urls import path

from jobs.jobs.pages import changes, clients, listing

urlpatterns = [
    path("jobs/", listing.job_list, name="job_list"),
    path("jobs/new/", changes.job_add, name="job_add"),
    path("jobs/<int:job_id>/change/", changes.job_change, name="job_change"),
    path("jobs/<int:job_id>/close/", changes.job_close, name="job_close"),
    path("clients/", clients.client_list, name="client_list"),
    path("clients/<int:client_id>/", clients.client_change, name="client_change"),
]
