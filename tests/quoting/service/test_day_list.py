"""The ranked list of a day: by days in hand, grouped by supplier and day, few rows.

Days counted by hand from Mon 30 Nov 2026; its week ends on Sun 6 Dec.
"""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from quoting.core.life.day_list import NEAR_WORKDAYS, Todo, day_list, due_words, late_words

MONDAY, SUNDAY = date(2026, 11, 30), date(2026, 12, 6)
CLAIM = Todo("Claim 2 pieces", "", date(2026, 12, 4), 4, ("Gallery",), "Write the claim", ("order", "3"))
TRACK = Todo(
    "",
    "On site by 2027-01-04.",
    date(2026, 12, 10),
    8,
    ("Reception screen",),
    "Open the item",
    ("order_item", "1", "TRACK"),
    group="order TOLLARD",
    together=("order_from", "TOLLARD"),
    supplier="Tollard Yard Supply",
    names=("Curvable track, 3-5/8 in",),
    amount=Decimal("100.60"),
)
BOARD = replace(TRACK, names=("Gypsum board, 1/4 in",), jobs=("Reading nook",), amount=Decimal("216.00"))


def said(result):
    return " ".join(entry for entry in (late_words(result), due_words(result, MONDAY, SUNDAY)) if entry)


def test_what_is_late_or_due_within_five_days_has_its_own_row_and_the_rest_a_line():
    result = day_list([TRACK, CLAIM, replace(CLAIM, text="Order again", in_hand=-11)])
    assert [todo.text for todo in result.near] == ["Order again", "Claim 2 pieces"]
    assert [todo.text for todo in result.soon] == ["Order curvable track from Tollard Yard Supply"]
    assert (result.near[0].is_late, result.near[0].days) == (True, 11)


def test_a_supplier_and_a_day_are_one_row_with_its_sum():
    (row,) = day_list([TRACK, BOARD]).soon
    assert row.text == "Order curvable track and gypsum board from Tollard Yard Supply"
    assert (row.jobs, row.place) == (("Reception screen", "Reading nook"), ("order_from", "TOLLARD"))
    # 100.60 + 216.00
    assert row.amount == Decimal("316.60")
    assert len(day_list([TRACK, replace(BOARD, day=date(2026, 12, 11), in_hand=9)]).soon) == 2


def test_one_missing_price_leaves_the_sum_out():
    (row,) = day_list([TRACK, replace(BOARD, amount=None)]).soon
    assert row.amount is None


def test_the_sentence_counts_what_is_late_this_week_and_after():
    late = replace(CLAIM, text="Order again", in_hand=-11, day=date(2026, 11, 13))
    result = day_list([late, CLAIM, replace(CLAIM, text="Ring", in_hand=3), TRACK, replace(TRACK, group="order OTHER")])
    assert said(result) == "One thing is late. Two more are due this week, two by 2026-12-10."
    assert said(day_list([CLAIM])) == "One thing is due this week."
    assert said(day_list([TRACK])) == "One thing is due by 2026-12-10."


def test_an_empty_day_names_the_first_day_something_is_due():
    assert said(day_list([], date(2026, 12, 10))) == "Nothing is due until 2026-12-10."
    assert said(day_list([replace(CLAIM, in_hand=-1)])) == "One thing is late. Nothing else is due."
    assert said(day_list([replace(TRACK, in_hand=40, day=date(2027, 2, 1))])) == "Nothing is due until 2027-02-01."


def test_what_has_no_day_is_never_nothing_to_do():
    undated = replace(CLAIM, text="15 items of 1 job have no supplier yet", day=None, in_hand=None)
    result = day_list([undated, CLAIM], date(2026, 12, 10))
    assert [todo.text for todo in result.near] == ["Claim 2 pieces", undated.text]
    assert said(day_list([undated], date(2026, 12, 10))) == "One has no day."


def test_what_there_is_no_room_for_is_counted():
    result = day_list([replace(CLAIM, text=f"Claim {number}") for number in range(9)])
    assert len(result.near) + result.more == 9 == len(result.every)


@given(st.lists(st.one_of(st.none(), st.integers(-30, 30)), max_size=20))
def test_nothing_is_lost_and_the_most_pressing_comes_first(hands):
    rows = [
        replace(CLAIM, text=str(place), in_hand=hand, day=None if hand is None else MONDAY + timedelta(days=hand))
        for place, hand in enumerate(hands)
    ]
    result = day_list(rows)
    beyond = sum(1 for hand in hands if hand is not None and hand > 10)
    assert len(result.near) + len(result.soon) + result.more == len(hands) - beyond
    dated = [todo.in_hand for todo in (*result.near, *result.soon) if todo.in_hand is not None]
    assert dated == sorted(dated)
    assert all(todo.in_hand > NEAR_WORKDAYS for todo in result.soon)
