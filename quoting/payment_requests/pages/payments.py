"""Payments of the client, and the deposit they meet."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.pages.firm_first import firm_first
from catalog.services.book import firm_of
from jobs.deliveries.pages.acting import form_page, request_key
from jobs.deliveries.pages.order_events_forms import UndoForm
from jobs.jobs.pages.requests import job_or_404
from quoting.payment_requests.models import PaymentReceived
from quoting.payment_requests.pages.forms import PaymentForm
from quoting.payment_requests.services.asked import asked_of
from quoting.payment_requests.services.payments_received import (
    DEPOSIT,
    deposit_of,
    enter_payment,
    payments_of,
    received_sum,
    undo_payment,
)
from quoting.platform import clock
from quoting.platform.firm_day import signature_of
from quoting.platform.pages.step import step


@firm_first
def payments(request: HttpRequest, job_id: int) -> HttpResponse:
    job, now = job_or_404(job_id), clock.now()
    signature = signature_of(request.user, now)
    rows, wanted = payments_of(job), asked_of([job.pk])[job.pk]
    what_for = next((status.request.what for status in wanted.requests if status.open), DEPOSIT)
    initial = {"request_key": request_key(request), "received_on": signature.on.isoformat(), "what_for": what_for}
    form = PaymentForm(request.POST or None, initial)
    if request.method == "POST" and form.is_valid():
        try:
            row, _ = enter_payment(job, form.entries(), signature, now=now)
        except DocumentError as error:
            form.complain(error)
        else:
            to = reverse("payments", args=[job.pk])
            return step(request, lambda: f"Entered: {row.what_for}, {row.amount:,}.", to)
    context = {
        "job": job,
        "form": form,
        "payments": [(row, wanted.shares.get(str(row.pk), ())) for row in rows],
        "asked": wanted,
        "received": received_sum(rows),
        "deposit": deposit_of(job),
        "currency": firm_of().currency,
    }
    return render(request, "payment_requests/payments.html", context, status=form.status())


def payment_undo(request: HttpRequest, payment_id: int) -> HttpResponse:
    row, now = get_object_or_404(PaymentReceived.objects.select_related("job"), pk=payment_id), clock.now()

    def act(entries: dict[str, Any]) -> str:
        undo_payment(row, entries, signature_of(request.user, now), now=now)
        return f"Undone: {row.what_for}, {row.amount}. It stays visible and counts for nothing."

    form = UndoForm(request.POST or None)
    to, heading = reverse("payments", args=[row.job_id]), f"Undo {row.what_for}, {row.amount}"
    return form_page(request, form, act, to, heading=heading, button="Undo it", back_label="Payments")
