from jobs.buying.api import proposals
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("order-proposals/<path:code>", proposals.Proposals.as_view(), "api_order_proposals", GET=DESK),
]
