"""What of a bill differs from the order, its confirmation and what came: a sentence each, for somebody to accept."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from catalog.core.ground.money import to_cents
from catalog.core.ground.plain_text import money, plain
from jobs.core.costs.received_goods import OrderedRow

MAX_WHAT = 200


def line_name(row: OrderedRow) -> str:
    """An order line as sentences name it.

    row: the line. Returns what it is, cut where it is long, and its order. Raises nothing. Source: own rule.
    """
    return f"{row.what[:MAX_WHAT]}, {row.order}"


@dataclass(frozen=True)
class Billed:
    """What one bill says of an order line: how much of it, and money in whole cents; both over zero."""

    quantity: Decimal
    amount: Decimal


def line_differences(row: OrderedRow, billed: Billed, *, is_called_off: bool = False) -> Iterator[str]:
    """Set a line of a bill beside its order line as it stood before the bill.

    Args:
        row: the order line. billed: what the bill says of it. is_called_off: whether its order was called off.

    Returns:
        A sentence for each: order called off, no price or another one, more than ordered, more than came.

    Raises:
        Nothing.

    Source: own rule: nothing is adjusted silently.

    >>> boards = OrderedRow(
    ...     "1", "P-1", "GB", "Board", "materials", Decimal(40), Decimal(40), Decimal(0), Decimal(0),
    ...     Decimal("19.10"), "order", False, False, Decimal("19.10"),
    ... )
    >>> list(line_differences(boards, Billed(Decimal(24), Decimal("464.40"))))
    ['Board, P-1: 464.40 for 24, 458.40 agreed.']
    """
    name = line_name(row)
    if is_called_off:
        yield f"{name}: the order is called off."
    yield from _price(name, row, billed)
    together = row.billed + billed.quantity
    if together > row.ordered:
        yield f"{name}: {plain(together)} billed in all, {plain(row.ordered)} ordered."
    elif together > row.received:
        yield f"{name}: {plain(together)} billed in all, {plain(row.received)} came good."


def _price(name: str, row: OrderedRow, billed: Billed) -> Iterator[str]:
    if row.asked_price is None:
        yield f"{name}: {money(billed.amount)} for {plain(billed.quantity)}; no price was agreed."
        return
    claimed = to_cents(row.asked_price * billed.quantity)
    if claimed != billed.amount:
        yield f"{name}: {money(billed.amount)} for {plain(billed.quantity)}, {money(claimed)} agreed."


def freight_difference(order: str, agreed: Decimal, before: Decimal, now: Decimal) -> str | None:
    """Freight of an order beside what bills say of it.

    Args:
        order: its number. agreed: freight and rush fee of the order. before: billed of it. now: on this bill. All in
            whole cents.

    Returns:
        A sentence where the bills come to something else than was agreed, None where they do not.

    Raises:
        Nothing.

    Source: own rule.

    >>> freight_difference("P-2", Decimal("85.00"), Decimal("0.00"), Decimal("90.00"))
    'Freight, P-2: 90.00 billed in all, 85.00 agreed.'
    """
    together = before + now
    return None if together == agreed else f"Freight, {order}: {money(together)} billed in all, {money(agreed)} agreed."


def credit_difference(name: str, agreed: Decimal, before: Decimal, now: Decimal) -> str | None:
    """A credit beside what was agreed for what came bad or went back.

    Args:
        name: what it settles. agreed, before, now: what it should be, what came in of it before, and on this credit, in
            whole cents.

    Returns:
        A sentence where less comes in than was agreed, else None. More is refused elsewhere.

    Raises:
        Nothing.

    Source: own rule.

    >>> credit_difference("Base", Decimal("40.00"), Decimal("0.00"), Decimal("25.00"))
    'Base: 25.00 credited in all, 40.00 agreed.'
    """
    together = before + now
    return None if together >= agreed else f"{name}: {money(together)} credited in all, {money(agreed)} agreed."
