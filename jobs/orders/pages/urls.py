from jobs.orders.pages import item
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("jobs/<int:job_id>/buying/items/<path:material>/", item.order_item, GET=DESK),
    route("jobs/<int:job_id>/buying/release/<path:material>/", item.order_item_release, POST=DESK),
    route("jobs/<int:job_id>/buying/sample/<path:material>/", item.order_item_sample, POST=DESK),
]
