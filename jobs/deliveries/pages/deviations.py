"""What goes otherwise than ordered, settled by name: accepted as it is, or the supplier asked again."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404

from catalog.pages.firm_first import firm_first
from jobs.deliveries.models import Settlement
from jobs.deliveries.pages.acting import form_page
from jobs.deliveries.pages.lines import order_page
from jobs.deliveries.services.deviations import settle
from jobs.orders.models import OrderLine
from quoting.platform import clock
from quoting.platform.firm_day import signature_of
from quoting.platform.pages.entry_form import EntryForm, text

WORDS = {
    Settlement.ACCEPTED: ("Accept it", "You accept it under your name. It is not asked about again."),
    Settlement.ASKED_AGAIN: ("Enter that you asked", "It is silent for two working days, the time to answer."),
}


class SettleLineForm(EntryForm):
    reason = text("Why, or what you asked", rows=2)


@firm_first
def line_settle(request: HttpRequest, line_id: int) -> HttpResponse:
    """The fact and how it is settled stand in the address."""
    line = get_object_or_404(OrderLine.objects.select_related("order").exclude(order__placed_on=None), pk=line_id)
    now, mark = clock.now(), request.GET.get("mark", "")
    how = Settlement.ASKED_AGAIN if request.GET.get("how") == Settlement.ASKED_AGAIN else Settlement.ACCEPTED
    button, message = WORDS[how]

    def act(entries: dict[str, Any]) -> str:
        deviation = settle(line, {**entries, "mark": mark, "how": how.value}, signature_of(request.user, now), now=now)
        return f"{deviation.label}: {how.label[:1].lower()}{how.label[1:]}."

    form = SettleLineForm(request.POST or None)
    return form_page(request, form, act, order_page(line.order), heading=line.what, says=[message], button=button)
