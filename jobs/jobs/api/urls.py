from jobs.jobs.api import clients, jobs
from quoting.platform.people.access import DESK, STAFF, route

urlpatterns = [
    route("clients", clients.Clients.as_view(), "api_clients", GET=STAFF, POST=DESK),
    route("clients/<int:client_id>", clients.OneClient.as_view(), "api_client", GET=STAFF, PUT=DESK, DELETE=DESK),
    route("jobs", jobs.Jobs.as_view(), "api_jobs", GET=STAFF, POST=DESK),
    route("jobs/<str:key>", jobs.OneJob.as_view(), "api_job", GET=STAFF, PATCH=DESK),
]
