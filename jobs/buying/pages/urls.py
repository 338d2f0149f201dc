from django.urls import path

from jobs.buying.pages import listing, page

urlpatterns = [
    path("", listing.order_list, name="order_list"),
    path("from/<path:code>/", listing.order_from, name="order_from"),
    path("<int:order_id>/", page.order, name="order"),
    path("<int:order_id>/change/", page.order_change, name="order_change"),
    path("<int:order_id>/drop/", page.order_drop, name="order_drop"),
    path("<int:order_id>/place/", page.order_place, name="order_place"),
    path("<int:order_id>/sheet/", page.order_sheet_make, name="order_sheet_make"),
    path("<int:order_id>/send/", page.order_send, name="order_send"),
]
