"""What is still to be ordered from one supplier, put on the fewest orders."""

import uuid

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from catalog.core.ground.refusal import Refused
from catalog.models import Supplier
from catalog.pages.firm_first import firm_first
from catalog.services.book import book_of, firm_of
from jobs.buying.pages.sums import shown_sums
from jobs.buying.services.proposals import buying_window, proposal_for, sums_of
from jobs.jobs.services.signed import WORKS, work_typed
from jobs.orders.pages.acting import code_or_404
from jobs.orders.pages.choosing import more_typed
from jobs.orders.pages.shown import ItemRow, item_row
from jobs.orders.services.drafting import MAX_LINES, draft_order
from quoting.platform import clock
from quoting.platform.firm_day import moment_at_the_firm
from quoting.platform.pages.step import step


@firm_first
def order_from(request: HttpRequest, code: str) -> HttpResponse:
    supplier = get_object_or_404(Supplier, code=code_or_404(code))
    if "sums" in request.POST:
        return _sums_of_ticked(request, supplier)
    if request.method == "POST":
        return _draft(request, supplier)
    moment, work = moment_at_the_firm(clock.now()), work_typed(request.GET.get("work", ""))
    proposal, firm = proposal_for(supplier, moment, work), firm_of()
    orders = [
        {
            "day": order.bundle.day,
            "signed": order.signed,
            "rows": [
                item_row(standing, proposal.parts.get(standing.item.key), order.early.get(standing.item.key, 0))
                for standing in order.items
            ],
            "sums": shown_sums(order.ready, firm.currency, str(place)),
            "request_key": uuid.uuid4().hex,
        }
        for place, order in enumerate(proposal.orders, start=1)
    ]
    undated: list[ItemRow] = [
        item_row(standing, proposal.parts.get(standing.item.key)) for standing in proposal.undated
    ]
    context = {
        "supplier": supplier,
        "today": moment.date(),
        "found": proposal,
        "orders": orders,
        "dated": sum(len(order.items) for order in proposal.orders),
        "undated": undated,
        "window": buying_window(book_of()).workdays,
        "work": work,
        "works": WORKS,
        "request_key": uuid.uuid4().hex,
    }
    return render(request, "buying/supplier.html", context)


def _sums_of_ticked(request: HttpRequest, supplier: Supplier) -> HttpResponse:
    """The part of the page that follows the ticks."""
    try:
        chosen = [_chosen(text) for text in request.POST.getlist("item")[:MAX_LINES]]
    except Refused as refusal:
        return HttpResponse(str(refusal), status=422, content_type="text/plain; charset=utf-8")
    bundle = sums_of(supplier, chosen, moment_at_the_firm(clock.now()))
    place = request.POST["sums"]
    sums = shown_sums(bundle, firm_of().currency, place if place.isascii() and place.isdigit() else "")
    return render(request, "buying/_sums.html", {"sums": sums})


def _draft(request: HttpRequest, supplier: Supplier) -> HttpResponse:
    now, made = clock.now(), []

    def act() -> str:
        chosen = [_chosen(text) for text in request.POST.getlist("item")]
        more = more_typed(request.POST.get("extra", ""), request.POST.get("reason", ""))
        order = draft_order(
            supplier,
            chosen,
            more={chosen[0]: more} if more and len(chosen) == 1 else None,
            request_key=request.POST.get("request_key", ""),
            by=request.user.full_name,
            now=now,
            moment=moment_at_the_firm(now),
        )
        made.append(order.pk)
        return f"Draft {order}: check it, then place it."

    response = step(request, act, reverse("order_from", args=[supplier.code]))
    return redirect("order", made[0]) if made else response


def _chosen(text: str) -> tuple[int, str]:
    job_id, _, material = text.partition("/")
    if not (job_id.isascii() and job_id.isdigit() and len(job_id) <= 9 and material) or "\0" in material:
        raise Refused(f"{text[:60]!r} is not an item of a job; choose from the list.")
    return int(job_id), material
