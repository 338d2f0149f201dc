from quoting.payment_requests.api import payments
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("jobs/<str:key>/payments", payments.Payments.as_view(), "api_payments", both=DESK),
    route(
        "jobs/<str:key>/payments/<int:payment_id>/undo", payments.UndoPayment.as_view(), "api_payment_undo", POST=DESK
    ),
]
