"""What of a bill differs from its orders, their confirmations and receipts, and from the credits that were agreed."""

from collections.abc import Iterable, Iterator
from decimal import Decimal

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.money import to_cents
from catalog.core.ground.plain_text import money, plain
from catalog.core.ground.refusal import Refused
from jobs.bills.models import BillKind, Category
from jobs.bills.services.bill_rows import ordered_rows, placed_lines, standing_lines
from jobs.bills.services.reading import BillEntry
from jobs.bills.services.reading_lines import LineEntry
from jobs.bills.services.sharing import orders_of
from jobs.core.costs.bill_differences import Billed, credit_difference, freight_difference, line_differences, line_name
from jobs.core.costs.bills import NOTHING
from jobs.core.costs.received_goods import OrderedRow
from jobs.orders.models import Order, OrderState

MAX_NAMED = 10


class Differs(Refused):
    """sentences: each is to be accepted by whoever enters the bill."""

    path = "accept"


def refuse_unaccepted(entry: BillEntry) -> list[str]:
    """The sentences of all differences, each accepted. Held orders do not change between the look and the entry."""
    result = list(dict.fromkeys(differences_of(entry)))
    if any(text not in entry.accept for text in result):
        raise Differs(*result)
    return result


def differences_of(entry: BillEntry) -> Iterator[str]:
    rows = _rows_of(entry)
    if entry.kind == BillKind.CREDIT:
        yield from _of_credit(entry, rows)
        return
    for row, lines in _by_line(entry, rows):
        together = Billed(
            sum((line.quantity for line in lines), Decimal(0)), sum((line.amount for line in lines), NOTHING)
        )
        order = lines[0].order_line.order  # type: ignore[union-attr]
        yield from line_differences(row, together, is_called_off=order.state == OrderState.CALLED_OFF)
    orders = orders_of(entry)
    if entry.freight and orders:
        agreed, before = sum(map(agreed_freight, orders), NOTHING), sum(map(billed_freight, orders), NOTHING)
        named = ", ".join(order.number for order in orders[:MAX_NAMED])
        message = freight_difference(named, agreed, before, entry.freight)
        yield from [message] if message else []


def _rows_of(entry: BillEntry) -> dict[int, OrderedRow]:
    pks = {line.order_line.pk for line in entry.lines if line.order_line}
    jobs = {line.order_line.job_id for line in entry.lines if line.order_line}
    lines = list(placed_lines(jobs).filter(pk__in=pks))
    return {line.pk: row for line, row in zip(lines, ordered_rows(lines), strict=True)}


def _by_line(entry: BillEntry, rows: dict[int, OrderedRow]) -> Iterator[tuple[OrderedRow, list[LineEntry]]]:
    for pk, row in rows.items():
        yield row, [line for line in entry.lines if line.order_line and line.order_line.pk == pk]


def agreed_freight(order: Order) -> Decimal:
    return (order.freight or NOTHING) + (order.rush_fee or NOTHING)


def billed_freight(order: Order) -> Decimal:
    amounts = standing_lines().filter(order=order, category=Category.FREIGHT).values_list("amount", flat=True)
    return sum(amounts, NOTHING)


def _of_credit(entry: BillEntry, rows: dict[int, OrderedRow]) -> Iterator[str]:
    """Refused over what it settles: at most what was agreed, without that what came or went back was worth."""
    settled: dict[tuple[int | None, int | None, int | None], tuple[Decimal, Decimal]] = {}
    for place, line in enumerate(entry.lines):
        if line.order_line is None:
            continue
        key = (line.order_line.pk, line.receipt and line.receipt.pk, line.returned and line.returned.pk)
        amount, quantity = settled.get(key, (NOTHING, Decimal(0)))
        settled[key] = amount, quantity = amount + line.amount, quantity + line.quantity
        row = rows[line.order_line.pk]
        most, most_quantity = most_credited(line, row)
        before, before_quantity = credited_before(line)
        _refuse_over(f"lines[{place}].amount", before + amount, most, money)
        _refuse_over(f"lines[{place}].quantity", before_quantity + quantity, most_quantity, plain)
        agreed = agreed_credit(line)
        if agreed is not None:
            message = credit_difference(line_name(row), agreed, before, amount)
            yield from [message] if message else []


def _refuse_over(path: str, together: Decimal, most: Decimal | None, words: object) -> None:
    if most is not None and together > most:
        message = f"{words(together)} is over the {words(most)} that it settles"  # type: ignore[operator]
        raise DocumentError.at(path, message)


def agreed_credit(line: LineEntry) -> Decimal | None:
    if line.receipt is not None:
        return line.receipt.credit
    return line.returned.credit_expected if line.returned is not None else None


def most_credited(line: LineEntry, row: OrderedRow) -> tuple[Decimal | None, Decimal | None]:
    """Money and quantity; None where nobody knows. What settles nothing lowers the price: at most what was billed."""
    if line.receipt is not None:
        quantity = line.receipt.damaged + line.receipt.wrong
        # Good ones beyond the order are claimed as well.
        quantity = quantity or line.receipt.good
    elif line.returned is not None:
        quantity = line.returned.quantity
    else:
        return row.billed_amount, None
    agreed = agreed_credit(line)
    price = row.price if row.asked_price is None else row.asked_price
    worth = None if price is None else to_cents(price * quantity)
    return (worth if agreed is None else agreed), quantity


def credited_before(line: LineEntry) -> tuple[Decimal, Decimal]:
    if line.receipt is None and line.returned is None:
        return NOTHING, Decimal(0)
    rows = standing_lines().filter(receipt=line.receipt, returned=line.returned)
    return _sums(rows.values_list("amount", "quantity"))


def _sums(rows: Iterable[tuple[Decimal, Decimal]]) -> tuple[Decimal, Decimal]:
    every = list(rows)
    return -sum((amount for amount, _ in every), NOTHING), -sum((quantity for _, quantity in every), Decimal(0))
