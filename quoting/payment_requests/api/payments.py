"""Payments of the client of a job, and the deposit they meet."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from jobs.jobs.services.jobs import job_of
from quoting.payment_requests.api.shapes import PaymentShown, PaymentsRead, PaymentsShown
from quoting.payment_requests.models import PaymentReceived
from quoting.payment_requests.services.payments_received import (
    deposit_of,
    enter_payment,
    payments_of,
    undo_payment,
)
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import signature_of


class Payments(ApiView):
    @describe("list_payments", "What was received of the client, and what of the deposit is open.", gives="Payments")
    def get(self, request: Request, key: str) -> Response:
        job = job_of(key)
        return Response(write(PaymentsRead(payments_of(job), deposit_of(job)), PaymentsShown))

    @describe(
        "enter_payment",
        "Money that came in. The same `request_key` enters it once.",
        takes="NewPayment",
        gives="Payment",
        status=201,
        again=True,
    )
    def post(self, request: Request, key: str) -> Response:
        now = clock.now()
        row, is_new = enter_payment(job_of(key), document_of(request), signature_of(request.user, now), now=now)
        return Response(write(row, PaymentShown), status=201 if is_new else 200)


class UndoPayment(ApiView):
    @describe(
        "undo_payment",
        "Entered by mistake, or sent back by the bank. Safe to repeat.",
        takes="Reason",
        gives="Payment",
    )
    def post(self, request: Request, key: str, payment_id: int) -> Response:
        row, now = PaymentReceived.objects.get(pk=payment_id, job=job_of(key)), clock.now()
        row = undo_payment(row, document_of(request), signature_of(request.user, now), now=now)
        return Response(write(row, PaymentShown))
