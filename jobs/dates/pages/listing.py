"""One page of the items of all open jobs, by days in hand: rows, and among them what is worked up live."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import Count, Exists, F, OuterRef, Q, QuerySet

from catalog.models import Supplier
from jobs.core.ordering.needs import DatedNeed
from jobs.core.ordering.order_by import standing
from jobs.dates.pages.filters import Filters
from jobs.dates.services.item_schedule import DatedItem, OpenJobItems
from jobs.dates.services.late_on_order import awaited_items, late_of
from jobs.dates.services.ordered_items import Lines, covered, lines_of_items
from jobs.jobs.services.signed import SIGNED, UNSIGNED, of_work
from jobs.needs.models import LEFT_TO_ORDER, NOT_LEFT_TO_ORDER, StoredNeed

ITEMS_A_PAGE = 60


@dataclass(frozen=True)
class Totals:
    """late_on_order: comes after the day it is needed; the others are still to be ordered."""

    late: int = 0
    due_today: int = 0
    ahead: int = 0
    undated: int = 0
    late_on_order: int = 0

    @property
    def all(self) -> int:
        return self.late + self.due_today + self.ahead + self.undated

    @property
    def to_order(self) -> int:
        return self.late + self.due_today + self.ahead

    def __sub__(self, other: "Totals") -> "Totals":
        return Totals(
            self.late - other.late,
            self.due_today - other.due_today,
            self.ahead - other.ahead,
            self.undated - other.undated,
            self.late_on_order - other.late_on_order,
        )

    def __add__(self, other: "Totals") -> "Totals":
        return Totals(
            self.late + other.late,
            self.due_today + other.due_today,
            self.ahead + other.ahead,
            self.undated + other.undated,
            self.late_on_order + other.late_on_order,
        )


@dataclass(frozen=True)
class Listing:
    """items: of this page, those of signed jobs first. undated: items with gaps, of any page, so that what is missing
    is told on the first. unsigned: of the totals, what is of unsigned jobs."""

    items: tuple[DatedItem, ...]
    totals: Totals
    unsigned: Totals
    page: int
    pages: int
    ordered: Lines
    undated: tuple[DatedItem, ...]
    ordered_count: int


def rows_of_open_jobs(read: OpenJobItems) -> QuerySet[StoredNeed]:
    """All that are read from rows."""
    return StoredNeed.objects.filter(job__closed_on=None).exclude(job__in=read.live_ids)


def rows_left(read: OpenJobItems) -> QuerySet[StoredNeed]:
    """The same of which something is left to order; of a closed job nothing is, so no job is looked up."""
    return StoredNeed.objects.filter(LEFT_TO_ORDER).exclude(job__in=read.live_ids)


def listing(read: OpenJobItems, filters: Filters, page: int) -> Listing:
    today, every = read.desk.today, rows_of_open_jobs(read)
    stored = filters.of_rows(every if filters.ordered else rows_left(read), today)
    live_ordered = covered(lines_of_items(read.live_items)) if read.live_items else {}
    live = [item for item in read.live_items if filters.keeps(item, live_ordered, today, read.signed)]
    live = sorted(live, key=lambda item: place_of(item, read))
    signed, unsigned = (
        _totals_of_rows(stored.filter(of_work(work)), read)
        + totals_of(item.need for item in live if (item.job.pk in read.signed) is (work == SIGNED))
        for work in (SIGNED, UNSIGNED)
    )
    pages = max(1, -(-(signed + unsigned).all // ITEMS_A_PAGE))
    page = min(max(1, page), pages)
    by_day = (F("order_by").asc(nulls_last=True), "job_id", "name", "pk")
    rows = stored.select_related("job__client").order_by(*by_day)
    items = _slice(rows, live, (page - 1) * ITEMS_A_PAGE, read)
    awaited = awaited_items(read)
    # Their lines at once; what is late then finds its own among them.
    lines_of_items([*items, *awaited, *read.live_items])
    late = filters.late_ones(late_of([*read.live_items, *awaited], read.desk), read.signed, today)
    signed += Totals(late_on_order=sum(coming.item.job.pk in read.signed for coming in late))
    unsigned += Totals(late_on_order=sum(coming.item.job.pk not in read.signed for coming in late))
    ordered = lines_of_items(items) if items else {}
    undated = [item for item in live if item.need.dates is None]
    undated += [read.of_row(row) for row in stored.filter(order_by=None).select_related("job")[:ITEMS_A_PAGE]]
    of_job = Q(job__key=filters.job) if filters.job and not filters.asks_for_nothing else Q()
    hidden = every.filter(NOT_LEFT_TO_ORDER, of_job).count() + len(live_ordered)
    return Listing(tuple(items), signed + unsigned, unsigned, page, pages, ordered, tuple(undated), hidden)


def place_of(item: DatedItem, read: OpenJobItems) -> tuple[bool, bool, date, int]:
    """Where an item stands in the list: the order of rows, so far as items of different jobs go."""
    dates = item.need.dates
    return item.job.pk not in read.signed, dates is None, dates.order_by if dates else date.min, item.job.pk


def _slice(rows: QuerySet[StoredNeed], live: list[DatedItem], first: int, read: OpenJobItems) -> list[DatedItem]:
    """Rows from as many places earlier as there are live items: none of those can push a row further than that."""
    start = max(0, first - len(live))
    merged = [read.of_row(row) for row in _signed_first(rows, start, first + ITEMS_A_PAGE)]
    merged = sorted([*live, *merged], key=lambda item: place_of(item, read))
    return merged[first - start : first - start + ITEMS_A_PAGE]


def _signed_first(rows: QuerySet[StoredNeed], start: int, end: int) -> list[StoredNeed]:
    """Each, so that of many rows no more is sorted than is shown."""
    signed, others = rows.filter(of_work(SIGNED)), rows.filter(of_work(UNSIGNED))
    result = list(signed[start:end])
    if len(result) == end - start:
        return result
    before = start + len(result) if result else signed.count()
    return [*result, *others[max(0, start - before) : end - before]]


def totals_of(needs: Iterable[DatedNeed]) -> Totals:
    standings = [None if need.in_hand is None else standing(need.in_hand) for need in needs]
    return Totals(
        standings.count("late"), standings.count("due_today"), standings.count("ahead"), standings.count(None)
    )


def _totals_of_rows(rows: QuerySet[StoredNeed], read: OpenJobItems) -> Totals:
    missed = Q(order_by=read.desk.today, cut_off__lt=read.desk.now_at)
    late = Q(order_by__lt=read.desk.today) | missed
    totals = rows.aggregate(
        late=Count("pk", filter=late),
        today=Count("pk", filter=Q(order_by=read.desk.today)) - Count("pk", filter=missed),
        ahead=Count("pk", filter=Q(order_by__gt=read.desk.today)),
        undated=Count("pk", filter=Q(order_by=None)),
    )
    return Totals(totals["late"], totals["today"], totals["ahead"], totals["undated"])


def suppliers_of(read: OpenJobItems) -> list[tuple[str, str]]:
    """Each is asked for by itself, so that the first row of it is enough."""
    any_row = rows_of_open_jobs(read).filter(supplier=OuterRef("code"))
    codes = set(Supplier.objects.filter(Exists(any_row)).values_list("code", flat=True))
    codes |= {item.need.supplier or "" for item in read.live_items}
    named = ((code, read.desk.suppliers[code].name) for code in codes if code in read.desk.suppliers)
    return sorted(named)
