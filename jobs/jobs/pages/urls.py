from jobs.jobs.pages import clients
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("jobs/clients/", clients.client_list, GET=DESK),
    route("jobs/clients/<int:client_id>/", clients.client_change, both=DESK),
]
