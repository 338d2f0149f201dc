"""What of the dates needs a hand within the next working days: a sentence for each thing to do."""

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from django.db.models import Count, Q, QuerySet
from django.urls import reverse

from jobs.core.ordering.needs import DatedNeed
from jobs.core.ordering.order_by import days_in_hand_in_words, standing
from jobs.dates.pages.listing import rows_of_open_jobs
from jobs.dates.services.item_schedule import DatedItem, OpenJobItems
from jobs.dates.services.late_on_order import LateComing, late_on_order
from jobs.dates.services.ordered_items import lines_of_items, needs_covered
from jobs.dates.services.passed_days import passed_words
from jobs.jobs.models import Job
from jobs.jobs.services.signed import SIGNED, WORKS, of_work
from jobs.needs.models import StoredNeed
from jobs.orders.services.ordered_so_far import ItemKey
from jobs.orders.services.to_decide import decided_items, is_to_decide, rows_to_decide
from quoting.platform.screen_days import day_words

# Ours: two working weeks ahead is what one looks at on a Monday.
SOON_WORKDAYS = 10
# Of each kind of work.
MOST_MATTERS = 50


@dataclass(frozen=True)
class Matter:
    """One thing that needs a hand, in a sentence. in_hand: working days left, negative when late. as_of: the day it
    was worked out on, where that is not now."""

    job: Job
    sentence: str
    day: str
    in_hand: int
    url: str
    as_of: date | None = None

    @property
    def words(self) -> str:
        return days_in_hand_in_words(self.in_hand)

    @property
    def standing(self) -> str:
        return standing(self.in_hand)


@dataclass(frozen=True)
class Matters:
    """work: of signed or of unsigned jobs. soon: by days in hand, the most pressing of them. more: as pressing, for
    which there was no room. later: not due within the days looked at."""

    work: str
    soon: tuple[Matter, ...]
    more: int
    later: int

    @property
    def heading(self) -> str:
        return WORKS[self.work]


def matters(read: OpenJobItems, work: str, *, at_desk: bool) -> list[Matters]:
    """Of signed work and of unsigned work apart, or of the one that is asked for."""
    covered = needs_covered()
    return [_matters(read, one, covered, at_desk) for one in WORKS if work in ("", one)]


def _matters(read: OpenJobItems, work: str, covered: Q, at_desk: bool) -> Matters:
    items = list(_to_order(read, work))
    decided = decided_items({item.job.pk for item, _ in items}) if items and at_desk else set()
    live = [one for item, part in items for one in _of_item(item, part, decided, at_desk)]
    open_rows = rows_of_open_jobs(read).filter(of_work(work)).filter(~covered).exclude(order_by=None)
    rows, soon, every = _of_rows(read, open_rows, at_desk)
    ready = [one for one in [*live, *rows] if one.in_hand <= SOON_WORKDAYS]
    soon += sum(1 for one in live if one.in_hand <= SOON_WORKDAYS)
    shown = sorted(ready, key=in_order)[:MOST_MATTERS]
    return Matters(work, tuple(shown), soon - len(shown), every + len(live) - soon)


def late_coming(read: OpenJobItems, *, at_desk: bool) -> list[Matter]:
    """What is on order and comes after the day it is needed. in_hand: how late, below nought."""
    return [_late(one, at_desk) for one in late_on_order(read)]


def _late(one: LateComing, at_desk: bool) -> Matter:
    need, line = one.item.need, one.coming.line
    days = "day" if one.late_workdays == 1 else "days"
    late = f"{one.late_workdays} working {days} too late for {_need_by(need)}"
    told = f"{need.name} is on order and comes {late}."
    if one.coming.is_overdue:
        told = f"{need.name} is on order and overdue: if it came today, it would be {late}."
    told += " Ask for a rush or a part shipment, or fetch it." if at_desk else ""
    url = reverse("order", args=[line.order_id]) if at_desk else reverse("job_order_dates", args=[one.item.job.pk])
    day = day_words(one.coming.expected_on) if one.coming.expected_on else ""
    return Matter(one.item.job, told, day, -one.late_workdays, url, one.item.as_of)


