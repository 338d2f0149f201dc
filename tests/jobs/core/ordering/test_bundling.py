"""Bundling of orders. (0, 10), (3, 12), (11, 15) give days 10 and 15 (methods, bundling orders); every other answer is
held against trying all ways. Day 0 is a Monday, and the firm works from Monday to Friday."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.core.ground.workdays import WorkCalendar
from catalog.core.leads.order_terms import OrderTerms
from jobs.core.ordering.buying_window import BundlingError, BuyingWindow, OrderWindow, window_of
from jobs.core.ordering.order_consolidation import bundle, fewest_order_days
from jobs.core.ordering.order_sums import bundle_of, charges

FIRST = date(2027, 3, 1)
FIRM = WorkCalendar("firm")
THREE_WEEKS = BuyingWindow(FIRM, 15)


def day(number: int) -> date:
    return FIRST + timedelta(days=number)


def window(key: str, earliest: int, latest: int, amount: int | None = 100) -> OrderWindow:
    return OrderWindow(key, day(earliest), day(latest), None if amount is None else Decimal(amount))


def terms(minimum: int | None = None, freight: int | None = None, free_from: int | None = None) -> OrderTerms:
    amounts = [None if number is None else Decimal(number) for number in (minimum, freight, free_from)]
    return OrderTerms(*amounts, source="price list", stated_on=FIRST)  # type: ignore[arg-type]


def windows_of(rows: list[tuple[int, int, int]]) -> list[OrderWindow]:
    return [window(str(n), start, start + length, amount) for n, (start, length, amount) in enumerate(rows)]


ROWS = st.lists(st.tuples(st.integers(0, 8), st.integers(0, 5), st.sampled_from([20, 60, 90, 130])), max_size=5)


AHEAD = st.sampled_from([None, 0, 1, 3, 5])


def ways(items: list[OrderWindow]) -> Iterator[list[list[OrderWindow]]]:
    """Every way to put the items on orders."""
    if not items:
        yield []
        return
    first, *rest = items
    for way in ways(rest):
        yield [[first], *way]
        for place in range(len(way)):
            yield [*way[:place], [first, *way[place]], *way[place + 1 :]]


def is_right(order: list[OrderWindow], ahead: int | None) -> bool:
    """Safe and in time on its day, and nothing on it too far ahead."""
    its_day, last = min(entry.latest for entry in order), max(entry.latest for entry in order)
    return max(entry.earliest for entry in order) <= its_day and (ahead is None or last <= limit(its_day, ahead))


def limit(its_day: date, ahead: int) -> date:
    """So many working days on, counted one by one; none from a day off is the working day after it."""
    left = max(ahead, its_day.weekday() >= 5)
    while left:
        its_day += timedelta(days=1)
        left -= its_day.weekday() < 5
    return its_day


def right_ways(items: list[OrderWindow], ahead: int | None) -> list[list[list[OrderWindow]]]:
    return [way for way in ways(items) if all(is_right(order, ahead) for order in way)]


def test_three_stretches_take_two_orders_on_days_10_and_15() -> None:
    days = fewest_order_days([window("a", 0, 10), window("b", 3, 12), window("c", 11, 15)], THREE_WEEKS)
    assert days == (day(10), day(15))


@settings(max_examples=80, deadline=None)
@given(ROWS, AHEAD, st.sampled_from([None, 100, 200]), st.sampled_from([None, 150, 220]))
def test_orders_are_the_fewest_within_the_window_never_late_and_cost_the_least(
    rows: list[tuple[int, int, int]], ahead: int | None, minimum: int | None, free_from: int | None
) -> None:
    windows, term = windows_of(rows), terms(minimum, 35, free_from)
    plan = bundle(windows, term, BuyingWindow(FIRM, ahead))
    by_key = {entry.key: entry for entry in windows}
    orders = [[by_key[key] for key in entry.keys] for entry in plan.bundles]
    assert sorted(key for entry in plan.bundles for key in entry.keys) == sorted(by_key)
    assert all(is_right(order, ahead) for order in orders)
    assert [entry.day for entry in plan.bundles] == [min(entry.latest for entry in order) for order in orders]
    right = right_ways(windows, ahead)
    fewest = min(len(way) for way in right)
    assert len(plan.bundles) == fewest
    assert _cost(orders, term) == min(_cost(way, term) for way in right if len(way) == fewest)


def _cost(way: list[list[OrderWindow]], term: OrderTerms) -> Decimal:
    return sum((_besides([entry.amount for entry in order], term) for order in way), Decimal(0))


def _besides(amounts: list[Decimal | None], term: OrderTerms) -> Decimal:
    freight, top_up = charges(sum((amount or Decimal(0) for amount in amounts), Decimal(0)), term)
    return (freight or Decimal(0)) + (top_up or Decimal(0))


def test_nothing_is_joined_that_is_due_after_the_buying_window() -> None:
    # Fifteen working days from Monday the 1st end on Monday the 22nd, day 21.
    windows = [window("now", 0, 0), window("within", 0, 21), window("beyond", 0, 22), window("months on", 0, 200)]
    plan = bundle(windows, None, THREE_WEEKS)
    assert [entry.keys for entry in plan.bundles] == [("now", "within"), ("beyond",), ("months on",)]


def test_a_window_nobody_stated_is_named_and_bounds_nothing() -> None:
    plan = bundle([window("now", 0, 0), window("months on", 0, 200)], terms(freight=40), BuyingWindow(FIRM, None))
    assert len(plan.bundles) == 1 and any("bought together is not stated" in note for note in plan.notes)


def test_what_joining_ties_up_and_saves_is_told() -> None:
    # Freight of 40 twice against once; 60 short and 20 short of the least order of 100 against nothing short. 80 is
    # bought on Mon 1 March in the place of Fri 12 March, 9 working days ahead.
    result = bundle_of([window("now", 0, 0, 40), window("later", 0, 11, 80)], terms(100, 40), FIRM)
    assert (result.saved_freight, result.saved_top_up) == (Decimal("40.00"), Decimal("80.00"))
    assert (result.early_goods, result.early_workdays) == (Decimal("80.00"), 9)


def test_an_order_of_one_day_saves_nothing_and_ties_nothing_up() -> None:
    result = bundle_of([window("a", 0, 4, 40), window("b", 0, 4, 80)], terms(100, 40), FIRM)
    assert (result.saved_freight, result.saved_top_up, result.early_goods, result.early_workdays) == (0, 0, 0, 0)


def test_an_item_in_the_middle_goes_where_it_makes_freight_free() -> None:
    windows = [window("early", 0, 5, 120), window("either", 4, 9, 100), window("late", 6, 9, 150)]
    plan = bundle(windows, terms(freight=40, free_from=230), THREE_WEEKS)
    assert [(entry.keys, entry.freight) for entry in plan.bundles] == [
        (("early",), Decimal("40.00")),
        (("either", "late"), Decimal("0.00")),
    ]


def test_what_is_late_is_ordered_at_once_and_not_kept_for_others() -> None:
    late = window_of("late", day(0), day(3), day(5))
    plan = bundle([late, window("other", 4, 20)], None, THREE_WEEKS)
    assert [(entry.day, entry.keys) for entry in plan.bundles] == [(day(5), ("late", "other"))]


def test_a_missing_price_is_named_and_hides_no_judgement_of_the_others() -> None:
    unpriced = OrderWindow("11/BASE", day(0), day(5), None, "Base of J-0004")
    plan = bundle([unpriced, window("a", 0, 5, 60)], terms(100, 40, 200), THREE_WEEKS)
    assert plan.notes == ("No price is known for Base of J-0004; no sum counts it.",)
    (others,) = plan.bundles
    # 60 of goods: freight is 40, and 40 are missing to the least order of 100.
    assert (others.goods, others.freight, others.top_up, others.unpriced) == (60, 40, 40, ("Base of J-0004",))


def test_where_nothing_has_a_price_no_freight_is_made_up() -> None:
    (result,) = bundle([window("a", 0, 5, None)], terms(100, 40, 200), THREE_WEEKS).bundles
    assert (result.goods, result.freight, result.top_up, result.saved_freight) == (None, None, None, None)


def test_terms_nobody_stated_are_named() -> None:
    assert any("not stated" in note for note in bundle([window("a", 0, 5)], None, THREE_WEEKS).notes)


def test_an_item_named_twice_or_due_before_it_is_safe_is_refused() -> None:
    with pytest.raises(BundlingError, match="name it once"):
        bundle([window("a", 0, 5), window("a", 0, 5)], None, THREE_WEEKS)
    with pytest.raises(BundlingError, match="before it is safe"):
        window("a", 6, 5)
