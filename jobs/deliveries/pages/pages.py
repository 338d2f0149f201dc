"""Receiving: what is due on the sites, and checking in what came. The lead's page as well: no price, no supplier."""

from collections import Counter
from collections.abc import Iterable

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.plain_text import plain
from catalog.core.ground.refusal import Refused
from catalog.pages.firm_first import firm_first
from catalog.services.book import firm_of
from jobs.core.ordering.order_lines import StatedRun
from jobs.deliveries.models import Delivery
from jobs.deliveries.pages.receiving_forms import CheckIn
from jobs.deliveries.services.deliveries import keep_delivery
from jobs.deliveries.services.due_deliveries import DueLine, due_lines, due_orders
from jobs.orders.models import Order
from jobs.site.services.words import Say, lengths_in
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm, signature_of
from quoting.platform.pages.kept_form import answered
from quoting.platform.people.access import sees_suppliers


@firm_first
def receiving(request: HttpRequest) -> HttpResponse:
    say, today = lengths_in(firm_of().display_units), day_at_the_firm(clock.now())
    orders = [
        {
            "order": one.order,
            "expected_on": one.expected_on,
            "is_late": one.expected_on is not None and one.expected_on < today,
            "sites": list(dict.fromkeys(line.line.job for line in one.lines)),
            "lines": [(line, still_words(line), *described(line, say)) for line in one.lines],
        }
        for one in due_orders()
    ]
    lately = Delivery.objects.select_related("order__supplier").order_by("-entered_at", "-pk")[:10]
    context = {"orders": orders, "lately": lately, "today": today, "with_suppliers": sees_suppliers(request)}
    return render(request, "deliveries/receiving.html", context)


@firm_first
def check_in(request: HttpRequest, order_id: int) -> HttpResponse:
    order = get_object_or_404(Order.objects.select_related("supplier").exclude(placed_on=None), pk=order_id)
    now, system = clock.now(), firm_of().display_units
    signature, say = signature_of(request.user, now), lengths_in(system)
    due = due_lines(order)
    # What was sent is read whole: of a form that is sent again some lines are complete by now.
    if request.method != "POST":
        due = [one for one in due if not one.state.is_complete] or due
    rows = [(one, *described(one, say), system) for one in due]
    form, status = CheckIn(request, order, rows, {"received_on": signature.on.isoformat()}), 200
    if request.method == "POST":
        form.is_valid()
        form.refuse_lonely_photos()
        try:
            if not form.is_valid():
                raise DocumentError([])
            delivery, is_new = keep_delivery(order, form.document(), form.photos(), signature, now=now)
            return _kept(request, delivery, is_new)
        except DocumentError as error:
            form.complain(error)
            status = 422
        except Refused as refusal:
            # Told once: sent again it is meant, for it is another delivery.
            form.told.append(str(refusal))
            form.seen, status = order.deliveries.count(), 409
    context = {
        "order": order,
        "form": form,
        "today": signature.on,
        "with_suppliers": sees_suppliers(request),
        "before": order.deliveries.prefetch_related("lines__line"),
    }
    return render(request, "deliveries/check_in.html", context, status=status)


def _kept(request: HttpRequest, delivery: Delivery, is_new: bool) -> HttpResponse:
    if is_new:
        messages.success(request, f"Checked in: what came of {delivery.order.number}.")
    else:
        messages.info(request, f"This delivery of {delivery.order.number} is checked in already; it is kept once.")
    return answered(request, reverse("delivery", args=[delivery.pk]))


def still_words(one: DueLine) -> str:
    total = f"{plain(one.line.quantity)} {one.line.unit}"
    return total if one.awaited == one.line.quantity else f"{plain(one.awaited)} of {total} still"


def described(one: DueLine, say: Say) -> tuple[str, str]:
    """Of what lengths the pieces are that are to come, and where they go."""
    if one.to_come:
        lengths = Counter(say(came.piece.length_mm) for came in one.to_come)
        where = dict.fromkeys(f"{came.piece.wall}: {came.piece.run}" for came in one.to_come)
        pieces = (f"{count} x {length}" if count > 1 else length for length, count in lengths.items())
        return ", ".join(pieces), "; ".join(where)
    return "; ".join(dict.fromkeys(_lengths(one.runs, say))), "; ".join(f"{run.wall}: {run.run}" for run in one.runs)


def _lengths(runs: Iterable[StatedRun], say: Say) -> Iterable[str]:
    for run in runs:
        counts: dict[str, int] = {}
        for length_mm in sorted(run.piece_lengths_mm, reverse=True):
            counts[say(length_mm)] = counts.get(say(length_mm), 0) + 1
        yield ", ".join(f"{count} x {length}" if count > 1 else length for length, count in counts.items())