def in_order(one: Matter) -> tuple[int, str, str]:
    return one.in_hand, one.job.key, one.sentence


def _to_order(read: OpenJobItems, work: str) -> Iterable[tuple[DatedItem, str]]:
    items = [one for one in read.live_items if (one.job.pk in read.signed) is (work == SIGNED)]
    return _with_part(items) if items else ()


def _with_part(items: Sequence[DatedItem]) -> Iterator[tuple[DatedItem, str]]:
    """Those of which something is still to be ordered, each with why though some of it is."""
    ordered = lines_of_items(items)
    for item in items:
        so_far = ordered.get((item.job.pk, item.need.material))
        if so_far is None or not so_far.is_covered:
            yield item, so_far.found.sentence if so_far else ""


def _of_rows(read: OpenJobItems, rows: QuerySet[StoredNeed], at_desk: bool) -> tuple[list[Matter], int, int]:
    """Those of the most pressing rows, then how many are due soon, and how many there are in all."""
    # The first day with more days in hand than are looked at: a day off before it has as many.
    end = read.desk.calendar.forward(read.desk.today, SOON_WORKDAYS + 1)
    to_order, signed_off = Q(order_by__lt=end), rows_to_decide()
    to_decide = Q(decide_by__lt=end) & signed_off
    counted = rows.aggregate(
        orders=Count("pk", filter=to_order),
        decisions=Count("pk", filter=to_decide),
        every=Count("pk"),
        signed_off=Count("pk", filter=signed_off),
    )
    first = rows.select_related("job").order_by("order_by", "pk").filter(to_order)[:MOST_MATTERS]
    to_be_ordered = _with_part([read.of_row(row) for row in first])
    found = [one for item, part in to_be_ordered for one in _order(item, part, at_desk)]
    if at_desk:
        pressing = rows.select_related("job").order_by("decide_by", "pk").filter(to_decide)[:MOST_MATTERS]
        found += [one for row in pressing for one in _decide(read.of_row(row))]
        return found, counted["orders"] + counted["decisions"], counted["every"] + counted["signed_off"]
    return found, counted["orders"], counted["every"]


def _of_item(item: DatedItem, part: str, decided: Collection[ItemKey], at_desk: bool) -> Iterator[Matter]:
    is_decided = (item.job.pk, item.need.material) in decided
    if at_desk and is_to_decide(item.need, is_decided=is_decided):
        yield from _decide(item)
    yield from _order(item, part, at_desk)


def _decide(item: DatedItem) -> Iterator[Matter]:
    need = item.need
    if need.dates is not None and need.decide_in_hand is not None:
        told = f"Have {need.name} signed off, so that it can be ordered."
        yield _matter(item, told, need.dates.decide_by, need.decide_in_hand)


def _order(item: DatedItem, part: str, at_desk: bool) -> Iterator[Matter]:
    need = item.need
    if need.dates is not None and need.in_hand is not None:
        told = _to_be_ordered(need, part) if at_desk else f"{_on_site(need)}; the office orders it by the day given."
        yield _matter(item, told, need.dates.order_by, need.in_hand)


def _matter(item: DatedItem, told: str, day: date, in_hand: int) -> Matter:
    url = reverse("job_order_dates", args=[item.job.pk])
    return Matter(item.job, told, day_words(day), in_hand, url, item.as_of)


def _on_site(need: DatedNeed) -> str:
    return f"{need.name} must be on site by {_need_by(need)}"


def _to_be_ordered(need: DatedNeed, part: str) -> str:
    told = f"Order {need.name}; it must be on site by {_need_by(need)}."
    if part:
        told += f" {part}"
    return f"{told} {passed_words(need)}".rstrip()


def _need_by(need: DatedNeed) -> str:
    return day_words(need.need_by) if need.need_by else ""
