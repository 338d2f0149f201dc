from jobs.buying.api import orders, proposals
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("orders", orders.Orders, both=DESK),
    route("order-proposals/<path:code>", proposals.Proposals, GET=DESK),
]
