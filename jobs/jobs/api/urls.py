from jobs.jobs.api import clients
from quoting.platform.people.access import DESK, STAFF, route

urlpatterns = [
    route("clients", clients.Clients, GET=STAFF, POST=DESK),
    route("clients/<int:client_id>", clients.OneClient, GET=STAFF, PUT=DESK, DELETE=DESK),
]
