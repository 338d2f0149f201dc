from jobs.orders.pages import item
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("jobs/<int:job_id>/to-order/<path:material>/", item.order_item, "order_item", GET=DESK),
    route(
        "jobs/<int:job_id>/to-order-release/<path:material>/", item.order_item_release, "order_item_release", POST=DESK
    ),
    route("jobs/<int:job_id>/to-order-sample/<path:material>/", item.order_item_sample, "order_item_sample", POST=DESK),
]
