from django.urls import path

from jobs.deliveries.pages import delivery, pages

urlpatterns = [
    path("", pages.receiving, name="receiving"),
    path("orders/<int:order_id>/", pages.check_in, name="check_in"),
    path("deliveries/<int:delivery_id>/", delivery.delivery, name="delivery"),
    path("photos/<int:photo_id>/", delivery.receipt_photo, name="receipt_photo"),
]
