from jobs.orders.pages import item, listing, page
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("orders/", listing.order_list, "order_list", GET=DESK),
    route("orders/from/<path:code>/", listing.order_from, "order_from", both=DESK),
    route("orders/<int:order_id>/", page.order, "order", GET=DESK),
    route("orders/<int:order_id>/change/", page.order_change, "order_change", POST=DESK),
    route("orders/<int:order_id>/drop/", page.order_drop, "order_drop", POST=DESK),
    route("orders/<int:order_id>/place/", page.order_place, "order_place", POST=DESK),
    route("orders/<int:order_id>/sheet/", page.order_sheet_make, "order_sheet_make", POST=DESK),
    route("orders/<int:order_id>/send/", page.order_send, "order_send", POST=DESK),
    route("jobs/<int:job_id>/to-order/<path:material>/", item.order_item, "order_item", GET=DESK),
    route(
        "jobs/<int:job_id>/to-order-release/<path:material>/", item.order_item_release, "order_item_release", POST=DESK
    ),
    route("jobs/<int:job_id>/to-order-sample/<path:material>/", item.order_item_sample, "order_item_sample", POST=DESK),
]
