from django.urls import path

from jobs.orders.pages import item

urlpatterns = [
    path("jobs/<int:job_id>/to-order/<path:material>/", item.order_item, name="order_item"),
    path("jobs/<int:job_id>/to-order-release/<path:material>/", item.order_item_release, name="order_item_release"),
    path("jobs/<int:job_id>/to-order-sample/<path:material>/", item.order_item_sample, name="order_item_sample"),
]
