from jobs.orders.api import orders
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("orders/<str:number>", orders.OneOrder, GET=DESK, PATCH=DESK, DELETE=DESK),
    route("orders/<str:number>/place", orders.PlaceOrder, POST=DESK),
    route("jobs/<str:key>/order-items", orders.OrderItems, GET=DESK),
    route("jobs/<str:key>/releases/<path:material>", orders.ReleaseItem, POST=DESK, DELETE=DESK),
]
