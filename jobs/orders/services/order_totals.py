"""What an order comes to: goods, freight by the supplier's terms, rush."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from catalog.core.leads.order_terms import OrderTerms
from jobs.core.ordering.order_sums import charges
from jobs.core.ordering.order_timing import rush_extra
from jobs.orders.models import Order, OrderLine


@dataclass(frozen=True)
class OrderSums:
    """goods, freight, top_up: of the lines that have a price; None where none has one or the supplier's terms are
    missing. unpriced: what the others are called. rush_fee: 0 where nothing is rushed, None where a price or the terms
    are missing.
    """

    goods: Decimal | None
    unpriced: tuple[str, ...]
    freight: Decimal | None
    top_up: Decimal | None
    rush_fee: Decimal | None

    @property
    def sure_freight(self) -> Decimal | None:
        """None as well where a line without a price could still make it free."""
        return self.freight if not self.unpriced or self.freight == 0 else None

    @property
    def total(self) -> Decimal | None:
        return None if self.unpriced else _sum([self.goods, self.sure_freight, self.rush_fee])


def sums_of(order: Order, lines: Sequence[OrderLine], terms: OrderTerms | None) -> OrderSums:
    """Of a placed order as it was placed; of a draft as it would be."""
    priced = [line.amount for line in lines if line.amount is not None]
    goods = _sum(priced) if priced else None
    unpriced = tuple(f"{line.material.name} of {line.job.key}" for line in lines if line.amount is None)
    rush = _sum([rush_extra(terms, line.amount) for line in lines if line.rush])
    freight, top_up = charges(goods, terms)
    if order.placed_on is None:
        return OrderSums(goods, unpriced, freight, top_up, rush)
    return OrderSums(
        goods, unpriced, order.freight, top_up, order.rush_fee if any(line.rush for line in lines) else rush
    )


def _sum(amounts: Sequence[Decimal | None]) -> Decimal | None:
    known = [amount for amount in amounts if amount is not None]
    return sum(known, Decimal("0.00")) if len(known) == len(amounts) else None
