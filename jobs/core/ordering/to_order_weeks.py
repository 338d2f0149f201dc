"""What is to be ordered, laid out by how soon: what is late, week by week, and beyond three months by month."""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import Literal

NEAR_WORKDAYS = 5
WEEKS_LAID_OUT = 13


@dataclass(frozen=True)
class OpenItem:
    """One item still to be ordered.

    key: of the item. supplier: code, empty while there is none. order_by: its last day. in_hand: the firm's working
    days to it, negative when late. is_custom: made or had to order, not from the shelf. amount: money, None while a
    price is missing.
    """

    key: str
    supplier: str
    order_by: date
    in_hand: int
    is_custom: bool
    amount: Decimal | None = None


@dataclass(frozen=True)
class OrderRow:
    """Items shown as one row, by their days. amount: money, None while the price of any is missing."""

    items: tuple[OpenItem, ...]

    @property
    def first(self) -> OpenItem:
        return self.items[0]

    @property
    def is_near(self) -> bool:
        return self.first.in_hand <= NEAR_WORKDAYS

    @property
    def amount(self) -> Decimal | None:
        return total_of(self.items)


@dataclass(frozen=True)
class OrderBlock:
    """kind: "now" for what is late or due today, else the week or the month that begins on `day`."""

    kind: Literal["now", "week", "month"]
    day: date
    rows: tuple[OrderRow, ...]

    @property
    def items(self) -> tuple[OpenItem, ...]:
        return tuple(item for row in self.rows for item in row.items)


def total_of(items: Iterable[OpenItem]) -> Decimal | None:
    amounts = [item.amount for item in items]
    return None if None in amounts else sum((amount for amount in amounts if amount is not None), Decimal(0))


def order_blocks(items: Iterable[OpenItem], today: date) -> tuple[OrderBlock, ...]:
    """Lay out what is to be ordered, the soonest first.

    Custom items have a row of their own. What comes from the shelf is one row a supplier and day while it is near,
    and one a supplier and week after that. Beyond thirteen weeks all of a month is one row.

    Args:
        items: to be ordered, in any order. today: the firm's day.

    Returns:
        Blocks by day, without empty ones; every item is in one of them once.

    Raises:
        Nothing of its own.

    Source: own rule.

    >>> monday = date(2026, 11, 30)
    >>> shelf = [OpenItem(key, "TOLLARD", date(2026, 12, 17), 13, False) for key in ("studs", "screws")]
    >>> base = OpenItem("base", "HENNOCK", date(2026, 12, 10), 8, True)
    >>> [(one.day.day, [len(row.items) for row in one.rows]) for one in order_blocks([*shelf, base], monday)]
    [(7, [1]), (14, [2])]
    """
    far = today + timedelta(weeks=WEEKS_LAID_OUT)
    blocks: dict[tuple[date, str], dict[Hashable, list[OpenItem]]] = {}
    for item in sorted(items, key=lambda entry: (entry.order_by, entry.key)):
        kind, day = _block(item, far)
        blocks.setdefault((day, kind), {}).setdefault(_row(item, kind), []).append(item)
    return tuple(
        OrderBlock(kind, day, tuple(OrderRow(tuple(row)) for row in rows.values()))  # type: ignore[arg-type]
        for (day, kind), rows in sorted(blocks.items())
    )


def _block(item: OpenItem, far: date) -> tuple[str, date]:
    if item.in_hand <= 0:
        return "now", date.min
    if item.order_by >= far:
        return "month", item.order_by.replace(day=1)
    return "week", item.order_by - timedelta(days=item.order_by.weekday())


def _row(item: OpenItem, kind: str) -> Hashable:
    if kind == "month":
        return ""
    if item.is_custom:
        return item.key
    return (item.supplier, item.order_by) if item.in_hand <= NEAR_WORKDAYS else (item.supplier, "")
