"""What one order costs beside its goods, what is bought on it before it must be, and what joining saves."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import groupby

from catalog.core.ground.money import to_cents
from catalog.core.ground.workdays import WorkCalendar
from catalog.core.leads.order_terms import OrderTerms
from jobs.core.ordering.buying_window import OrderWindow


@dataclass(frozen=True)
class Bundle:
    """One order: its day, never after the order-by day of any of its items, and what it costs besides.

    keys: of its items, by their order-by days. goods: what those with a price cost, None where none has one. unpriced:
    the names of the others, which stand in no sum. freight, top_up: what is charged for carriage, and what is missing
    to the least order, for the goods with a price; None where terms or every price are missing. days_early: of each
    item, the firm's working days from the order to its own order-by day. early_goods: what those cost that are bought
    before their own day. saved_freight, saved_top_up: against
    an order for each order-by day.
    """

    day: date
    keys: tuple[str, ...]
    goods: Decimal | None
    unpriced: tuple[str, ...]
    freight: Decimal | None
    top_up: Decimal | None
    days_early: tuple[int, ...]
    early_goods: Decimal
    saved_freight: Decimal | None
    saved_top_up: Decimal | None

    @property
    def early_workdays(self) -> int:
        """Of the item bought the longest before its own day."""
        return max(self.days_early)


def bundle_of(windows: Sequence[OrderWindow], terms: OrderTerms | None, firm: WorkCalendar) -> Bundle:
    """One order of exactly these items, on the first of their order-by days.

    Args:
        windows: one or more, each safe by that day. terms: of the supplier, None where nothing was said. firm: the
            firm's calendar, by which days are counted.

    Returns:
        The order with its sums. An item without a price is named and counts in none.

    Raises:
        ValueError: no items.

    Source: own rule.

    >>> first, later = date(2027, 3, 1), date(2027, 3, 12)
    >>> both = [OrderWindow("a", first, first, Decimal(100)), OrderWindow("b", first, later, Decimal(60))]
    >>> said = OrderTerms(freight=Decimal(40), source="price list", stated_on=first)
    >>> found = bundle_of(both, said, WorkCalendar("firm"))
    >>> found.freight, found.saved_freight, found.early_goods, found.early_workdays
    (Decimal('40.00'), Decimal('40.00'), Decimal('60.00'), 9)
    """
    items = sorted(windows, key=lambda window: (window.latest, window.key))
    if not items:
        raise ValueError("an order is of one item or more")
    day, goods = items[0].latest, _goods(items)
    freight, top_up = charges(goods, terms)
    apart = [charges(_goods(list(alike)), terms) for _, alike in groupby(items, key=lambda window: window.latest)]
    early = [item for item in items if item.latest > day and item.amount is not None]
    return Bundle(
        day=day,
        keys=tuple(item.key for item in items),
        goods=goods,
        unpriced=tuple(item.called for item in items if item.amount is None),
        freight=freight,
        top_up=top_up,
        days_early=tuple(firm.workdays_between(day, item.latest) for item in items),
        early_goods=_goods(early) or Decimal("0.00"),
        saved_freight=_saved(freight, (amount for amount, _ in apart)),
        saved_top_up=_saved(top_up, (amount for _, amount in apart)),
    )


def _goods(items: Iterable[OrderWindow]) -> Decimal | None:
    amounts = [item.amount for item in items if item.amount is not None]
    return to_cents(sum(amounts, Decimal(0))) if amounts else None


def _saved(together: Decimal | None, apart: Iterable[Decimal | None]) -> Decimal | None:
    """Days of which nothing has a price count for nothing: what they would cost is not known."""
    known = [amount for amount in apart if amount is not None]
    return None if together is None else sum(known, Decimal(0)) - together


def charges(goods: Decimal | None, terms: OrderTerms | None) -> tuple[Decimal | None, Decimal | None]:
    """What one order costs besides its goods.

    Args:
        goods: what they cost, zero or more; None while a price is missing. terms: of the supplier, None where nothing
            was said.

    Returns:
        Freight and what is missing to the least order; each None where it cannot be said. Freight is free where the
        goods themselves reach the sum from which it is.

    Raises:
        MoneyError: an amount that is none.

    Source: own rule.

    >>> from decimal import Decimal
    >>> said = OrderTerms(Decimal(150), Decimal(40), Decimal(500), source="price list", stated_on=date(2027, 1, 4))
    >>> charges(Decimal(120), said), charges(Decimal(500), said)
    ((Decimal('40.00'), Decimal('30.00')), (Decimal('0.00'), Decimal('0.00')))
    """
    if terms is None or goods is None:
        return None, None
    freight = terms.freight
    top_up = None if terms.minimum_order is None else max(Decimal(0), terms.minimum_order - goods)
    if freight is not None and terms.freight_free_from is not None and goods >= terms.freight_free_from:
        freight = Decimal(0)
    return (None if freight is None else to_cents(freight)), (None if top_up is None else to_cents(top_up))
