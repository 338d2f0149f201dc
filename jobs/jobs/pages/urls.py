from django.urls import path

from jobs.jobs.pages import clients, listing

urlpatterns = [
    path("jobs/", listing.job_list, name="job_list"),
    path("clients/", clients.client_list, name="client_list"),
    path("clients/<int:client_id>/", clients.client_change, name="client_change"),
]
