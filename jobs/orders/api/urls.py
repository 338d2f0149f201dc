from jobs.orders.api import orders
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("orders/<str:number>", orders.OneOrder.as_view(), "api_order", GET=DESK, PATCH=DESK, DELETE=DESK),
    route("orders/<str:number>/place", orders.PlaceOrder.as_view(), "api_order_place", POST=DESK),
    route("jobs/<str:key>/order-items", orders.OrderItems.as_view(), "api_order_items", GET=DESK),
    route(
        "jobs/<str:key>/releases/<path:material>", orders.ReleaseItem.as_view(), "api_release", POST=DESK, DELETE=DESK
    ),
]
