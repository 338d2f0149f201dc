from jobs.jobs.pages import clients, listing
from quoting.platform.people.access import DESK, STAFF, route

urlpatterns = [
    route("jobs/", listing.job_list, "job_list", GET=STAFF),
    route("sites/", listing.job_list, "sites", GET=STAFF),
    route("jobs/clients/", clients.client_list, "client_list", GET=DESK),
    route("jobs/clients/<int:client_id>/", clients.client_change, "client_change", both=DESK),
]
