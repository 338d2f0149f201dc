"""Payments of the client of a job, and the deposit they meet."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.plain_text import money
from jobs.jobs.models import Job
from jobs.jobs.services.jobs import job_of
from quoting.payment_requests.models import PaymentReceived
from quoting.payment_requests.services.payments_received import (
    deposit_of,
    enter_payment,
    payments_of,
    received_sum,
    undo_payment,
)
from quoting.platform import clock
from quoting.platform.api.base import ApiView, Document, day, document_of
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import signature_of


class Payments(ApiView):
    @describe("list_payments", "What was received of the client, and what of the deposit is open.", gives="Payments")
    def get(self, request: Request, key: str) -> Response:
        return Response(of_payments(job_of(key)))

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
        return Response(of_payment(row), status=201 if is_new else 200)


class UndoPayment(ApiView):
    @describe(
        "undo_payment",
        "Entered by mistake, or sent back by the bank. Said twice it is one.",
        takes="Reason",
        gives="Payment",
    )
    def post(self, request: Request, key: str, payment_id: int) -> Response:
        row, now = PaymentReceived.objects.get(pk=payment_id, job=job_of(key)), clock.now()
        return Response(of_payment(undo_payment(row, document_of(request), signature_of(request.user, now), now=now)))


def of_payments(job: Job) -> Document:
    rows, deposit = payments_of(job), deposit_of(job)
    return {
        "payments": [of_payment(row) for row in rows],
        "received": money(received_sum(rows)),
        "deposit": deposit and {name: money(getattr(deposit, name)) for name in ("due", "received", "open")},
    }


def of_payment(row: PaymentReceived) -> Document:
    off = row.taken_off
    return {
        "id": row.pk,
        "amount": money(row.amount),
        "received_on": day(row.received_on),
        "what_for": row.what_for,
        "entered_by": row.entered_by_name,
        "undone_by": off.entered_by_name if off else row.undone_by_name,
        "undone_reason": off.undone_reason if off else row.undone_reason,
    }
