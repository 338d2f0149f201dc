"""What was billed, ordered and received of many jobs, as the plain rows of their costs, in a few queries."""

from collections import defaultdict
from collections.abc import Collection, Iterable
from datetime import date
from decimal import Decimal

from django.db.models import Prefetch, QuerySet

from catalog.core.ground.money import to_cents
from catalog.models import Material
from catalog.services.book import standards_of
from jobs.bills.models import BillLine, Category
from jobs.core.costs.bills import NOTHING, BillRow, freight_shares
from jobs.core.costs.received_goods import OrderedFreight, OrderedRow, line_price
from jobs.core.costs.tags import REWORK
from jobs.core.ordering.confirmation import tolerances_of
from jobs.deliveries.models import ConfirmedLine, ReceiptLine, ReturnedGoods
from jobs.orders.models import Order, OrderLine, OrderState
from jobs.orders.services.ordered_so_far import carried_line
from quoting.platform.models.columns import normalized


def standing_lines() -> QuerySet[BillLine]:
    """Lines of bills that are entered and not voided."""
    return BillLine.objects.filter(bill__entered_at__isnull=False, bill__voided_at=None)


def bill_rows_of(job_ids: Collection[int], until: date | None = None) -> dict[int, list[BillRow]]:
    """until: the last month counted, by its first day; None for all."""
    found: dict[int, list[BillRow]] = {job: [] for job in job_ids}
    rows = standing_lines().filter(job__in=found).select_related("bill__supplier")
    rows = rows if until is None else rows.filter(bill__posted_month__lte=until)
    for row in rows.order_by("bill__day", "bill_id", "place"):
        found[row.job_id].append(_bill_row(row))
    return found


def _bill_row(row: BillLine) -> BillRow:
    return BillRow(
        f"{row.bill_id}/{row.place}",
        row.bill.number,
        row.bill.seller,
        row.bill.day,
        row.category,
        row.item,
        row.what,
        normalized(row.quantity),
        normalized(row.unit_price),
        row.amount + row.tax,
        row.tag,
        None if row.order_line_id is None else str(row.order_line_id),
    )


def placed_lines(job_ids: Collection[int], until: date | None = None) -> QuerySet[OrderLine]:
    """Of orders that were placed, called off since or not."""
    rows = OrderLine.objects.filter(job__in=job_ids, order__placed_on__lte=until or date.max)
    return rows.select_related("order", "material").prefetch_related(*came_until(until))


def came_until(until: date | None, lines: str = "") -> tuple[Prefetch, Prefetch]:
    """What came of lines and what went back, by the end of a day. lines: the way to them, with its underscores."""
    last = until or date.max
    came = ReceiptLine.objects.filter(delivery__received_on__lte=last)
    back = ReturnedGoods.objects.filter(sent_on__lte=last)
    return Prefetch(f"{lines}receipts", came), Prefetch(f"{lines}returns", back)


def ordered_rows_of(job_ids: Collection[int], until: date | None = None) -> dict[int, list[OrderedRow]]:
    """until: by what was ordered, received and billed by the end of that day; None for all."""
    rows: dict[int, list[OrderedRow]] = {job: [] for job in job_ids}
    lines = list(placed_lines(rows, until).order_by("order__placed_on", "order_id", "place"))
    for line, row in zip(lines, ordered_rows(lines, until), strict=True):
        rows[line.job_id].append(row)
    return rows


def ordered_rows(lines: Collection[OrderLine], until: date | None = None) -> list[OrderedRow]:
    """Of lines with their order, material, receipts and returns; prices are those known now."""
    billed, confirmed = _billed(lines, until or date.max), _confirmed_prices(lines)
    return [_ordered_row(line, *billed[line.pk], confirmed.get(line.pk)) for line in lines]


def _ordered_row(line: OrderLine, billed: Decimal, amount: Decimal, confirmed: Decimal | None) -> OrderedRow:
    wanted = None if line.amount is None else line.amount / line.quantity
    carried = carried_line(line)
    price, source = line_price(billed, amount, confirmed, wanted)
    return OrderedRow(
        str(line.pk),
        line.order.number,
        line.material_id,
        line.what,
        category_of(line.material),
        normalized(line.quantity),
        normalized(carried.good - carried.good_returned),
        normalized(billed),
        amount,
        price,
        source,
        not carried.expected or line.order.state == OrderState.CALLED_OFF,
        line.replaces_id is not None,
        wanted if confirmed is None else confirmed,
    )


def category_of(material: Material) -> str:
    """Work bought of others is what the firm names so; all else that is ordered is material."""
    is_work = material.own_kind.strip().lower() == Category.SUBCONTRACT.value
    return (Category.SUBCONTRACT if is_work else Category.MATERIALS).value


