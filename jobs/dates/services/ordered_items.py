"""Items on placed orders: what is covered has but to come in time, of the others something is still to be ordered."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import DecimalField, Exists, F, OuterRef, Q, QuerySet, Subquery, Sum
from django.db.models.fields.json import KT
from django.db.models.functions import Cast

from catalog.core.ground.workdays import WorkCalendar
from jobs.core.ordering.order_by import days_in_hand
from jobs.dates.services.item_schedule import DatedItem
from jobs.deliveries.services.receiving import state_of
from jobs.needs.models import StoredNeed
from jobs.orders.models import OrderLine, OrderState
from jobs.orders.services.ordered_so_far import ItemKey, OrderedSoFar, ordered_so_far

_PLACED = Q(order__state=OrderState.PLACED, replaces=None)
_OF_NEED = {"job": OuterRef("job"), "material": OuterRef("material")}
_FIGURE = DecimalField(max_digits=20, decimal_places=6)
Lines = dict[ItemKey, OrderedSoFar]


@dataclass(frozen=True)
class Coming:
    """What stands of an item that is ordered. line: the one expected last.

    expected_on: by the last promise, else as quoted; None where neither is known. is_here: all of it has come.
    is_overdue: that day is past, and something of it has still to come.
    spare_workdays: the firm's days from the day it may be relied on to need-by, negative when it comes too late; of
    what is overdue, as if it came today.
    has_changed: what the job wants now is not what was ordered. note: that amounts could not be compared.
    """

    line: OrderLine
    expected_on: date | None
    promised: bool
    is_here: bool
    is_overdue: bool
    spare_workdays: int | None
    has_changed: bool
    note: str


def lines_of_items(items: Iterable[DatedItem]) -> Lines:
    return ordered_so_far({(one.job.pk, one.need.material): one.stated for one in items})


def covered(lines: Lines) -> Lines:
    return {key: one for key, one in lines.items() if one.is_covered}


def needs_covered() -> Q:
    """Of stored needs: those of which nothing is still to be ordered. In a number of queries that does not grow.

    Where an open line is there and amounts to what is wanted, the database says so; the others, of which there are
    few, are counted here.
    """
    whole: list[int] = []
    part: list[int] = []
    # Days are left out: of a row nobody can read the day of, it is told all the same what is ordered.
    rows = list(_to_be_counted().values_list("pk", "job_id", "material", "statement"))
    found = ordered_so_far({(job, material): statement for _, job, material, statement in rows})
    for pk, job, material, _ in rows:
        so_far = found.get((job, material))
        (whole if so_far and so_far.is_covered else part).append(pk)
    return Q(_is_on_order()) & ~Q(pk__in=part) | Q(pk__in=whole)


def _is_on_order() -> Exists:
    return Exists(OrderLine.objects.filter(_PLACED, ended_on=None, **_OF_NEED))


def _to_be_counted() -> QuerySet[StoredNeed]:
    """With a line that was ended, or with open lines of less than is wanted."""
    lines = OrderLine.objects.filter(_PLACED, **_OF_NEED)
    ordered = lines.filter(ended_on=None).order_by().values("job").annotate(ordered=Sum("quantity")).values("ordered")
    # Of jobs with orders alone, of which there are fewer: of each row a figure is read out of its statement.
    with_orders = OrderLine.objects.filter(_PLACED, job__closed_on=None).order_by().values("job")
    rows = StoredNeed.objects.filter(job__in=with_orders).annotate(
        wanted=Cast(KT("statement__quantity"), _FIGURE), on_order=Subquery(ordered, output_field=_FIGURE)
    )
    return rows.filter(Exists(lines.exclude(ended_on=None)) | Q(wanted__gt=F("on_order")))


def count_ordered(needs_are: Q, *, leave_out: Collection[int]) -> int:
    """How many stored needs of open jobs are covered. From the orders, of which there are fewer than needs."""
    keys = OrderLine.objects.filter(_PLACED, job__closed_on=None).exclude(job__in=leave_out)
    jobs = keys.order_by().values("job").distinct()
    return StoredNeed.objects.filter(needs_are, job__in=jobs).count()


def why_in_part(needs: Iterable[StoredNeed]) -> dict[ItemKey, str]:
    """Of needs some of which is on order: how much, and why not all."""
    found = ordered_so_far({(row.job_id, row.material): row.statement for row in needs})
    return {key: one.found.sentence for key, one in found.items() if not one.is_covered}


def coming(item: DatedItem, ordered: OrderedSoFar, calendar: WorkCalendar, today: date) -> Coming:
    line = max(ordered.lines, key=lambda one: (not _is_here(one), _expected(one) or date.max, one.pk))
    expected, need, is_here = _expected(line), item.need, _is_here(line)
    overdue = expected is not None and expected < today and not is_here
    spare = None
    if expected is not None and need.need_by is not None:
        usable = calendar.forward(calendar.on_or_after(today if overdue else expected), need.cushion_workdays)
        spare = days_in_hand(usable, need.need_by, calendar)
    stated = [one.statement_mark for one in ordered.lines if one.statement]
    changed = bool(stated) and item.mark not in stated
    note = ordered.found.so_far if ordered.found.is_whole else ""
    return Coming(line, expected, line.promised_on is not None, is_here, overdue, spare, changed, note)


def _expected(line: OrderLine) -> date | None:
    return line.promised_on or line.quoted_dock_on


def _is_here(line: OrderLine) -> bool:
    return state_of(line).is_complete
