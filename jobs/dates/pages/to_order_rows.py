"""The list of what is to be ordered as its page shows it: blocks by how soon, with rows of one item or of several."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from django.urls import reverse

from catalog.core.ground.workdays import WorkCalendar
from jobs.core.ordering.order_by import standing
from jobs.core.ordering.to_order_weeks import OpenItem, OrderRow, order_blocks, total_of
from jobs.dates.pages.lines import ItemLine
from jobs.dates.services.item_schedule import DateContext
from jobs.drawings.charts.on_screen import Closure
from jobs.drawings.item_strip import ItemDays, StripAxis, item_strip_svg, strip_axis_svg

NAMES_SHOWN = 2
NOW = "Now"
STRIP_WEEKS = 10


@dataclass(frozen=True)
class Action:
    label: str
    url: str
    is_button: bool = False


@dataclass(frozen=True)
class ToOrderRow:
    """One item, or several that are ordered together. strip: its days drawn, empty where they are too far off."""

    lines: tuple[ItemLine, ...]
    amount: Decimal | None
    is_near: bool
    strip: str = ""
    action: Action | None = None

    @property
    def first(self) -> ItemLine:
        return self.lines[0]

    @property
    def is_single(self) -> bool:
        return len(self.lines) == 1

    @property
    def days(self) -> int:
        return abs(self.first.need.in_hand or 0)

    @property
    def standing(self) -> str:
        return standing(self.first.need.in_hand or 0)

    @property
    def custom(self) -> int:
        return sum(1 for line in self.lines if line.is_long_lead)

    @property
    def names(self) -> str:
        names = list(dict.fromkeys(line.need.name for line in self.lines))
        more = len(names) - NAMES_SHOWN
        return "; ".join(names[:NAMES_SHOWN]) + (f"; {more} more" if more > 0 else "")

    @property
    def suppliers(self) -> str:
        return _few([line.supplier for line in self.lines if line.supplier], "suppliers")

    @property
    def jobs(self) -> str:
        return _few([line.job.title for line in self.lines], "jobs")


@dataclass(frozen=True)
class ToOrderBlock:
    """heading: in words, or week: the Monday of the week it is of."""

    heading: str
    week: date | None
    orders: int
    amount: Decimal | None
    rows: tuple[ToOrderRow, ...]


@dataclass(frozen=True)
class ToOrderList:
    """What is signed, then what is not. axis: the days above the strips, empty where there are none."""

    signed: tuple[ToOrderBlock, ...]
    unsigned: ToOrderBlock | None
    axis: str = ""

    @property
    def first(self) -> ItemLine | None:
        """The first signed item that is neither late nor due today; nothing where only unsigned work is shown."""
        ahead = [row.first for block in self.signed for row in block.rows if (row.first.need.in_hand or 0) > 0]
        return ahead[0] if ahead else None

    @property
    def blocks(self) -> tuple[ToOrderBlock, ...]:
        return (*self.signed, *([self.unsigned] if self.unsigned else []))

    @property
    def pressing(self) -> ToOrderRow | None:
        """The first of what is late or due today."""
        return self.signed[0].rows[0] if self.signed and self.signed[0].heading == NOW else None


def to_order_list(
    lines: Sequence[ItemLine], desk: DateContext, *, with_suppliers: bool, all_unsigned: bool = False
) -> ToOrderList:
    """Of lines with dates that are still to be ordered. all_unsigned: whether what is not signed is laid out too."""
    dated = [line for line in lines if line.dates is not None and line.coming is None]
    axis = _axis(dated, desk.today)
    drawer = _Drawer(desk, axis, with_suppliers)
    signed = tuple(drawer.blocks([line for line in dated if line.signed or all_unsigned]))
    unsigned = None if all_unsigned else drawer.unsigned([line for line in dated if not line.signed])
    return ToOrderList(signed, unsigned, strip_axis_svg(axis, desk.today) if axis else "")


def _axis(lines: Sequence[ItemLine], today: date) -> StripAxis | None:
    """From today, or the latest order-by day missed, to the last day on site of what is to be ordered soon."""
    far = today + timedelta(weeks=STRIP_WEEKS)
    needed = [line.need.need_by for line in lines if line.need.need_by is not None]
    return StripAxis(today, max(today + timedelta(weeks=2), min(max(needed), far))) if needed else None


@dataclass(frozen=True)
class _Drawer:
    desk: DateContext
    axis: StripAxis | None
    with_suppliers: bool

    def blocks(self, lines: Sequence[ItemLine]) -> Iterable[ToOrderBlock]:
        by_key = {f"{line.job.pk}/{line.need.material}": line for line in lines}
        result = order_blocks((_open_item(key, line) for key, line in by_key.items()), self.desk.today)
        for block in result:
            if block.kind != "month":
                now = block.kind == "now"
                yield self._block(NOW if now else "", None if now else block.day, block.rows, by_key)
        later = [row for block in result if block.kind == "month" for row in block.rows]
        if later:
            yield self._block("Later", None, later, by_key)

    def unsigned(self, lines: Sequence[ItemLine]) -> ToOrderBlock | None:
        """What the client must sign for in time, each in its row; all else is one row."""
        by_key = {f"{line.job.pk}/{line.need.material}": line for line in lines}
        result = order_blocks((_open_item(key, line) for key, line in by_key.items()), self.desk.today)
        soon = [item for block in result if block.kind != "month" for item in block.items if item.is_custom]
        rest = [item for block in result for item in block.items if item not in soon]
        rows = [*(OrderRow((item,)) for item in soon), *([OrderRow(tuple(rest))] if rest else [])]
        return self._block("Not signed", None, rows, by_key) if rows else None

    def _block(
        self, heading: str, week: date | None, laid_out: Sequence[OrderRow], by_key: Mapping[str, ItemLine]
    ) -> ToOrderBlock:
        items = [item for row in laid_out for item in row.items]
        rows = tuple(self._row(row, by_key) for row in laid_out)
        amount = total_of(items) if self.with_suppliers else None
        return ToOrderBlock(heading, week, len({item.supplier for item in items}), amount, rows)

    def _row(self, row: OrderRow, by_key: Mapping[str, ItemLine]) -> ToOrderRow:
        lines = tuple(by_key[item.key] for item in row.items)
        strip = self._strip(lines[0]) if len({item.supplier for item in row.items}) == 1 else ""
        action = _action(lines) if self.with_suppliers else None
        return ToOrderRow(lines, row.amount if self.with_suppliers else None, row.is_near, strip, action)

    def _strip(self, line: ItemLine) -> str:
        if self.axis is None or line.dates is None or line.dates.order_by >= self.axis.end:
            return ""
        late = (line.need.in_hand or 0) < 0
        today = line.need.if_ordered_today
        dock = today.dock if late and today else line.dates.dock
        days = ItemDays(line.dates.order_by, dock, line.dates.need_by, late)
        seller = self.desk.suppliers.get(line.need.supplier or "")
        return item_strip_svg(days, self.axis, _closures(seller.calendar, self.axis) if seller else ())


def _open_item(key: str, line: ItemLine) -> OpenItem:
    need = line.need
    assert need.dates is not None and need.in_hand is not None, "only dated lines are laid out"
    return OpenItem(key, need.supplier or "", need.dates.order_by, need.in_hand, need.is_long_lead, line.amount)


def _closures(calendar: WorkCalendar, axis: StripAxis) -> tuple[Closure, ...]:
    """Stretches of the axis longer than a weekend on which the supplier is shut; without who, for those who may not
    know."""
    days = [axis.start + timedelta(days=step) for step in range((axis.end - axis.start).days + 1)]
    closures, run = [], list[date]()
    for day in [*days, None]:
        if day is not None and not calendar.is_workday(day):
            run.append(day)
            continue
        if len(run) > 2:
            closures.append(Closure(run[0], run[-1]))
        run = []
    return tuple(closures)


def _action(lines: Sequence[ItemLine]) -> Action | None:
    first = lines[0]
    item = reverse("order_item", args=[first.job.pk, first.need.material])
    drafts = {line.draft.pk: line.draft for line in lines if line.draft}
    if len(drafts) == 1 and all(line.draft for line in lines):
        [draft] = drafts.values()
        return Action(f"Open {draft.number}", reverse("order", args=[draft.pk]), is_button=True)
    if len(lines) == 1 and first.is_long_lead and (first.need.in_hand or 0) <= 0:
        return Action("Now, wait or rush", item, is_button=True)
    if len(lines) == 1 and first.waits:
        return Action("What it waits for", item)
    sellers = {line.need.supplier for line in lines}
    if len(sellers) == 1 and first.need.supplier:
        return Action("Order", reverse("order_from", args=[first.need.supplier]), is_button=len(lines) == 1)
    return None


def _few(names: Iterable[str], what: str) -> str:
    each = list(dict.fromkeys(names))
    return each[0] if len(each) == 1 else f"{len(each)} {what}" if each else ""
