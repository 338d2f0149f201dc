from django.urls import path

from jobs.orders.pages import item, listing, page

urlpatterns = [
    path("orders/", listing.order_list, name="order_list"),
    path("orders/from/<path:code>/", listing.order_from, name="order_from"),
    path("orders/<int:order_id>/", page.order, name="order"),
    path("orders/<int:order_id>/change/", page.order_change, name="order_change"),
    path("orders/<int:order_id>/drop/", page.order_drop, name="order_drop"),
    path("orders/<int:order_id>/place/", page.order_place, name="order_place"),
    path("orders/<int:order_id>/sheet/", page.order_sheet_make, name="order_sheet_make"),
    path("orders/<int:order_id>/send/", page.order_send, name="order_send"),
    path("jobs/<int:job_id>/to-order/<path:material>/", item.order_item, name="order_item"),
    path("jobs/<int:job_id>/to-order-release/<path:material>/", item.order_item_release, name="order_item_release"),
    path("jobs/<int:job_id>/to-order-sample/<path:material>/", item.order_item_sample, name="order_item_sample"),
]
