"""Orders as lists show them: for which jobs, for how much, what is here, and what comes next."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import Exists, OuterRef, QuerySet, prefetch_related_objects

from catalog.services.book import firm_of
from jobs.core.ordering.goods_on_order import GoodsOnOrder, goods_on_order
from jobs.dates.services.item_schedule import OpenJobItems
from jobs.dates.services.late_on_order import awaited_lines
from jobs.deliveries.services.receiving import state_of
from jobs.jobs.models import Job
from jobs.jobs.services.signed import UNSIGNED, of_work
from jobs.needs.models import StoredNeed
from jobs.orders.models import Order, OrderLine, OrderState
from jobs.orders.services.ordered_so_far import ItemKey, line_coming

NeedDays = tuple[date | None, int]
"""When an item is needed, and how many cushion days before."""


@dataclass(frozen=True)
class ListedOrder:
    """jobs: each with whether it is signed. goods: of the lines with a price, None where none has one. unpriced: lines
    without one. here: lines of which all came, or no more is expected. short: lines to be ordered again in part.

    next_on: the first day anything still to come is expected, None while nobody knows or nothing is. overdue: that day
    is past. late_workdays: of what may be relied on last against the day it is needed, 0 for what is in time.
    """

    order: Order
    jobs: tuple[tuple[Job, bool], ...]
    goods: Decimal | None
    unpriced: int
    lines: int
    here: int
    short: int
    next_on: date | None
    overdue: bool
    late_workdays: int

    @property
    def signed(self) -> bool:
        """Whether all of it is for signed jobs."""
        return all(signed for _, signed in self.jobs)


def orders_of_work(work: str) -> QuerySet[Order]:
    """Of signed jobs alone, or with anything for a job that is not."""
    rows = Order.objects.select_related("supplier")
    unsigned = Exists(OrderLine.objects.filter(of_work(UNSIGNED), order=OuterRef("pk")))
    return rows if not work else rows.filter(unsigned if work == UNSIGNED else ~unsigned)


def on_the_way(rows: QuerySet[Order]) -> QuerySet[Order]:
    return rows.filter(pk__in=awaited_lines().values("order"))


def listed_orders(rows: Iterable[Order], read: OpenJobItems) -> list[ListedOrder]:
    """In a number of queries that does not grow with the orders."""
    orders, firm = list(rows), firm_of()
    prefetch_related_objects(orders, "lines__receipts", "lines__returns", "lines__job")
    placed = [line for order in orders if order.state == OrderState.PLACED for line in order.lines.all()]
    needs = _needs({(line.job_id, line.material_id) for line in placed}, read)
    return [_listed(order, needs, read, firm.cushion_workdays) for order in orders]


def _needs(wanted: set[ItemKey], read: OpenJobItems) -> dict[ItemKey, NeedDays]:
    rows = StoredNeed.objects.filter(job__in={job for job, _ in wanted}).exclude(job__in=read.live_ids)
    stored = rows.values_list("job_id", "material", "need_by", "cushion_workdays")
    live = (
        (item.job.pk, item.need.material, item.need.need_by, item.need.cushion_workdays) for item in read.live_items
    )
    return {(job, material): (need_by, cushion) for job, material, need_by, cushion in (*stored, *live)}


def _listed(order: Order, needs: Mapping[ItemKey, NeedDays], read: OpenJobItems, cushion: int) -> ListedOrder:
    lines = list(order.lines.all())
    states = [state_of(line) for line in lines]
    priced = [line.amount for line in lines if line.amount is not None]
    coming = list(_coming(lines, needs, read, cushion)) if order.state == OrderState.PLACED else []
    days = [entry.last.expected_on for entry in coming if entry.last.expected_on is not None]
    return ListedOrder(
        order=order,
        jobs=tuple((job, job.pk in read.signed) for job in dict.fromkeys(line.job for line in lines)),
        goods=sum(priced, Decimal(0)) if priced else None,
        unpriced=len(lines) - len(priced),
        lines=len(lines),
        here=sum(1 for state in states if state.is_complete),
        short=sum(1 for state in states if state.short),
        next_on=min(days, default=None),
        overdue=any(entry.is_overdue for entry in coming),
        late_workdays=max((-(entry.spare_workdays or 0) for entry in coming if entry.is_late), default=0),
    )


def _coming(
    lines: Iterable[OrderLine], needs: Mapping[ItemKey, NeedDays], read: OpenJobItems, usual: int
) -> Iterable[GoodsOnOrder]:
    """Of each line with something still to come. usual: cushion days of what no job takes any more."""
    for line in lines:
        key = line.job_id, line.material_id
        need_by, cushion = needs.get(key, (line.need_by, usual))
        order = goods_on_order(
            [line_coming(line)], need_by, cushion_workdays=cushion, firm=read.desk.calendar, today=read.desk.today
        )
        if not order.is_here:
            yield order
