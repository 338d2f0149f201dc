from quoting.platform.people.access import EVERYONE, route
from quoting.service.audit.pages import health

urlpatterns = [
    route("health/live", health.live, "health_live", GET=EVERYONE),
    route("health/ready", health.ready, "health_ready", GET=EVERYONE),
]
