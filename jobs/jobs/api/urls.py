from jobs.jobs.api import clients
from quoting.platform.people.access import DESK, STAFF, route

urlpatterns = [
    route("clients", clients.Clients.as_view(), "api_clients", GET=STAFF, POST=DESK),
    route("clients/<int:client_id>", clients.OneClient.as_view(), "api_client", GET=STAFF, PUT=DESK, DELETE=DESK),
]
