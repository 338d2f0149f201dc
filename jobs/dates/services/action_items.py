"""What of the dates needs a hand within the next working days: what is to be signed off, ordered, or comes too late."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from django.db.models import Count, Min, QuerySet

from jobs.dates.services.item_schedule import DatedItem, OpenJobItems
from jobs.dates.services.late_on_order import LateComing, awaited_items, late_of
from jobs.dates.services.ordered_items import lines_of_items
from jobs.dates.services.passed_days import passed_words
from jobs.needs.models import LEFT_TO_ORDER, StoredNeed
from jobs.orders.services.to_decide import decided_items, is_to_decide, rows_to_decide

# Ours: two working weeks ahead is what one looks at on a Monday.
SOON_WORKDAYS = 10
MAX_MATTERS = 50


@dataclass(frozen=True)
class Matter:
    """One thing that needs a hand. in_hand: working days of the firm left, negative when late. part: how much of it is
    on order, and why not all; empty where nothing is. late: the goods on order that come too late."""

    kind: Literal["order", "decide", "late"]
    item: DatedItem
    day: date | None
    in_hand: int
    part: str = ""
    late: LateComing | None = None

    @property
    def why(self) -> str:
        """What follows, or is known of it, in sentences."""
        need = self.item.need
        if self.late is not None:
            return late_words(self.late)
        if self.kind == "decide":
            return f"It can be ordered after that, by {need.dates.order_by}." if need.dates else ""
        on_site = f"On site by {need.need_by}." if need.need_by else ""
        parts = [*([self.part] if self.part else [on_site]), passed_words(need)]
        return " ".join(part for part in parts if part)


@dataclass(frozen=True)
class Matters:
    """soon: by days in hand, the most pressing of them. later: how many are not due within the days looked at, the
    first day one of them is, and of how many jobs they are."""

    soon: tuple[Matter, ...]
    later: int = 0
    first_later: date | None = None
    later_jobs: int = 0


@dataclass(frozen=True)
class Later:
    """Of rows not due within the days looked at."""

    items: int = 0
    first: date | None = None
    jobs: int = 0


def late_words(late: LateComing) -> str:
    days = "day" if late.late_workdays == 1 else "days"
    words = f"{late.late_workdays} working {days} too late for {late.item.need.need_by}"
    if late.coming.is_overdue:
        return f"Overdue: if it came today, it would be {words}."
    return f"It comes {words}."


def matters(read: OpenJobItems, *, orders: bool = True) -> Matters:
    """Of signed and unsigned jobs. In a number of queries that does not grow with them.

    orders: whether what is to be ordered is asked for as well; whoever does not buy is told of none.
    """
    awaited, to_order = awaited_items(read), _to_order(read) if orders else []
    # Their lines at once; each part of the page then finds its own among them.
    lines_of_items([*awaited, *to_order, *read.live_items])
    late = [_late(coming) for coming in late_of([*read.live_items, *awaited], read.desk)]
    live, beyond = _of_live(read)
    live = [matter for matter in live if orders or matter.kind != "order"]
    rows = [matter for item, part in _with_part(to_order) for matter in _order(item, part)]
    soon = sorted([*late, *live, *rows, *_to_decide(read)], key=_rank)[:MAX_MATTERS]
    return _with_later(tuple(soon), beyond, _later(read) if orders else Later())


def _with_later(soon: tuple[Matter, ...], beyond: Sequence[DatedItem], rows: Later) -> Matters:
    """beyond: of jobs worked up live."""
    days = [item.need.dates.order_by for item in beyond if item.need.dates]
    first = min([*days, *([rows.first] if rows.first else [])], default=None)
    return Matters(soon, rows.items + len(beyond), first, rows.jobs + len({item.job.pk for item in beyond}))


def _rank(matter: Matter) -> tuple[int, str, str]:
    return matter.in_hand, matter.item.job.key, matter.item.need.name


def _late(late: LateComing) -> Matter:
    return Matter("late", late.item, late.coming.expected_on, -late.late_workdays, late=late)


def _of_live(read: OpenJobItems) -> tuple[list[Matter], list[DatedItem]]:
    items = list(_with_part(read.live_items))
    decided = decided_items({item.job.pk for item, _ in items}) if items else set()
    matters = [
        matter
        for item, part in items
        for matter in _of_item(item, part, (item.job.pk, item.need.material) in decided)
        if matter.in_hand <= SOON_WORKDAYS
    ]
    beyond = [item for item, _ in items if item.need.in_hand is not None and item.need.in_hand > SOON_WORKDAYS]
    return matters, beyond


def _dated(read: OpenJobItems) -> tuple[QuerySet[StoredNeed], date]:
    """Rows with a day, and the first day with more days in hand than are looked at: a day off before it has as many."""
    rows = StoredNeed.objects.filter(LEFT_TO_ORDER, order_by__isnull=False).exclude(quantity=0)
    end = read.desk.calendar.forward(read.desk.today, SOON_WORKDAYS + 1)
    return rows.exclude(job__in=read.live_ids), end


def _to_order(read: OpenJobItems) -> list[DatedItem]:
    rows, end = _dated(read)
    first = rows.filter(order_by__lt=end).select_related("job").order_by("order_by", "job_id", "name", "pk")
    return [read.of_row(row) for row in first[:MAX_MATTERS]]


def _later(read: OpenJobItems) -> Later:
    rows, end = _dated(read)
    counted = {"items": Count("pk"), "first": Min("order_by"), "jobs": Count("job", distinct=True)}
    return Later(**rows.filter(order_by__gte=end).aggregate(**counted))


def _to_decide(read: OpenJobItems) -> Iterator[Matter]:
    rows, end = _dated(read)
    to_decide = rows.filter(rows_to_decide(), decide_by__lt=end).select_related("job")
    for row in to_decide.order_by("decide_by", "pk")[:MAX_MATTERS]:
        yield from _decide(read.of_row(row))


def _with_part(items: Sequence[DatedItem]) -> Iterator[tuple[DatedItem, str]]:
    """Those of which something is still to be ordered, each with why though some of it is."""
    ordered = lines_of_items(items) if items else {}
    for item in items:
        so_far = ordered.get((item.job.pk, item.need.material))
        if item.need.quantity != 0 and (so_far is None or not so_far.is_covered):
            yield item, so_far.balance.sentence if so_far else ""


def _of_item(item: DatedItem, part: str, is_decided: bool) -> Iterable[Matter]:
    if is_to_decide(item.need, is_decided=is_decided):
        yield from _decide(item)
    yield from _order(item, part)


def _decide(item: DatedItem) -> Iterator[Matter]:
    need = item.need
    if need.dates is not None and need.decide_in_hand is not None:
        yield Matter("decide", item, need.dates.decide_by, need.decide_in_hand)


def _order(item: DatedItem, part: str) -> Iterator[Matter]:
    need = item.need
    if need.dates is not None and need.in_hand is not None:
        yield Matter("order", item, need.dates.order_by, need.in_hand, part)
