"""Items that are on a placed order: no longer to order, but to come in time."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from django.db.models import Exists, OuterRef, Q

from catalog.core.workdays import WorkCalendar
from jobs.core.order_by import days_in_hand
from jobs.models import OrderLine, OrderState, StoredNeed
from jobs.services.receiving import state_of
from quoting.services.dated_items import DatedItem

_STANDING = Q(order__state=OrderState.PLACED, ended_on=None, replaces=None)
IS_ORDERED = Exists(OrderLine.objects.filter(_STANDING, job=OuterRef("job"), material=OuterRef("material")))
"""Of a stored need: a line that is placed and not given up covers it."""
_IS_WANTED = Exists(StoredNeed.objects.filter(job=OuterRef("job"), material=OuterRef("material")))
Lines = dict[tuple[int, str], OrderLine]


@dataclass(frozen=True)
class Coming:
    """What stands of an item that is ordered.

    expected_on: by the last promise, else as quoted; None where neither is known. is_here: all of it has come.
    spare_workdays: the firm's days from the day it may be relied on to need-by, negative when it comes too late.
    has_changed: what the job wants now is not what was ordered.
    """

    line: OrderLine
    expected_on: date | None
    promised: bool
    is_here: bool
    spare_workdays: int | None
    has_changed: bool


def placed_lines(job_ids: Collection[int]) -> Lines:
    rows = OrderLine.objects.filter(_STANDING, job__in=job_ids).select_related("order").prefetch_related("receipts")
    return {(row.job_id, row.material_id): row for row in rows.order_by("pk")}


def count_ordered(*, leave_out: Collection[int]) -> int:
    """How many stored needs of open jobs are on order. From the orders, of which there are fewer than needs."""
    rows = OrderLine.objects.filter(_STANDING, job__closed_on=None).exclude(job__in=leave_out)
    return rows.filter(_IS_WANTED).order_by().values("job", "material").distinct().count()


def coming(item: DatedItem, line: OrderLine, calendar: WorkCalendar) -> Coming:
    expected = line.promised_on or line.quoted_dock_on
    need = item.need
    spare = None
    if expected is not None and need.need_by is not None:
        usable = calendar.forward(calendar.on_or_after(expected), need.cushion_workdays)
        spare = days_in_hand(usable, need.need_by, calendar)
    changed = bool(line.statement) and line.statement_mark != item.mark
    return Coming(line, expected, line.promised_on is not None, state_of(line).is_complete, spare, changed)
