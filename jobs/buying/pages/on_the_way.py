"""On the way: orders suppliers still owe something of, a row each with its next act; complete ones and drafts apart."""

from collections.abc import Iterable, Sequence
from typing import Any

from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from catalog.models import Supplier
from catalog.pages.firm_first import firm_first
from catalog.services.book import firm_of
from jobs.buying.services.expediting_facts import to_ask
from jobs.buying.services.listed_orders import orders_of_work
from jobs.buying.services.owed_orders import OwedOrder, complete_orders, open_orders, owed_orders
from jobs.dates.services.item_schedule import open_items
from jobs.jobs.models import Job
from jobs.jobs.services.signed import WORKS, work_typed
from jobs.orders.models import Order, OrderState
from quoting.platform import clock
from quoting.platform.firm_day import moment_at_the_firm

SHOWN = {"": "what is open", "complete": "what is complete", "drafts": "drafts"}
A_PAGE = 50


@firm_first
def on_the_way(request: HttpRequest) -> HttpResponse:
    moment, wanted = moment_at_the_firm(clock.now()), request.GET
    show = wanted.get("show", "") if wanted.get("show") in SHOWN else ""
    read, asking = open_items(moment), to_ask(moment.date(), firm_of().calendar)
    every = _narrowed(orders_of_work(work_typed(wanted.get("work", ""))), wanted)
    rows = {
        "": open_orders(every, asking),
        "complete": complete_orders(every, asking),
        "drafts": every.filter(state=OrderState.DRAFT),
    }
    page = Paginator(rows[show], A_PAGE).get_page(wanted.get("page"))
    # What is open is sorted by its acts, which no row holds, and is never many.
    orders = owed_orders(page.object_list if show else rows[show], read, asking)
    context = {
        "today": moment.date(),
        "rows": orders if show != "complete" else _as_listed(orders, page.object_list),
        "show": show,
        "page": page if show else None,
        "late": sum(1 for order in orders if order.act and order.act.is_late),
        "arrives": _first_to_arrive(orders),
        "counts": {name: each.count() for name, each in rows.items() if name},
        "open_count": rows[""].count(),
        "bad": asking.bad,
        **_choices(wanted),
    }
    return render(request, "buying/on_the_way.html", context)


def _narrowed(rows: QuerySet[Order], wanted: Any) -> QuerySet[Order]:
    job, supplier = wanted.get("job", ""), wanted.get("supplier", "")
    if job and "\0" not in job:
        rows = rows.filter(lines__job__key=job).distinct()
    return rows.filter(supplier=supplier) if supplier and "\0" not in supplier else rows


def _as_listed(orders: Iterable[OwedOrder], rows: Iterable[Order]) -> list[OwedOrder]:
    by_id = {order.order.pk: order for order in orders}
    return [by_id[row.pk] for row in rows]


def _first_to_arrive(orders: Sequence[OwedOrder]) -> OwedOrder | None:
    coming = [order for order in orders if order.listed.next_on and not order.listed.overdue]
    return min(coming, key=lambda order: order.listed.next_on, default=None)  # type: ignore[arg-type, return-value]


def _choices(wanted: Any) -> dict[str, Any]:
    """The words of the sentence that narrows the list, each with what it may be."""
    jobs = Job.objects.filter(order_lines__isnull=False).distinct().order_by("key")
    suppliers = Supplier.objects.filter(orders__isnull=False).distinct().order_by("name")
    chosen = {name: wanted.get(name, "") for name in ("show", "job", "supplier", "work")}
    return {
        "words": [
            ("show", "Show", list(SHOWN.items()), chosen["show"]),
            ("job", "for", [("", "every job"), *((job.key, job.title) for job in jobs)], chosen["job"]),
            ("supplier", "from", [("", "every supplier"), *((supplier.code, supplier.name) for supplier in suppliers)],
             chosen["supplier"]),
            ("work", "of", [("", "all work"), *((name, f"{message.lower()} work") for name, message in WORKS.items())],
             chosen["work"]),
        ],
        "is_narrowed": any(chosen.values()),
    }  # fmt: skip
