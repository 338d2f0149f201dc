from jobs.buying.pages import listing, on_the_way, page, quantities
from quoting.platform.people.access import DESK, STAFF, route

urlpatterns = [
    route("jobs/<int:job_id>/buying/quantities/", quantities.job_quantities, GET=STAFF),
    route("buying/on-the-way/", on_the_way.on_the_way, GET=DESK),
    route("buying/from/<path:code>/", listing.order_from, both=DESK),
    route("buying/orders/<int:order_id>/", page.order, GET=DESK),
    route("buying/orders/<int:order_id>/change/", page.order_change, POST=DESK),
    route("buying/orders/<int:order_id>/drop/", page.order_drop, POST=DESK),
    route("buying/orders/<int:order_id>/place/", page.order_place, POST=DESK),
    route("buying/orders/<int:order_id>/sheet/", page.order_sheet_make, POST=DESK),
    route("buying/orders/<int:order_id>/send/", page.order_send, POST=DESK),
]
