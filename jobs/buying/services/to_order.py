"""What is to be ordered from whom, over all open jobs, from stored needs."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date

from catalog.models import Supplier
from jobs.core.ordering.order_by import days_in_hand
from jobs.dates.services.item_schedule import DateContext, OpenJobItems
from jobs.jobs.services.signed import SIGNED, UNSIGNED
from jobs.needs.models import StoredNeed
from jobs.orders.services.ordered_so_far import OrderedSoFar, ordered_so_far


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


def suppliers_to_order(read: OpenJobItems, work: str = "") -> list[SupplierToOrder]:
    """For signed work first, apart from other work. In a number of queries that does not grow with the jobs."""
    wanted: dict[tuple[str, bool], list[tuple[int, date | None]]] = defaultdict(list)
    for row in not_ordered():
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


def not_ordered(**narrowed: object) -> list[StoredNeed]:
    rows = list(StoredNeed.objects.filter(job__closed_on=None, **narrowed).exclude(supplier="").exclude(quantity=0))
    ordered = ordered_so_far({(row.job_id, row.material): row.statement for row in rows}, with_drafts=True)
    return [row for row in rows if not _is_covered(ordered.get((row.job_id, row.material)))]


def _is_covered(so_far: OrderedSoFar | None) -> bool:
    return so_far is not None and so_far.is_covered
