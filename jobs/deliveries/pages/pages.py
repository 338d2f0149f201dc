"""Receiving: what is due on the sites, and checking in what came. The lead's page as well: no price, no supplier."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.plain_text import plain
from catalog.core.ground.refusal import Refused
from catalog.pages.firm_first import firm_first
from catalog.services.book import firm_of
from jobs.deliveries.models import Delivery
from jobs.deliveries.pages.expected import described, expected_groups
from jobs.deliveries.pages.receiving_forms import CheckIn, DueRow
from jobs.deliveries.services.deliveries import keep_delivery
from jobs.deliveries.services.due_deliveries import due_lines
from jobs.deliveries.services.if_bad import if_bad
from jobs.deliveries.services.received_pieces import STATES
from jobs.orders.models import Order
from jobs.site.services.words import lengths_in
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm, moment_at_the_firm, signature_of
from quoting.platform.pages.kept_form import answered
from quoting.platform.people.access import sees_suppliers


@firm_first
def receiving(request: HttpRequest) -> HttpResponse:
    today = day_at_the_firm(clock.now())
    lately = Delivery.objects.select_related("order__supplier").order_by("-entered_at", "-pk")[:5]
    groups = expected_groups(today)
    context = {
        "groups": groups,
        "first": next((order for group in groups for order in group.orders), None),
        "lately": lately,
        "today": today,
        "with_suppliers": sees_suppliers(request),
    }
    return render(request, "deliveries/receiving.html", context)


@firm_first
def check_in(request: HttpRequest, order_id: int) -> HttpResponse:
    order = get_object_or_404(Order.objects.select_related("supplier").exclude(placed_on=None), pk=order_id)
    now, system = clock.now(), firm_of().display_units
    signature, say = signature_of(request.user, now), lengths_in(system)
    moment = moment_at_the_firm(now)
    due = due_lines(order)
    # What was sent is read whole: of a form that is sent again some lines are complete by now.
    if request.method != "POST":
        due = [line for line in due if not line.state.is_complete] or due
    follows = if_bad(order, [line.line for line in due], moment.date(), moment)
    rows = [DueRow(line, *described(line, say), follows.get(line.line.pk), system) for line in due]
    form, status = CheckIn(request, order, rows, {"received_on": signature.on.isoformat()}), 200
    if request.method == "POST":
        form.is_valid()
        form.refuse_lonely_photos()
        try:
            if not form.is_valid():
                raise DocumentError([])
            delivery, is_new = keep_delivery(
                order, form.document(), form.photos(), signature, now=now, slip=form.slip()
            )
            return _kept(request, delivery, is_new)
        except DocumentError as error:
            form.complain(error)
            status = 422
        except Refused as refusal:
            # Told once: sent again it is meant, for it is another delivery.
            form.messages.append(str(refusal))
            form.seen, status = order.deliveries.count(), 409
    context = {
        "order": order,
        "form": form,
        "today": signature.on,
        "with_suppliers": sees_suppliers(request),
        "jobs": list(dict.fromkeys(line.line.job for line in due)),
        "before": order.deliveries.prefetch_related("lines__line"),
    }
    return render(request, "deliveries/check_in.html", context, status=status)


def _kept(request: HttpRequest, delivery: Delivery, is_new: bool) -> HttpResponse:
    if is_new:
        rows = list(delivery.lines.all())
        counts = ((sum(getattr(row, name) for row in rows), name) for name in STATES)
        came = ", ".join(f"{plain(amount)} {name}" for amount, name in counts if amount)
        messages.success(request, f"Checked in {delivery.order.number}: {came}.")
    else:
        messages.info(request, f"This delivery of {delivery.order.number} is checked in already; nothing was added.")
    return answered(request, reverse("delivery", args=[delivery.pk]))
