"""Freight of a bill as a line of each job, and the tax the firm cannot reclaim on the lines it falls on."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from catalog.core.ground.money import to_cents
from catalog.services.book import standards_of
from jobs.bills.models import BillLine, Category
from jobs.bills.services.bill_rows import order_values
from jobs.bills.services.reading import BillEntry
from jobs.core.costs.bills import NOTHING, freight_shares
from jobs.core.costs.tags import REWORK
from jobs.orders.models import Order

FREIGHT = "Freight"


@dataclass(frozen=True)
class FreightShare:
    """job: None where nothing of the bill is for a job. order: what it is the freight of, None without an order."""

    job: int | None
    order: Order | None
    amount: Decimal
    tag: str = ""


def orders_of(entry: BillEntry) -> list[Order]:
    """Those the bill brings the freight of: the one named, else all it is matched to, in the order of its lines."""
    if entry.freight_order is not None:
        return [entry.freight_order]
    orders = {line.order_line.order_id: line.order_line.order for line in entry.lines if line.order_line}
    return list(orders.values())


def freight_of(entry: BillEntry) -> list[FreightShare]:
    """By the value of the orders' lines, all of them, and of the lines without an order."""
    if not entry.freight:
        return []
    weights: dict[tuple[int | None, int | None], Decimal] = {}
    orders = {order.pk: order for order in orders_of(entry)}
    for order in orders.values():
        weights |= {(job, order.pk): value for job, value in order_values(order).items()}
    if entry.freight_order is None:
        for line in entry.lines:
            if line.order_line is None and line.job is not None:
                weights[line.job.pk, None] = weights.get((line.job.pk, None), NOTHING) + line.amount
    weights = weights or {(None, None): NOTHING}
    shares = freight_shares(entry.freight, list(weights.values()))
    return [
        FreightShare(job, orders[pk] if pk else None, share, _tag(orders[pk], job) if pk else "")
        for (job, pk), share in zip(weights, shares, strict=True)
        if share
    ]


def _tag(order: Order, job: int | None) -> str:
    mine = [line for line in order.lines.all() if line.job_id == job]
    return REWORK if all(line.replaces_id is not None for line in mine) else ""


def lines_of(entry: BillEntry) -> list[BillLine]:
    """As they are kept: as they count, freight and tax shared out."""
    sign, share = entry.sign, _kept_share() if entry.tax else Decimal(0)
    lines = [
        BillLine(
            job=line.job,
            category=line.category,
            item=line.item,
            what=line.what,
            quantity=line.counts(sign),
            unit_price=line.unit_price,
            amount=line.amount * sign,
            tag=line.tag,
            order_line=line.order_line,
            receipt=line.receipt,
            returned=line.returned,
        )
        for line in entry.lines
    ]
    lines += [_freight_line(each, sign) for each in freight_of(entry)]
    _share_tax(lines, to_cents(entry.tax * share) * sign)
    for place, line in enumerate(lines, start=1):
        line.place = place
    return lines


def _freight_line(share: FreightShare, sign: int) -> BillLine:
    return BillLine(
        job_id=share.job,
        category=Category.FREIGHT if share.job else Category.OVERHEAD,
        item=FREIGHT,
        what=FREIGHT if share.order is None else f"{FREIGHT}, {share.order}",
        quantity=Decimal(sign),
        unit_price=share.amount,
        amount=share.amount * sign,
        tag=share.tag,
        order=share.order,
    )


def _share_tax(lines: Iterable[BillLine], tax: Decimal) -> None:
    if tax and (every := list(lines)):
        shares = freight_shares(tax, [abs(line.amount) for line in every])
        for line, share in zip(every, shares, strict=True):
            line.tax = share


def _kept_share() -> Decimal:
    """Of the tax on bills, what the firm cannot reclaim."""
    fact = standards_of().fact("reclaimed_tax_share")
    return Decimal(0) if fact is None else 1 - fact.value
