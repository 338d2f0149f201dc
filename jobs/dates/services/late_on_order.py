"""Items of open jobs that are on order and come after the day they are needed."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import DecimalField, F, QuerySet, Sum, Value
from django.db.models.functions import Coalesce

from jobs.dates.services.item_schedule import DateContext, DatedItem, OpenJobItems
from jobs.dates.services.ordered_items import Coming, coming, lines_of_items
from jobs.needs.models import StoredNeed
from jobs.orders.models import OrderLine, OrderState
from jobs.orders.services.ordered_so_far import ItemKey

_NOTHING = Value(0, output_field=DecimalField())


@dataclass(frozen=True)
class LateComing:
    """late_workdays: the firm's, from the day it is needed to the day it may be relied on."""

    item: DatedItem
    coming: Coming
    late_workdays: int


def late_on_order(read: OpenJobItems) -> list[LateComing]:
    """In a number of queries that does not grow with the items."""
    return late_of([*read.live_items, *awaited_items(read)], read.desk)


def awaited_items(read: OpenJobItems) -> list[DatedItem]:
    """From rows, those with a line of which something is still to come."""
    awaited = _awaited()
    if not awaited:
        return []
    rows = StoredNeed.objects.filter(job__closed_on=None, job__in={job for job, _ in awaited})
    rows = rows.exclude(job__in=read.live_ids).filter(material__in={material for _, material in awaited})
    return [read.of_row(row) for row in rows.select_related("job") if (row.job_id, row.material) in awaited]


def late_of(items: Iterable[DatedItem], desk: DateContext) -> list[LateComing]:
    items = list(items)
    ordered, late = lines_of_items(items) if items else {}, []
    for item in items:
        so_far = ordered.get((item.job.pk, item.need.material))
        if so_far is None or not so_far.is_covered:
            continue
        arriving = coming(item, so_far, desk.calendar, desk.today)
        if arriving.is_late:
            late.append(LateComing(item, arriving, -(arriving.spare_workdays or 0)))
    return late


def awaited_lines() -> QuerySet[OrderLine]:
    """Placed lines of which not all has come, good or bad."""
    lines = OrderLine.objects.filter(order__state=OrderState.PLACED, ended_on=None)
    figures = F("receipts__good") + F("receipts__damaged") + F("receipts__wrong")
    lines = lines.annotate(came=Coalesce(Sum(figures), _NOTHING, output_field=DecimalField()))
    return lines.filter(came__lt=F("quantity")).order_by()


def _awaited() -> set[ItemKey]:
    return set(awaited_lines().filter(job__closed_on=None).values_list("job_id", "material_id"))
