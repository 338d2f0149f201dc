"""Items on placed orders: what is covered has but to come in time, of the others something is still to be ordered."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from catalog.core.ground.workdays import WorkCalendar
from jobs.core.ordering.goods_on_order import GoodsOnOrder, goods_on_order
from jobs.dates.services.item_schedule import DatedItem
from jobs.needs.models import StoredNeed
from jobs.orders.models import OrderLine
from jobs.orders.services.ordered_so_far import ItemKey, OrderedSoFar, line_coming, ordered_so_far

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
    return ordered_so_far({(item.job.pk, item.need.material): item.stated for item in items})


def covered(lines: Lines) -> Lines:
    return {key: line for key, line in lines.items() if line.is_covered}


def why_in_part(needs: Iterable[StoredNeed]) -> dict[ItemKey, str]:
    """Of needs some of which is on order: how much, and why not all."""
    lines = ordered_so_far({(row.job_id, row.material): row.statement for row in needs})
    return {key: line.balance.sentence for key, line in lines.items() if not line.is_covered}


def coming(item: DatedItem, ordered: OrderedSoFar, calendar: WorkCalendar, today: date) -> Coming:
    goods, lines = goods_of(item, ordered, calendar, today), {line.pk: line for line in ordered.every}
    stated = [line.statement_mark for line in ordered.every if line.statement]
    changed = bool(stated) and item.mark not in stated
    note = ordered.balance.so_far if ordered.balance.is_whole else ""
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
