from jobs.buying.api import orders, proposals
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("orders", orders.Orders.as_view(), "api_orders", both=DESK),
    route("order-proposals/<path:code>", proposals.Proposals.as_view(), "api_order_proposals", GET=DESK),
]
