"""What was ordered, received and billed of each order line: goods here without a bill, and what is still to come."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from catalog.core.ground.money import to_cents

NOTHING = Decimal("0.00")


@dataclass(frozen=True)
class OrderedRow:
    """One line of a placed order, of one job.

    row: id of the order line. order: its number. item: code of the material. category: of its cost. ordered, received,
    billed: in the unit of the line; received is what came good or was kept, less what of it went back; billed is less
    what credits took back. billed_amount: net, in whole cents. price: of one, None where none is known. price_source:
    bill, confirmation, order or no price. has_ended: no more is to come, since all came, good or bad, or somebody ended
    it. replaces: it stands for what came bad. asked_price: of one as confirmed or ordered, at which goods still to come
    stand; None where neither says one.
    """

    row: str
    order: str
    item: str
    what: str
    category: str
    ordered: Decimal
    received: Decimal
    billed: Decimal
    billed_amount: Decimal
    price: Decimal | None
    price_source: str
    has_ended: bool
    replaces: bool
    asked_price: Decimal | None = None

    @property
    def owed(self) -> Decimal:
        """How much of it is here and not billed."""
        return max(Decimal(0), self.received - self.billed)

    @property
    def to_come(self) -> Decimal:
        """How much of it is neither here nor billed."""
        return Decimal(0) if self.has_ended else max(Decimal(0), self.ordered - max(self.received, self.billed))


@dataclass(frozen=True)
class OrderedFreight:
    """One job's share of the freight and rush fee of an order.

    has_come: whether anything of the order came. is_called_off: no freight is to come any more. is_settled: all goods
    of the order are billed, and some freight: no more of it is waited for. replaces: everything the job has on the
    order stands for what came bad.
    """

    order: str
    amount: Decimal
    has_come: bool
    billed: Decimal
    is_called_off: bool = False
    is_settled: bool = False
    replaces: bool = False

    @property
    def left(self) -> Decimal:
        return NOTHING if self.is_settled else max(NOTHING, self.amount - self.billed)


def received_not_billed(row: OrderedRow) -> Decimal | None:
    """Money for goods that are here without a bill.

    row: a line. Returns whole cents, zero or more; None where goods are owed and no price is known. Raises nothing.
    Source: own rule; the check is 24 boards at 19.10.

    >>> boards = OrderedRow(
    ...     "1", "P-1", "GB", "Board", "materials", Decimal(40), Decimal(24), Decimal(0), Decimal(0),
    ...     Decimal("19.10"), "order", False, False,
    ... )
    >>> received_not_billed(boards), committed(boards)
    (Decimal('458.40'), Decimal('305.60'))
    """
    return _money(row.owed, row.price)


def committed(row: OrderedRow) -> Decimal | None:
    """Money for what is ordered and still to come.

    row: a line. Returns whole cents, zero or more, zero once it has ended; None where some is to come and no price is
    known. Raises nothing. Source: own rule.
    """
    return _money(row.to_come, row.price if row.asked_price is None else row.asked_price)


def freight_received(freight: OrderedFreight) -> Decimal:
    """Freight of goods that came, not billed yet, in whole cents.

    freight: of one order. Raises nothing. Source: own rule.

    >>> freight_received(OrderedFreight("P-3", Decimal("35.00"), False, Decimal("0.00")))
    Decimal('0.00')
    """
    return freight.left if freight.has_come else NOTHING


def freight_committed(freight: OrderedFreight) -> Decimal:
    """Freight still to come, in whole cents.

    freight: of one order. Raises nothing. Source: own rule.

    >>> freight_committed(OrderedFreight("P-3", Decimal("35.00"), False, Decimal("0.00")))
    Decimal('35.00')
    """
    return NOTHING if freight.has_come or freight.is_called_off else freight.left


def line_price(
    billed: Decimal, billed_amount: Decimal, confirmed: Decimal | None, ordered: Decimal | None
) -> tuple[Decimal | None, str]:
    """What one of a line costs: as billed, else as the accepted confirmation says, else as ordered.

    Args:
        billed: how much is billed. billed_amount: in whole cents. confirmed, ordered: price of one, None where none
            is known.

    Returns:
        The price and where it is from: bill, confirmation, order, or no price.

    Raises:
        Nothing.

    Source: own rule.

    >>> line_price(Decimal(9), Decimal("1962.00"), None, Decimal("212.00"))
    (Decimal('218.00'), 'bill')
    """
    if billed > 0 and billed_amount >= 0:
        return billed_amount / billed, "bill"
    for price, source in ((confirmed, "confirmation"), (ordered, "order")):
        if price is not None:
            return price, source
    return None, "no price"


def _money(quantity: Decimal, price: Decimal | None) -> Decimal | None:
    if not quantity:
        return NOTHING
    return None if price is None else to_cents(quantity * price)
