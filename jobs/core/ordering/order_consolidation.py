"""Which items of which jobs to put on one order: as few orders to a supplier as there can be, none too late.

Every item may be ordered from the day it is safe until its order-by day. Days that lie in many of these stretches at
once serve many items with one order, but nobody buys months ahead: an order takes only what is to be ordered within the
buying window from its day. Among the ways with fewest orders the one that costs least is taken: freight is
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
from jobs.core.ordering.buying_window import BundlingError, BuyingWindow, OrderWindow
from jobs.core.ordering.order_sums import Bundle, bundle_of

MAX_ITEMS = 400
"""Items of one supplier looked at together; beyond it only the number of orders is kept least."""
SOLVER_SECONDS = 5.0


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


def fewest_order_days(windows: Iterable[OrderWindow], buying: BuyingWindow) -> tuple[date, ...]:
    """The fewest days on which everything can be ordered.

    Args:
        windows: any number. buying: how far ahead of its own day an item may be bought.

    Returns:
        Days in order, each the order-by day of some item: each window holds at least one of them from which it is not
        bought too far ahead, and no fewer days would do.

    Raises:
        CalendarError: the firm never works again.

    Source: covering stretches by points: taking each time the end of the stretch that ends first is optimal, a
        textbook result (Kleinberg and Tardos, Algorithm Design, chapter 4, by the argument of interval scheduling).
        With the window it stays so: the item that ends first is on an order of its own day, so what that order can
        take does not depend on the others.

    >>> from datetime import timedelta
    >>> from catalog.core.ground.workdays import WorkCalendar
    >>> first = date(2027, 3, 1)
    >>> day = lambda number: first + timedelta(days=number)
    >>> three = [OrderWindow(str(a), day(a), day(b)) for a, b in ((0, 10), (3, 12), (11, 15))]
    >>> found = fewest_order_days(three, BuyingWindow(WorkCalendar("firm"), 15))
    >>> [(one - first).days for one in found]
    [10, 15]
    """
    days: list[date] = []
    for window in sorted(windows, key=lambda entry: (entry.latest, entry.earliest)):
        if not days or not _serves(days[-1], window, buying):
            days.append(window.latest)
    return tuple(days)


def _serves(day: date, window: OrderWindow, buying: BuyingWindow) -> bool:
    return window.earliest <= day <= window.latest and buying.reaches(day, window.latest)


def bundle(windows: Sequence[OrderWindow], terms: OrderTerms | None, buying: BuyingWindow) -> BundlePlan:
    """Put the items of one supplier on as few orders as can be.

    Args:
        windows: each key once. terms: of the supplier, None where nothing was said. buying: how far ahead of its own
            day an item may be bought.

    Returns:
        The fewest orders; of all ways with that many the one with the least freight and filling up, found exactly. An
        order is placed on the earliest order-by day of its items. An item without a price counts for nothing. Where no
        terms are known each item goes on the last order that serves it, so that no money is out before it must be.

    Raises:
        BundlingError: a key stands twice. CalendarError: the firm never works again.

    Source: own rule; a fixed charge with a sum from which it is waived is no case for a dynamic programme and is
        given to the solver as a whole-number programme.

    >>> from datetime import timedelta
    >>> from catalog.core.ground.workdays import WorkCalendar
    >>> first = date(2027, 3, 1)
    >>> day = lambda number: first + timedelta(days=number)
    >>> three = [OrderWindow(str(a), day(a), day(b)) for a, b in ((0, 10), (3, 12), (11, 15))]
    >>> plan = bundle(three, None, BuyingWindow(WorkCalendar("firm"), 15))
    >>> [one.keys for one in plan.bundles], plan.saved_orders
    ([('0', '3'), ('11',)], 1)
    """
    keys = [window.key for window in windows]
    twice = sorted({key for key in keys if keys.count(key) > 1})
    if twice:
        raise BundlingError(f"{', '.join(twice)}: an item is put on one order only; name it once")
    days = fewest_order_days(windows, buying)
    notes = list(_notes(windows, terms, buying))
    chosen: Mapping[str, date] = {
        window.key: next(day for day in reversed(days) if _serves(day, window, buying)) for window in windows
    }
    if terms is not None and len(days) > 1 and _has_a_choice(terms):
        if len(windows) <= MAX_ITEMS:
            chosen = _cheapest(windows, terms, buying, len(days)) or chosen
        else:
            notes.append(f"More than {MAX_ITEMS} items: the number of orders is least, the freight may not be.")
    return BundlePlan(_bundles(windows, chosen, terms, buying), len(windows), tuple(notes))


def _notes(windows: Sequence[OrderWindow], terms: OrderTerms | None, buying: BuyingWindow) -> Iterable[str]:
    unpriced = [window.called for window in windows if window.amount is None]
    if unpriced:
        yield f"No price is known for {', '.join(unpriced)}; no sum counts {'it' if len(unpriced) == 1 else 'them'}."
    if terms is None:
        yield "The supplier's least order and freight are not stated: enter its order terms."
    if buying.workdays is None:
        yield "How many working days ahead goods are bought together is not stated: state it in the firm's standards."


def _has_a_choice(terms: OrderTerms) -> bool:
    """Whether it can matter what goes with what."""
    return bool(terms.minimum_order) or bool(terms.freight and terms.freight_free_from is not None)


def _bundles(
    windows: Sequence[OrderWindow], chosen: Mapping[str, date], terms: OrderTerms | None, buying: BuyingWindow
) -> tuple[Bundle, ...]:
    # The day chosen may lie before the first order-by day of those that were put on it.
    orders = ([window for window in windows if chosen[window.key] == day] for day in set(chosen.values()))
    bundles = (bundle_of(items, terms, buying.firm) for items in orders)
    return tuple(sorted(bundles, key=lambda entry: (entry.day, entry.keys)))


def _cheapest(
    windows: Sequence[OrderWindow], terms: OrderTerms, buying: BuyingWindow, orders: int
) -> Mapping[str, date] | None:
    """On which of the order-by days each item goes, in this many orders, with the least freight and filling up."""
    days = sorted({window.latest for window in windows})
    least = float(to_cents(terms.minimum_order or Decimal(0)))
    freight = float(to_cents(terms.freight or Decimal(0)))
    free_from = None if terms.freight_free_from is None or not freight else float(to_cents(terms.freight_free_from))
    programme = IntegerProgram()
    placed = {day: programme.add_column(freight, [], upper=1.0, integer=True) for day in days}
    programme.add_row(float(orders), float(orders), [(column, 1.0) for column in placed.values()])
    goods: dict[date, list[tuple[int, float]]] = {day: [] for day in days}
    chosen: dict[str, list[tuple[date, int]]] = {}
    for entry in windows:
        columns = []
        for day in days:
            if _serves(day, entry, buying):
                column = programme.add_column(0.0, [], upper=1.0, integer=True)
                programme.add_row(-INFINITY, 0.0, [(column, 1.0), (placed[day], -1.0)])
                goods[day].append((column, float(entry.amount or 0)))
                columns.append((day, column))
        programme.add_row(1.0, 1.0, [(column, 1.0) for _, column in columns])
        chosen[entry.key] = columns
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
