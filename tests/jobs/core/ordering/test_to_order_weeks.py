"""The rules stand in the docstring of `order_blocks`; the days are counted here by hand on the calendar of 2026."""

from datetime import date, timedelta
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from jobs.core.ordering.to_order_weeks import OpenItem, order_blocks, total_of

MONDAY = date(2026, 11, 30)


def item(key: str, days: int, *, custom: bool = False, supplier: str = "YARD", amount: str | None = "1") -> OpenItem:
    day = MONDAY + timedelta(days=days)
    in_hand = days * 5 // 7
    return OpenItem(key, supplier, day, in_hand, custom, None if amount is None else Decimal(amount))


def keys(blocks):
    return [(block.kind, [[each.key for each in row.items] for row in block.rows]) for block in blocks]


def test_what_is_late_stands_first_and_custom_items_have_rows_of_their_own():
    blocks = order_blocks([item("base", 10, custom=True), item("cap", 10, custom=True), item("late", -3)], MONDAY)
    assert keys(blocks) == [("now", [["late"]]), ("week", [["base"], ["cap"]])]


def test_what_is_from_the_shelf_is_a_row_a_day_while_near_and_a_row_a_week_after_that():
    # Wednesday and Thursday of this week are near; Monday and Thursday two weeks on are one order of that week.
    near = [item("track", 2), item("studs", 3)]
    blocks = order_blocks([*near, item("screws", 14), item("board", 17)], MONDAY)
    assert keys(blocks) == [("week", [["track"], ["studs"]]), ("week", [["screws", "board"]])]


def test_beyond_thirteen_weeks_a_month_is_one_row():
    # Thirteen weeks from 30 Nov 2026 is 1 Mar 2027; day 92 is 2 Mar, day 95 is 5 Mar, day 130 is 9 Apr.
    blocks = order_blocks([item("a", 92), item("b", 95, custom=True), item("c", 130)], MONDAY)
    assert keys(blocks) == [("month", [["a", "b"]]), ("month", [["c"]])]
    assert [block.day for block in blocks] == [date(2027, 3, 1), date(2027, 4, 1)]


def test_a_sum_with_a_missing_price_is_no_sum():
    dear, unpriced = item("dear", 14, amount="10.50"), item("unpriced", 15, amount=None)
    assert total_of([dear]) == Decimal("10.50")
    assert total_of([dear, unpriced]) is None


@given(st.lists(st.tuples(st.integers(-40, 400), st.booleans(), st.sampled_from(["YARD", "MILL"])), max_size=30))
def test_every_item_stands_in_the_layout_once_and_blocks_run_by_day(given_items):
    items = [
        item(f"item-{n}", days, custom=custom, supplier=supplier)
        for n, (days, custom, supplier) in enumerate(given_items)
    ]
    blocks = order_blocks(items, MONDAY)
    laid_out = [each.key for block in blocks for each in block.items]
    assert sorted(laid_out) == sorted(each.key for each in items)
    assert [block.day for block in blocks] == sorted(block.day for block in blocks)
