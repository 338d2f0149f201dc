"""Orders as they stand, and what is still to be ordered from whom."""

import uuid
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from catalog.core.ground.refusal import Refused
from catalog.models import Supplier
from catalog.pages.firm_first import firm_first
from catalog.services.book import book_of, firm_of
from jobs.buying.pages.sums import shown_sums
from jobs.buying.services.expediting_facts import to_ask
from jobs.buying.services.listed_orders import ListedOrder, all_here, listed_orders, on_the_way, orders_of_work
from jobs.buying.services.proposals import buying_window, proposal_for, sums_of
from jobs.buying.services.to_order import suppliers_to_order
from jobs.dates.pages.undated import undated_lines
from jobs.dates.services.item_schedule import OpenJobItems, open_items
from jobs.dates.services.jobs_needing_action import waiting_jobs
from jobs.jobs.services.signed import WORKS, work_typed
from jobs.orders.models import Order, OrderState
from jobs.orders.pages.acting import code_or_404
from jobs.orders.pages.choosing import more_typed
from jobs.orders.pages.shown import ItemRow, item_row
from jobs.orders.services.drafting import MOST_LINES, draft_order
from quoting.platform import clock
from quoting.platform.firm_day import moment_at_the_firm
from quoting.platform.pages.step import step

MOST_SHOWN = 100


@dataclass(frozen=True)
class OrderGroup:
    heading: str
    rows: list[ListedOrder]


@firm_first
def order_list(request: HttpRequest) -> HttpResponse:
    moment = moment_at_the_firm(clock.now())
    read, work = open_items(moment), work_typed(request.GET.get("work", ""))
    context = {
        "today": moment.date(),
        "to_order": suppliers_to_order(read, work),
        "work": work,
        "works": WORKS,
        "awaited": read.awaited,
        "undated_lines": undated_lines(read),
        "clears_undated": True,
        "troubled": [one for one in waiting_jobs(read, at_desk=True)[0] if one.trouble],
        **_chased(moment.date()),
        "groups": _groups(work, read),
        "currency": firm_of().currency,
    }
    return render(request, "buying/list.html", context)


def _groups(work: str, read: OpenJobItems) -> list[OrderGroup]:
    rows = orders_of_work(work)
    drafts, coming = rows.filter(state=OrderState.DRAFT), on_the_way(rows)
    found = [
        OrderGroup("Being put together", listed_orders(drafts, read)),
        OrderGroup("On the way", sorted(listed_orders(coming, read), key=_next)),
        OrderGroup("All here", listed_orders(all_here(rows).order_by("-placed_at")[:MOST_SHOWN], read)),
    ]
    apart = [OrderGroup(one.heading, sorted(one.rows, key=lambda row: not row.signed)) for one in found]
    return [one for one in apart if one.rows]


def _next(row: ListedOrder) -> tuple[date, str]:
    return row.next_on or date.max, row.order.number


def _chased(today: date) -> dict[str, Any]:
    found = to_ask(today, firm_of().calendar)
    ids = dict(Order.objects.filter(number__in=[one.order for one in found.chases]).values_list("number", "pk"))
    return {"chases": [(one, ids[one.order]) for one in found.chases], "chases_bad": found.bad}


@firm_first
def order_from(request: HttpRequest, code: str) -> HttpResponse:
    supplier = get_object_or_404(Supplier, code=code_or_404(code))
    if "sums" in request.POST:
        return _sums_of_ticked(request, supplier)
    if request.method == "POST":
        return _draft(request, supplier)
    moment, work = moment_at_the_firm(clock.now()), work_typed(request.GET.get("work", ""))
    found, firm = proposal_for(supplier, moment, work), firm_of()
    orders = [
        {
            "day": one.bundle.day,
            "signed": one.signed,
            "rows": [
                item_row(standing, found.parts.get(standing.item.key), one.early.get(standing.item.key, 0))
                for standing in one.items
            ],
            "sums": shown_sums(one.ready, firm.currency, str(place)),
            "request_key": uuid.uuid4().hex,
        }
        for place, one in enumerate(found.orders, start=1)
    ]
    undated: list[ItemRow] = [item_row(standing, found.parts.get(standing.item.key)) for standing in found.undated]
    context = {
        "supplier": supplier,
        "today": moment.date(),
        "found": found,
        "orders": orders,
        "dated": sum(len(one.items) for one in found.orders),
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
        chosen = [_chosen(text) for text in request.POST.getlist("item")[:MOST_LINES]]
    except Refused as refusal:
        return HttpResponse(str(refusal), status=422, content_type="text/plain; charset=utf-8")
    found = sums_of(supplier, chosen, moment_at_the_firm(clock.now()))
    place = request.POST["sums"]
    sums = shown_sums(found, firm_of().currency, place if place.isascii() and place.isdigit() else "")
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
        return f"Order {order} is being put together: look it over, release what is on it, and place it."

    response = step(request, act, reverse("order_from", args=[supplier.code]))
    return redirect("order", made[0]) if made else response


def _chosen(text: str) -> tuple[int, str]:
    job_id, _, material = text.partition("/")
    if not (job_id.isascii() and job_id.isdigit() and len(job_id) <= 9 and material) or "\0" in material:
        raise Refused(f"{text[:60]!r} is no item of a job; choose from the list.")
    return int(job_id), material