def _billed(lines: Iterable[OrderLine], until: date) -> dict[int, tuple[Decimal, Decimal]]:
    sums = {line.pk: (Decimal(0), NOTHING) for line in lines}
    rows = standing_lines().filter(order_line__in=sums, bill__day__lte=until).exclude(category=Category.FREIGHT)
    for pk, quantity, amount in rows.values_list("order_line", "quantity", "amount"):
        sums[pk] = (sums[pk][0] + quantity, sums[pk][1] + amount)
    return sums


def _confirmed_prices(lines: Iterable[OrderLine]) -> dict[int, Decimal]:
    """Of one, as the last confirmation says, where somebody stands for it or it is as ordered within the tolerance."""
    text = ConfirmedLine.objects.filter(line__in=[line.pk for line in lines], amount__isnull=False)
    text = text.select_related("line").order_by("confirmation__received_on", "confirmation_id", "pk")
    last = {row.line_id: row for row in text}
    within = tolerances_of(standards_of()).price_share if last else Decimal(0)
    return {
        pk: row.amount / (row.quantity or row.line.quantity)
        for pk, row in last.items()
        if row.amount is not None and (row.settled_at is not None or _is_within(row, within))
    }


def _is_within(row: ConfirmedLine, share: Decimal) -> bool:
    wanted = row.line.amount
    return wanted is not None and row.amount is not None and abs(row.amount - wanted) <= wanted * share


def ordered_freight_of(job_ids: Collection[int], until: date | None = None) -> dict[int, list[OrderedFreight]]:
    """Each job's share of the freight and rush fee of its orders, and what is billed of it; until: as above."""
    freights: dict[int, list[OrderedFreight]] = {job: [] for job in job_ids}
    mine = OrderLine.objects.filter(job__in=freights, order__placed_on__lte=until or date.max).values("order")
    orders = Order.objects.filter(pk__in=mine).prefetch_related("lines__material", *came_until(until, "lines__"))
    orders = list(orders.order_by("placed_on", "pk"))
    lines = [line for order in orders for line in order.lines.all()]
    rows = {line.pk: row for line, row in zip(lines, ordered_rows(lines, until), strict=True)}
    billed = _freight_billed(mine, until or date.max)
    for order in orders:
        for job, row in _freight_of(order, rows, billed).items():
            if job in freights and (row.amount or row.billed):
                freights[job].append(row)
    return freights


def _freight_of(
    order: Order, rows: dict[int, OrderedRow], billed: dict[tuple[int, int], Decimal]
) -> dict[int, OrderedFreight]:
    lines = list(order.lines.all())
    has_come = any(line.receipts.all() for line in lines)
    is_billed = any(pk == order.pk for pk, _ in billed)
    is_settled = is_billed and all(_is_paid(rows[line.pk]) for line in lines)
    shares = freight_by_job(order, (order.freight or NOTHING) + (order.rush_fee or NOTHING))
    return {
        job: OrderedFreight(
            order.number,
            share,
            has_come,
            billed.get((order.pk, job), NOTHING),
            order.state == OrderState.CALLED_OFF,
            is_settled,
            all(line.replaces_id is not None for line in lines if line.job_id == job),
        )
        for job, share in shares.items()
    }


def _is_paid(row: OrderedRow) -> bool:
    return row.billed >= row.ordered or (row.has_ended and not row.owed)


def freight_by_job(order: Order, freight: Decimal) -> dict[int, Decimal]:
    """By the value of the order's lines, the jobs in the order of their first lines."""
    values = order_values(order)
    return dict(zip(values, freight_shares(freight, list(values.values())), strict=True))


def order_values(order: Order) -> dict[int, Decimal]:
    """What each job's lines of an order come to; a line without a price counts for nothing here."""
    values: dict[int, Decimal] = defaultdict(lambda: NOTHING)
    for line in order.lines.all():
        values[line.job_id] += to_cents(line.amount or NOTHING)
    return dict(values)


def _freight_billed(orders: QuerySet[OrderLine], until: date) -> dict[tuple[int, int], Decimal]:
    sums: dict[tuple[int, int], Decimal] = defaultdict(lambda: NOTHING)
    rows = standing_lines().filter(order__in=orders, category=Category.FREIGHT, bill__day__lte=until)
    for order, job, amount in rows.values_list("order", "job", "amount"):
        sums[order, job] += amount
    return dict(sums)


def tag_of_line(line: OrderLine) -> str:
    """What stands for goods that came bad is rework, whoever pays."""
    return REWORK if line.replaces_id is not None else ""
