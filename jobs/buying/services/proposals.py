"""What is to be ordered from whom: over all jobs from stored needs, and for one supplier put on the fewest orders."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from catalog.models import Supplier
from catalog.services.book import book_of
from jobs.core.ordering.open_quantity import LeftToOrder
from jobs.core.ordering.order_by import days_in_hand
from jobs.core.ordering.order_consolidation import Bundle, BundlePlan, OrderWindow, bundle, window_of
from jobs.core.ordering.order_timing import checked_on
from jobs.dates.services.item_schedule import DateContext, OpenJobItems, open_items
from jobs.jobs.models import Job
from jobs.jobs.services.signed import SIGNED, UNSIGNED
from jobs.needs.models import StoredNeed
from jobs.orders.services.items import Item, check_day, items_of, left_of, on_orders
from jobs.orders.services.ordered_so_far import OrderedSoFar, ordered_so_far
from jobs.orders.services.releasing import ItemStanding, standings_of_items
from jobs.work_up.services.job_work_up import JobResult, work_of

MOST_JOBS = 40


@dataclass(frozen=True)
class SupplierToOrder:
    """items: of all signed jobs, or of all others, that no order stands for. order_by: the first of their days."""

    supplier: Supplier
    items: int
    jobs: int
    order_by: date | None
    in_hand: int | None
    undated: int
    signed: bool


@dataclass(frozen=True)
class ProposedOrder:
    bundle: Bundle
    items: tuple[ItemStanding, ...]


@dataclass(frozen=True)
class Proposal:
    """orders: the fewest. undated: items that cannot be put on a day. troubles: jobs that cannot be worked out.

    parts: by key, of items of which orders carry some already: what is left.
    """

    supplier: Supplier
    plan: BundlePlan
    orders: tuple[ProposedOrder, ...]
    undated: tuple[ItemStanding, ...]
    troubles: tuple[str, ...]
    jobs_left_out: int
    parts: Mapping[str, LeftToOrder]


def suppliers_to_order(read: OpenJobItems, work: str = "") -> list[SupplierToOrder]:
    """For signed work first, apart from other work. In a number of queries that does not grow with the jobs."""
    wanted: dict[tuple[str, bool], list[tuple[int, date | None]]] = defaultdict(list)
    for row in _not_ordered():
        if row.job_id not in read.live_ids:
            wanted[row.supplier, row.job_id in read.signed].append((row.job_id, row.order_by))
    live = [one for one in read.live_items if one.need.supplier and one.need.quantity]
    ordered = ordered_so_far({(one.job.pk, one.need.material): one.stated for one in live}, with_drafts=True)
    for one in live:
        if not _is_covered(ordered.get((one.job.pk, one.need.material))):
            day = one.need.dates.order_by if one.need.dates else None
            wanted[one.need.supplier or "", one.job.pk in read.signed].append((one.job.pk, day))
    sellers = Supplier.objects.in_bulk([code for code, _ in wanted], field_name="code")
    found = [
        _to_order(sellers[code], mine, read.desk, signed)
        for (code, signed), mine in wanted.items()
        if code in sellers and work in ("", SIGNED if signed else UNSIGNED)
    ]
    return sorted(found, key=lambda one: (not one.signed, one.order_by or date.max, one.supplier.name))


def _to_order(
    supplier: Supplier, mine: list[tuple[int, date | None]], desk: DateContext, signed: bool
) -> SupplierToOrder:
    days = [day for _, day in mine if day is not None]
    first = min(days, default=None)
    in_hand = None if first is None else days_in_hand(desk.today, first, desk.calendar)
    jobs = len({job for job, _ in mine})
    return SupplierToOrder(supplier, len(mine), jobs, first, in_hand, len(mine) - len(days), signed)


def _not_ordered(**narrowed: object) -> list[StoredNeed]:
    rows = list(StoredNeed.objects.filter(job__closed_on=None, **narrowed).exclude(supplier="").exclude(quantity=0))
    ordered = ordered_so_far({(row.job_id, row.material): row.statement for row in rows}, with_drafts=True)
    return [row for row in rows if not _is_covered(ordered.get((row.job_id, row.material)))]


def _is_covered(so_far: OrderedSoFar | None) -> bool:
    return so_far is not None and so_far.is_covered


def proposal_for(supplier: Supplier, moment: datetime) -> Proposal:
    """Worked up now, for the jobs whose items are due first. moment: by the firm's own clock."""
    rows = sorted(_not_ordered(supplier=supplier.code), key=lambda one: (one.order_by or date.max, one.job_id))
    # Jobs whose rows are older than they are come first: nobody knows yet how soon theirs are due.
    fresh = [one.job.pk for one in open_items(moment).live_items if one.need.supplier == supplier.code]
    job_ids = list(dict.fromkeys([*fresh, *(row.job_id for row in rows)]))
    works = _worked(job_ids[:MOST_JOBS], moment)
    theirs = [item for work in works for item in items_of(work).values() if item.need.supplier == supplier.code]
    ordered = on_orders(theirs)
    left = {item.key: left_of(item, ordered.get(item.key)) for item in theirs}
    items = [item for item in theirs if left[item.key]]
    dated = {item.key: item for item in items if item.need.dates is not None}
    windows = [
        _window(item, left[item.key] or Decimal(0), item.need.dates.order_by, moment.date())
        for item in dated.values()
        if item.need.dates is not None
    ]
    plan = bundle(windows, book_of().suppliers[supplier.code].terms)
    standings = standings_of_items(items, moment)
    return Proposal(
        supplier,
        plan,
        tuple(ProposedOrder(one, tuple(standings[key] for key in one.keys)) for one in plan.bundles),
        tuple(standings[item.key] for item in items if item.key not in dated),
        tuple(f"{work.job}: {work.trouble}" for work in works if work.done is None),
        max(0, len(job_ids) - MOST_JOBS),
        {item.key: ordered[item.key].found for item in items if item.key in ordered},
    )


def _window(item: Item, left: Decimal, order_by: date, today: date) -> OrderWindow:
    return window_of(item.key, _safe_from(item, today), order_by, today, item.amount_of(left))


def _worked(job_ids: Iterable[int], moment: datetime) -> list[JobResult]:
    jobs = Job.objects.filter(pk__in=list(job_ids), closed_on=None).select_related("client").order_by("pk")
    book = book_of()
    return [work_of(job, book, moment.date(), moment.time()) for job in jobs]


def _safe_from(item: Item, today: date) -> date:
    """What is made to a radius is safe from its field check on; everything else from now."""
    if item.need.driven_by != "radius" or checked_on(item.done.walls, item.need.material) is not None:
        return today
    return check_day(item.done) or today
