"""Which items of which jobs to put on one order: as few orders to a supplier as there can be, none too late.

Every item may be ordered from the day it is safe until its order-by day. Days that lie in many of these stretches at
once serve many items with one order. Among the ways with fewest orders the one that costs least is taken: freight is
charged for an order that does not reach the supplier's sum, and an order below the least one is filled up to it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from catalog.core.ground.money import to_cents
from catalog.core.leads.order_terms import OrderTerms
from jobs.core.cutting.integer_program import INFINITY, IntegerProgram

MOST_ITEMS = 400
"""Items of one supplier looked at together; beyond it only the number of orders is kept least."""
SOLVER_SECONDS = 5.0


class BundlingError(ValueError):
    """Items that cannot be put on orders; the message names the item and what would be right."""


@dataclass(frozen=True)
class OrderWindow:
    """One item with the days on which it may be ordered.

    Args:
        key: stable, once in a call. earliest: the first day it is safe. latest: its order-by day; never before the
            earliest. amount: what it costs, zero or more, None where no price is known.

    Raises:
        BundlingError: the days are out of order, or the amount is no amount.

    Source: trade rules on dates.

    >>> OrderWindow("J-1/BASE", date(2027, 3, 1), date(2027, 3, 12)).latest
    datetime.date(2027, 3, 12)
    """

    key: str
    earliest: date
    latest: date
    amount: Decimal | None = None

    def __post_init__(self) -> None:
        if self.latest < self.earliest:
            raise BundlingError(
                f"{self.key}: it must be ordered by {self.latest.isoformat()}, before it is safe on "
                f"{self.earliest.isoformat()}; decide which of the two gives way"
            )
        if self.amount is not None and not (self.amount.is_finite() and self.amount >= 0):
            raise BundlingError(f"{self.key}: an amount is zero or more, not {self.amount}")


@dataclass(frozen=True)
class Bundle:
    """One order: its day, never after the order-by day of any of its items, and what it costs besides.

    keys: of its items, by their order-by days. goods: what they cost, None while a price is missing. freight, top_up:
    what is charged for carriage, and what is missing to the least order; None where terms or prices are not known.
    """

    day: date
    keys: tuple[str, ...]
    goods: Decimal | None
    freight: Decimal | None
    top_up: Decimal | None


@dataclass(frozen=True)
class BundlePlan:
    """The orders, by day. notes: what was not known when they were put together, as sentences.

    single_orders: how many orders it would take with one for each item.
    """

    bundles: tuple[Bundle, ...]
    single_orders: int
    notes: tuple[str, ...] = ()

    @property
    def saved_orders(self) -> int:
        return self.single_orders - len(self.bundles)


def window_of(key: str, safe_from: date, order_by: date, today: date, amount: Decimal | None = None) -> OrderWindow:
    """The days on which an item may still be ordered.

    Args:
        key: of the item. safe_from: the first day it is safe. order_by: its order-by day. today: the firm's day.
            amount: what it costs, None where not known.

    Returns:
        From the day it is safe, today at the earliest, to its order-by day. What is late is ordered at once, today or
        as soon as it is safe: waiting for others would only make it later.

    Raises:
        BundlingError: the amount is no amount.

    Source: own rule.

    >>> late = window_of("J-1/BASE", date(2027, 3, 1), date(2027, 3, 12), date(2027, 3, 15))
    >>> late.earliest == late.latest == date(2027, 3, 15)
    True
    """
    earliest = max(safe_from, today)
    return OrderWindow(key, earliest, max(earliest, order_by), amount)


def fewest_order_days(windows: Iterable[OrderWindow]) -> tuple[date, ...]:
    """The fewest days on which everything can be ordered.

    Args:
        windows: any number.

    Returns:
        Days in order, each the order-by day of some item: each window holds at least one of them, and no fewer days
        would do.

    Raises:
        Nothing.

    Source: covering stretches by points: taking each time the end of the stretch that ends first is optimal, a
        textbook result (Kleinberg and Tardos, Algorithm Design, chapter 4, by the argument of interval scheduling).

    >>> from datetime import timedelta
    >>> first = date(2027, 3, 1)
    >>> day = lambda number: first + timedelta(days=number)
    >>> found = fewest_order_days(OrderWindow(str(a), day(a), day(b)) for a, b in ((0, 10), (3, 12), (11, 15)))
    >>> [(one - first).days for one in found]
    [10, 15]
    """
    days: list[date] = []
    for window in sorted(windows, key=lambda one: (one.latest, one.earliest)):
        if not days or days[-1] < window.earliest:
            days.append(window.latest)
    return tuple(days)


def bundle(windows: Sequence[OrderWindow], terms: OrderTerms | None) -> BundlePlan:
    """Put the items of one supplier on as few orders as can be.

    Args:
        windows: each key once. terms: of the supplier, None where nothing was said.

    Returns:
        The fewest orders; of all ways with that many the one with the least freight and filling up, found exactly. An
        order is placed on the earliest order-by day of its items. Where a price is missing or no terms are known that
        is said, and each item goes on the first order that serves it.

    Raises:
        BundlingError: a key stands twice.

    Source: own rule; a fixed charge with a sum from which it is waived is no case for a dynamic programme and is
        given to the solver as a whole-number programme.

    >>> from datetime import timedelta
    >>> first = date(2027, 3, 1)
    >>> day = lambda number: first + timedelta(days=number)
    >>> plan = bundle([OrderWindow(str(a), day(a), day(b)) for a, b in ((0, 10), (3, 12), (11, 15))], None)
    >>> [one.keys for one in plan.bundles], plan.saved_orders
    ([('0', '3'), ('11',)], 1)
    """
    keys = [one.key for one in windows]
    twice = sorted({key for key in keys if keys.count(key) > 1})
    if twice:
        raise BundlingError(f"{', '.join(twice)}: an item is put on one order only; name it once")
    days = fewest_order_days(windows)
    notes = list(_notes(windows, terms))
    chosen: Mapping[str, date] = {
        one.key: next(day for day in days if one.earliest <= day <= one.latest) for one in windows
    }
    if terms is not None and not notes and len(days) > 1 and _has_a_choice(terms):
        if len(windows) <= MOST_ITEMS:
            chosen = _cheapest(windows, terms, len(days)) or chosen
        else:
            notes.append(f"More than {MOST_ITEMS} items: only the number of orders is kept least, not the freight.")
    return BundlePlan(_bundles(windows, chosen, terms), len(windows), tuple(notes))


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


def _notes(windows: Sequence[OrderWindow], terms: OrderTerms | None) -> Iterable[str]:
    unpriced = [one.key for one in windows if one.amount is None]
    if unpriced:
        yield f"No price is known for {', '.join(unpriced)}, so least order and freight cannot be judged."
    if terms is None:
        yield "The supplier's least order and freight are not stated: enter its order terms."


def _has_a_choice(terms: OrderTerms) -> bool:
    """Whether it can matter what goes with what."""
    return bool(terms.minimum_order) or bool(terms.freight and terms.freight_free_from is not None)


def _bundles(
    windows: Sequence[OrderWindow], chosen: Mapping[str, date], terms: OrderTerms | None
) -> tuple[Bundle, ...]:
    found = []
    for day in sorted(set(chosen.values())):
        items = sorted((one for one in windows if chosen[one.key] == day), key=lambda one: (one.latest, one.key))
        amounts = [one.amount for one in items if one.amount is not None]
        goods = to_cents(sum(amounts, Decimal(0))) if len(amounts) == len(items) else None
        # The day chosen may lie before the first order-by day of those that were put on it.
        found.append(Bundle(items[0].latest, tuple(one.key for one in items), goods, *charges(goods, terms)))
    return tuple(sorted(found, key=lambda one: (one.day, one.keys)))


def _cheapest(windows: Sequence[OrderWindow], terms: OrderTerms, orders: int) -> Mapping[str, date] | None:
    """On which of the order-by days each item goes, in this many orders, with the least freight and filling up."""
    days = sorted({one.latest for one in windows})
    least = float(to_cents(terms.minimum_order or Decimal(0)))
    freight = float(to_cents(terms.freight or Decimal(0)))
    free_from = None if terms.freight_free_from is None or not freight else float(to_cents(terms.freight_free_from))
    programme = IntegerProgram()
    placed = {day: programme.add_column(freight, [], upper=1.0, integer=True) for day in days}
    programme.add_row(float(orders), float(orders), [(column, 1.0) for column in placed.values()])
    goods: dict[date, list[tuple[int, float]]] = {day: [] for day in days}
    chosen: dict[str, list[tuple[date, int]]] = {}
    for one in windows:
        columns = []
        for day in days:
            if one.earliest <= day <= one.latest:
                column = programme.add_column(0.0, [], upper=1.0, integer=True)
                programme.add_row(-INFINITY, 0.0, [(column, 1.0), (placed[day], -1.0)])
                goods[day].append((column, float(one.amount or 0)))
                columns.append((day, column))
        programme.add_row(1.0, 1.0, [(column, 1.0) for _, column in columns])
        chosen[one.key] = columns
    for day in days:
        filled = programme.add_column(1.0, [], upper=least) if least else None
        if filled is not None:
            programme.add_row(0.0, INFINITY, [*goods[day], (filled, 1.0), (placed[day], -least)])
        if free_from is not None:
            free = programme.add_column(-freight, [], upper=1.0, integer=True)
            programme.add_row(-INFINITY, 0.0, [(free, 1.0), (placed[day], -1.0)])
            programme.add_row(0.0, INFINITY, [*goods[day], (free, -free_from)])
    answer = programme.solve(limit_s=SOLVER_SECONDS)
    if not answer.values:
        return None
    return {key: next(day for day, column in columns if answer.values[column] > 0.5) for key, columns in chosen.items()}
