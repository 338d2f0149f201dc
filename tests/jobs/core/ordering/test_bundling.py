"""Bundling of orders. (0, 10), (3, 12), (11, 15) give days 10 and 15 (methods, bundling orders); every other answer is
held against trying all ways."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from itertools import combinations, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.core.leads.order_terms import OrderTerms
from jobs.core.ordering.order_consolidation import (
    BundlingError,
    OrderWindow,
    bundle,
    charges,
    fewest_order_days,
    window_of,
)

FIRST = date(2027, 3, 1)


def day(number: int) -> date:
    return FIRST + timedelta(days=number)


def window(key: str, earliest: int, latest: int, amount: int | None = 100) -> OrderWindow:
    return OrderWindow(key, day(earliest), day(latest), None if amount is None else Decimal(amount))


def terms(minimum: int | None = None, freight: int | None = None, free_from: int | None = None) -> OrderTerms:
    amounts = [None if one is None else Decimal(one) for one in (minimum, freight, free_from)]
    return OrderTerms(*amounts, source="price list", stated_on=FIRST)  # type: ignore[arg-type]


def windows_of(rows: list[tuple[int, int, int]]) -> list[OrderWindow]:
    return [window(str(n), start, start + length, amount) for n, (start, length, amount) in enumerate(rows)]


ROWS = st.lists(st.tuples(st.integers(0, 8), st.integers(0, 5), st.sampled_from([20, 60, 90, 130])), max_size=5)


def test_three_stretches_take_two_orders_on_days_10_and_15() -> None:
    found = fewest_order_days([window("a", 0, 10), window("b", 3, 12), window("c", 11, 15)])
    assert found == (day(10), day(15))


@given(ROWS)
def test_no_fewer_days_would_serve_every_item(rows: list[tuple[int, int, int]]) -> None:
    windows = windows_of(rows)
    found = fewest_order_days(windows)
    days = sorted({one.latest for one in windows})
    served = [
        count
        for count in range(len(days) + 1)
        if any(
            all(any(one.earliest <= pick <= one.latest for pick in picks) for one in windows)
            for picks in combinations(days, count)
        )
    ]
    assert len(found) == served[0]


@settings(max_examples=60, deadline=None)
@given(ROWS, st.sampled_from([None, 100, 200]), st.sampled_from([None, 150, 220]))
def test_freight_and_filling_up_are_the_least_of_all_ways_with_fewest_orders(
    rows: list[tuple[int, int, int]], minimum: int | None, free_from: int | None
) -> None:
    windows, said = windows_of(rows), terms(minimum, 35, free_from)
    plan = bundle(windows, said)
    assert sorted(key for one in plan.bundles for key in one.keys) == sorted(one.key for one in windows)
    for one in plan.bundles:
        of_it = [window for window in windows if window.key in one.keys]
        assert max(window.earliest for window in of_it) <= one.day == min(window.latest for window in of_it)
    assert len(plan.bundles) == len(fewest_order_days(windows))
    assert sum(_besides([w.amount for w in windows if w.key in one.keys], said) for one in plan.bundles) == _least(
        windows, said, len(plan.bundles)
    )


def _besides(amounts: list[Decimal | None], said: OrderTerms) -> Decimal:
    freight, top_up = charges(sum((one or Decimal(0) for one in amounts), Decimal(0)), said)
    return (freight or Decimal(0)) + (top_up or Decimal(0))


def _least(windows: list[OrderWindow], said: OrderTerms, orders: int) -> Decimal:
    days = sorted({one.latest for one in windows})
    costs = []
    for picks in product(*[[d for d in days if one.earliest <= d <= one.latest] for one in windows]):
        if len(set(picks)) != orders:
            continue
        baskets = [[w.amount for w, pick in zip(windows, picks, strict=True) if pick == d] for d in set(picks)]
        costs.append(sum(_besides(basket, said) for basket in baskets))
    return Decimal(min(costs, default=0))


def test_an_item_in_the_middle_goes_where_it_makes_freight_free() -> None:
    windows = [window("early", 0, 5, 120), window("either", 4, 9, 100), window("late", 6, 9, 150)]
    plan = bundle(windows, terms(freight=40, free_from=230))
    assert [(one.keys, one.freight) for one in plan.bundles] == [
        (("early",), Decimal("40.00")),
        (("either", "late"), Decimal("0.00")),
    ]


def test_what_is_late_is_ordered_at_once_and_not_kept_for_others() -> None:
    late = window_of("late", day(0), day(3), day(5))
    plan = bundle([late, window("other", 4, 20)], None)
    assert [(one.day, one.keys) for one in plan.bundles] == [(day(5), ("late", "other"))]


def test_a_missing_price_is_said_and_no_freight_is_made_up() -> None:
    plan = bundle([window("a", 0, 5, None), window("b", 6, 9)], terms(100, 40, 200))
    assert any("No price is known for a" in one for one in plan.notes)
    assert (plan.bundles[0].goods, plan.bundles[0].freight, plan.bundles[0].top_up) == (None, None, None)


def test_terms_nobody_stated_are_named() -> None:
    assert any("not stated" in one for one in bundle([window("a", 0, 5)], None).notes)


def test_an_item_named_twice_or_due_before_it_is_safe_is_refused() -> None:
    with pytest.raises(BundlingError, match="name it once"):
        bundle([window("a", 0, 5), window("a", 0, 5)], None)
    with pytest.raises(BundlingError, match="before it is safe"):
        window("a", 6, 5)
