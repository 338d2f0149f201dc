"""The letter of a claim: made, and sent to the supplier by mail."""

from typing import Any

from django.http import HttpRequest, HttpResponse

from catalog.pages.firm_first import firm_first
from jobs.deliveries.pages.claims import receipt_or_404, receipt_page
from jobs.deliveries.pages.order_events_forms import LetterForm
from jobs.deliveries.services.claim_letters import request_letter
from jobs.deliveries.services.claim_mailing import queue_claim_mail
from quoting.platform import clock
from quoting.platform.firm_day import signature_of
from quoting.platform.mail_way import on_its_way
from quoting.platform.pages.step import step


@firm_first
def receipt_letter(request: HttpRequest, receipt_id: int) -> HttpResponse:
    row, now = receipt_or_404(receipt_id), clock.now()

    def act() -> str:
        entries = _entries(request)
        request_letter(row, {"asks": entries.get("asks")}, signature_of(request.user, now), now)
        return "The letter is being made."

    return step(request, act, receipt_page(row))


@firm_first
def receipt_send(request: HttpRequest, receipt_id: int) -> HttpResponse:
    row, now = receipt_or_404(receipt_id), clock.now()

    def act() -> str:
        mail = queue_claim_mail(row, _entries(request), signature_of(request.user, now), now=now)
        return on_its_way(f"The claim for {row.line.what}", mail.to_address)

    return step(request, act, receipt_page(row))


def _entries(request: HttpRequest) -> dict[str, Any]:
    form = LetterForm(request.POST)
    form.is_valid()
    return form.entries()
