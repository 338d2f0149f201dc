"""What running the firm costs beside its jobs, as the office enters it."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.pages.firm_first import firm_first
from catalog.services.book import firm_of
from jobs.deliveries.pages.acting import form_page, request_key
from jobs.deliveries.pages.order_events_forms import KeyedForm, UndoForm
from quoting.core.money.month import month_of
from quoting.month.models import OverheadActual
from quoting.month.services.overhead import NewOverhead, enter_overhead, void_overhead
from quoting.platform import clock
from quoting.platform.firm_day import signature_of
from quoting.platform.pages.declared_fields import form_of
from quoting.platform.pages.step import step

MAX_SHOWN = 24


class OverheadForm(KeyedForm, form_of(NewOverhead, "what", "amount", "day", "bill")):
    pass


@firm_first
def overhead(request: HttpRequest) -> HttpResponse:
    now = clock.now()
    signature = signature_of(request.user, now)
    form = OverheadForm(request.POST or None, {"request_key": request_key(request), "day": signature.on.isoformat()})
    if request.method == "POST" and form.is_valid():
        try:
            row, _ = enter_overhead(form.entries(), signature, now=now)
        except DocumentError as error:
            form.complain(error)
        except Refused as refusal:
            form.add_error(None, str(refusal))
        else:
            return step(request, lambda: f"Entered: {row}.", reverse("overhead"))
    context = {
        "form": form,
        "rows": OverheadActual.objects.order_by("-posted_month", "-day", "-pk")[:MAX_SHOWN],
        "this_month": month_of(signature.on),
        "currency": firm_of().currency,
    }
    return render(request, "month/overhead.html", context, status=form.status())


def overhead_void(request: HttpRequest, overhead_id: int) -> HttpResponse:
    row, now = get_object_or_404(OverheadActual, pk=overhead_id), clock.now()

    def act(entries: dict[str, Any]) -> str:
        void_overhead(row, entries, signature_of(request.user, now), now=now)
        return f"Voided: {row}. It stays visible and counts for nothing."

    form = UndoForm(request.POST or None)
    return form_page(
        request, form, act, reverse("overhead"), heading=f"Void {row}", button="Void it", back_label="Overhead"
    )
