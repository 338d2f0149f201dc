"""Items on placed orders: what is covered has but to come in time, of the others something is still to be ordered."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import DecimalField, Exists, F, OuterRef, Q, QuerySet, Subquery, Sum
from django.db.models.fields.json import KT
from django.db.models.functions import Cast

from catalog.core.ground.workdays import WorkCalendar
from jobs.core.ordering.goods_on_order import GoodsOnOrder, goods_on_order
from jobs.dates.services.item_schedule import DatedItem
from jobs.needs.models import StoredNeed
from jobs.orders.models import OrderLine, OrderState
from jobs.orders.services.ordered_so_far import ItemKey, OrderedSoFar, line_coming, ordered_so_far
from quoting.platform.read_once import few_of, read_once

_PLACED = Q(order__state=OrderState.PLACED, replaces=None)
_CAME_BAD = Q(receipts__damaged__gt=0) | Q(receipts__wrong__gt=0)
_OF_NEED = {"job": OuterRef("job"), "material": OuterRef("material")}
_FIGURE = DecimalField(max_digits=20, decimal_places=6)
Lines = dict[ItemKey, OrderedSoFar]


@dataclass(frozen=True)
class Coming:
    """What stands of an item that is ordered. line: the one expected last. goods: when it may be relied on.

    has_changed: what the job wants now is not what was ordered. note: that amounts could not be compared.
    """

    line: OrderLine
    goods: GoodsOnOrder
    has_changed: bool
    note: str

    @property
    def expected_on(self) -> date | None:
        return self.goods.last.expected_on

    @property
    def promised(self) -> bool:
        return self.goods.last.promised

    @property
    def is_here(self) -> bool:
        return self.goods.is_here

    @property
    def is_overdue(self) -> bool:
        return self.goods.is_overdue

    @property
    def is_late(self) -> bool:
        return self.goods.is_late

    @property
    def days(self) -> int:
        """How far off the day of need it is, before or after."""
        return abs(self.goods.spare_workdays or 0)

    @property
    def spare_workdays(self) -> int | None:
        return self.goods.spare_workdays


def lines_of_items(items: Iterable[DatedItem]) -> Lines:
    return ordered_so_far({(one.job.pk, one.need.material): one.stated for one in items})


def covered(lines: Lines) -> Lines:
    return {key: one for key, one in lines.items() if one.is_covered}


def needs_covered() -> Q:
    """Of stored needs of open jobs: those of which nothing is left to order. In a number of queries that does not grow.

    Where an open line is there and amounts to what is wanted, the database says so; the others, of which there are
    few, are counted here, once a page.
    """
    return read_once("needs covered", _needs_covered)


def _needs_covered() -> Q:
    whole: list[int] = []
    part: list[int] = []
    # Days are left out: of a row nobody can read the day of, it is told all the same what is ordered.
    rows = list(_to_be_counted().values_list("pk", "job_id", "material", "statement"))
    found = ordered_so_far({(job, material): statement for _, job, material, statement in rows})
    for pk, job, material, _ in rows:
        so_far = found.get((job, material))
        (whole if so_far and so_far.is_covered else part).append(pk)
    covered = Q(_is_on_order()) & ~Q(pk__in=part) | Q(pk__in=whole)
    open_ones = StoredNeed.objects.filter(covered, job__closed_on=None).order_by()
    few = few_of(open_ones.values_list("pk", flat=True), "needs covered, by id")
    return Q(pk__in=few) if isinstance(few, list) else covered


def _is_on_order() -> Exists:
    return Exists(OrderLine.objects.filter(_PLACED, ended_on=None, **_OF_NEED))


def _to_be_counted() -> QuerySet[StoredNeed]:
    """With a line that was ended, came bad or went back, or with open lines of less than is wanted."""
    lines = OrderLine.objects.filter(_PLACED, **_OF_NEED)
    ordered = lines.filter(ended_on=None).order_by().values("job").annotate(ordered=Sum("quantity")).values("ordered")
    every = OrderLine.objects.filter(order__state=OrderState.PLACED, **_OF_NEED)
    # Asked apart: joined in one query each receipt would be read for each return.
    short = Exists(every.exclude(ended_on=None)) | Exists(every.filter(_CAME_BAD)) | Exists(every.exclude(returns=None))
    # Of jobs with orders alone, of which there are fewer: of each row a figure is read out of its statement.
    with_orders = OrderLine.objects.filter(_PLACED, job__closed_on=None).order_by().values("job")
    rows = StoredNeed.objects.filter(job__in=with_orders).annotate(
        wanted=Cast(KT("statement__quantity"), _FIGURE), on_order=Subquery(ordered, output_field=_FIGURE)
    )
    return rows.filter(short | Q(wanted__gt=F("on_order")))


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
    goods, lines = goods_of(item, ordered, calendar, today), {one.pk: one for one in ordered.every}
    stated = [one.statement_mark for one in ordered.every if one.statement]
    changed = bool(stated) and item.mark not in stated
    note = ordered.found.so_far if ordered.found.is_whole else ""
    return Coming(lines[goods.last.key], goods, changed, note)


def goods_of(item: DatedItem, ordered: OrderedSoFar, calendar: WorkCalendar, today: date) -> GoodsOnOrder:
    need = item.need
    return goods_on_order(
        map(line_coming, ordered.every),
        need.need_by,
        cushion_workdays=need.cushion_workdays,
        firm=calendar,
        today=today,
    )
