from jobs.jobs.pages import changes, clients, listing
from quoting.platform.people.access import DESK, STAFF, route

urlpatterns = [
    route("jobs/", listing.job_list, "job_list", GET=STAFF),
    route("jobs/new/", changes.job_add, "job_add", both=DESK),
    route("jobs/<int:job_id>/change/", changes.job_change, "job_change", both=DESK),
    route("jobs/<int:job_id>/close/", changes.job_close, "job_close", POST=DESK),
    route("clients/", clients.client_list, "client_list", GET=DESK),
    route("clients/<int:client_id>/", clients.client_change, "client_change", both=DESK),
]
