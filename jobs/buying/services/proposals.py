"""What is to be ordered from one supplier, put on the fewest orders."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from catalog.core.materials.catalog_data import Catalog
from catalog.models import Supplier
from catalog.services.book import book_of
from jobs.buying.services.to_order import not_ordered
from jobs.core.ordering.buying_window import BuyingWindow, OrderWindow, window_of
from jobs.core.ordering.open_quantity import LeftToOrder
from jobs.core.ordering.order_consolidation import bundle
from jobs.core.ordering.order_sums import Bundle, bundle_of
from jobs.core.ordering.order_timing import checked_on
from jobs.dates.services.item_schedule import open_items
from jobs.jobs.models import Job
from jobs.jobs.services.signed import SIGNED, UNSIGNED, signed_jobs
from jobs.orders.services.items import Item, check_day, items_of, left_of, on_orders
from jobs.orders.services.releasing import ItemStanding, standings_of_items
from jobs.work_up.services.job_work_up import JobResult, work_of

MAX_JOBS = 40


@dataclass(frozen=True)
class ProposedOrder:
    """Of signed work, or of work that is not. ready: what it comes to with the items nothing stands in the way of
    alone, None where there is none."""

    bundle: Bundle
    items: tuple[ItemStanding, ...]
    signed: bool
    ready: Bundle | None

    @property
    def early(self) -> Mapping[str, int]:
        """By key, how many working days before its own day each is bought."""
        return dict(zip(self.bundle.keys, self.bundle.days_early, strict=True))


@dataclass(frozen=True)
class Proposal:
    """orders: the fewest, for signed work first. notes: what was not known. undated: items that cannot be put on a day,
    those of signed jobs first. troubles: jobs that cannot be worked out.

    parts: by key, of items of which orders carry some already: what is left.
    """

    supplier: Supplier
    orders: tuple[ProposedOrder, ...]
    notes: tuple[str, ...]
    undated: tuple[ItemStanding, ...]
    troubles: tuple[str, ...]
    jobs_left_out: int
    parts: Mapping[str, LeftToOrder]

    @property
    def saved_orders(self) -> int:
        return sum(len(order.items) - 1 for order in self.orders)


def proposal_for(supplier: Supplier, moment: datetime, work: str = "") -> Proposal:
    """Worked up now, for the jobs whose items are due first. moment: by the firm's own clock."""
    rows = sorted(not_ordered(supplier=supplier.code), key=lambda row: (row.order_by or date.max, row.job_id))
    # Jobs whose rows are older than they are come first: nobody knows yet how soon theirs are due.
    fresh = [item.job.pk for item in open_items(moment).live_items if item.need.supplier == supplier.code]
    job_ids = _of_work([*fresh, *(row.job_id for row in rows)], work)
    works = _worked(job_ids[:MAX_JOBS], moment)
    theirs = [item for work in works for item in items_of(work).values() if item.need.supplier == supplier.code]
    ordered = on_orders(theirs)
    left = {item.key: left_of(item, ordered.get(item.key)) for item in theirs}
    items = [item for item in theirs if left[item.key]]
    standings = standings_of_items(items, moment)
    windows = {
        item.key: _window(item, left[item.key] or Decimal(0), item.need.dates.order_by, moment.date())
        for item in items
        if item.need.dates is not None
    }
    undated = [standings[item.key] for item in items if item.key not in windows]
    orders, notes = _orders(windows, standings, supplier.code)
    return Proposal(
        supplier,
        tuple(orders),
        tuple(dict.fromkeys(notes)),
        tuple(sorted(undated, key=lambda bundle: not bundle.is_signed)),
        tuple(f"{work.job}: {work.trouble}" for work in works if work.done is None),
        max(0, len(job_ids) - MAX_JOBS),
        {item.key: ordered[item.key].balance for item in items if item.key in ordered},
    )


def _of_work(job_ids: Iterable[int], work: str) -> list[int]:
    """Each once, in their order, those of signed jobs first."""
    signed = set(signed_jobs())
    jobs = [job_id for job_id in dict.fromkeys(job_ids) if work in ("", SIGNED if job_id in signed else UNSIGNED)]
    return sorted(jobs, key=lambda job_id: job_id not in signed)


def _orders(
    windows: Mapping[str, OrderWindow], standings: Mapping[str, ItemStanding], supplier: str
) -> tuple[list[ProposedOrder], list[str]]:
    """What is signed goes on no order with what is not: of that nobody knows yet whether it will be wanted."""
    book, orders, notes = book_of(), [], []
    buying = buying_window(book)
    for signed in (True, False):
        mine = {key: window for key, window in windows.items() if standings[key].is_signed is signed}
        plan = bundle(list(mine.values()), book.suppliers[supplier].terms, buying)
        notes += plan.notes if mine else ()
        for planned in plan.bundles:
            items = tuple(standings[key] for key in planned.keys)
            ready = [mine[item.item.key] for item in items if item.is_ready]
            sums = bundle_of(ready, book.suppliers[supplier].terms, buying.firm) if ready else None
            orders.append(ProposedOrder(planned, items, signed, sums))
    return orders, notes


def sums_of(supplier: Supplier, chosen: Iterable[tuple[int, str]], moment: datetime) -> Bundle | None:
    """What an order of these items of jobs would come to; None where none of them is to be ordered with a day."""
    wanted = set(chosen)
    works = _worked(sorted({job for job, _ in wanted})[:MAX_JOBS], moment)
    items = [
        item
        for work in works
        for item in items_of(work).values()
        if (item.job.pk, item.need.material) in wanted and item.need.supplier == supplier.code
    ]
    ordered, windows = on_orders(items), []
    for item in items:
        left = left_of(item, ordered.get(item.key))
        if left and item.need.dates is not None:
            windows.append(_window(item, left, item.need.dates.order_by, moment.date()))
    book = book_of()
    return bundle_of(windows, book.suppliers[supplier.code].terms, book.firm.calendar) if windows else None


def buying_window(book: Catalog) -> BuyingWindow:
    fact = book.standards.fact("buying_window_workdays")
    return BuyingWindow(book.firm.calendar, None if fact is None else int(fact.value))


def _window(item: Item, left: Decimal, order_by: date, today: date) -> OrderWindow:
    name = f"{item.need.name} of {item.job.key}"
    return window_of(item.key, _safe_from(item, today), order_by, today, item.amount_of(left), name)


def _worked(job_ids: Iterable[int], moment: datetime) -> list[JobResult]:
    jobs = Job.objects.filter(pk__in=list(job_ids), closed_on=None).select_related("client").order_by("pk")
    book = book_of()
    return [work_of(job, book, moment.date(), moment.time()) for job in jobs]


def _safe_from(item: Item, today: date) -> date:
    """What is made to a radius is safe from its field check on; everything else from now."""
    if item.need.driven_by != "radius" or checked_on(item.work_up.walls, item.need.material) is not None:
        return today
    return check_day(item.work_up) or today
