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
    moment, asked = moment_at_the_firm(clock.now()), request.GET
    show = asked.get("show", "") if asked.get("show") in SHOWN else ""
    read, asking = open_items(moment), to_ask(moment.date(), firm_of().calendar)
    every = _narrowed(orders_of_work(work_typed(asked.get("work", ""))), asked)
    rows = {
        "": open_orders(every, asking),
        "complete": complete_orders(every, asking),
        "drafts": every.filter(state=OrderState.DRAFT),
    }
    page = Paginator(rows[show], A_PAGE).get_page(asked.get("page"))
    # What is open is sorted by its acts, which no row holds, and is never many.
    found = owed_orders(page.object_list if show else rows[show], read, asking)
    context = {
        "today": moment.date(),
        "rows": found if show != "complete" else _as_listed(found, page.object_list),
        "show": show,
        "page": page if show else None,
        "late": sum(1 for one in found if one.act and one.act.is_late),
        "arrives": _first_to_arrive(found),
        "counts": {name: each.count() for name, each in rows.items() if name},
        "open_count": rows[""].count(),
        "bad": asking.bad,
        **_choices(asked),
    }
    return render(request, "buying/on_the_way.html", context)


def _narrowed(rows: QuerySet[Order], asked: Any) -> QuerySet[Order]:
    job, supplier = asked.get("job", ""), asked.get("supplier", "")
    if job and "\0" not in job:
        rows = rows.filter(lines__job__key=job).distinct()
    return rows.filter(supplier=supplier) if supplier and "\0" not in supplier else rows


def _as_listed(found: Iterable[OwedOrder], rows: Iterable[Order]) -> list[OwedOrder]:
    by_id = {one.order.pk: one for one in found}
    return [by_id[row.pk] for row in rows]


def _first_to_arrive(found: Sequence[OwedOrder]) -> OwedOrder | None:
    coming = [one for one in found if one.listed.next_on and not one.listed.overdue]
    return min(coming, key=lambda one: one.listed.next_on, default=None)  # type: ignore[arg-type, return-value]


def _choices(asked: Any) -> dict[str, Any]:
    """The words of the sentence that narrows the list, each with what it may be."""
    jobs = Job.objects.filter(order_lines__isnull=False).distinct().order_by("key")
    suppliers = Supplier.objects.filter(orders__isnull=False).distinct().order_by("name")
    chosen = {name: asked.get(name, "") for name in ("show", "job", "supplier", "work")}
    return {
        "words": [
            ("show", "Show", list(SHOWN.items()), chosen["show"]),
            ("job", "for", [("", "every job"), *((job.key, job.title) for job in jobs)], chosen["job"]),
            ("supplier", "from", [("", "every supplier"), *((one.code, one.name) for one in suppliers)],
             chosen["supplier"]),
            ("work", "of", [("", "all work"), *((name, f"{told.lower()} work") for name, told in WORKS.items())],
             chosen["work"]),
        ],
        "is_narrowed": any(chosen.values()),
    }  # fmt: skip
