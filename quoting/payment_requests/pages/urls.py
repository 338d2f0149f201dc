from quoting.payment_requests.pages import payments
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("jobs/<int:job_id>/price/payments/", payments.payments, "payments", both=DESK),
    route("payments/<int:payment_id>/undo/", payments.payment_undo, "payment_undo", both=DESK),
]
