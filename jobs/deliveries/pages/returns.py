"""What went back, and what was credited for it."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect

from catalog.core.ground.plain_text import plain
from jobs.deliveries.models import ReturnedGoods
from jobs.deliveries.pages.acting import form_page, request_key
from jobs.deliveries.pages.lines import line_or_404, order_page
from jobs.deliveries.pages.order_events_forms import CreditForm, ReturnForm
from jobs.deliveries.services.returns import credit_return, on_hand, send_back
from quoting.platform import clock
from quoting.platform.firm_day import signature_of


def returns(request: HttpRequest) -> HttpResponse:
    """What went back is a row of its order."""
    return redirect("on_the_way")


def return_add(request: HttpRequest, line_id: int) -> HttpResponse:
    line, now = line_or_404(line_id), clock.now()
    signature = signature_of(request.user, now)
    initial = {"request_key": request_key(request), "sent_on": signature.on.isoformat()}

    def act(entries: dict[str, Any]) -> str:
        row, _ = send_back(line, entries, signature, now=now)
        return f"Sent back: {row}."

    says = [f"{plain(on_hand(line))} {line.unit} of it came and did not go back."]
    form = ReturnForm(request.POST or None, initial)
    return form_page(request, form, act, order_page(line.order), heading=f"Send {line.what} back", says=says)


def return_credit(request: HttpRequest, return_id: int) -> HttpResponse:
    row = get_object_or_404(ReturnedGoods.objects.select_related("line__order"), pk=return_id)
    signature = signature_of(request.user, clock.now())
    expected = "" if row.credit_expected is None else str(row.credit_expected)

    def act(entries: dict[str, Any]) -> str:
        return f"Credited for what went back: {credit_return(row, entries, signature).credited}."

    form = CreditForm(request.POST or None, {"credited": expected, "credited_on": signature.on.isoformat()})
    heading = f"Credit for {plain(row.quantity)} {row.line.unit} of {row.line.what}"
    to = order_page(row.line.order)
    return form_page(request, form, act, to, heading=heading, back_label=str(row.line.order))
