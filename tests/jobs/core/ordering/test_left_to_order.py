"""What is left to order: the worked example of nine lengths of which two came damaged, and what holds of any lines."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.core.ordering.open_quantity import CarriedLine, LeftToOrderError, left_to_order
from jobs.core.ordering.order_lines import OrderStatement, StatedPack, part_of

amounts = st.integers(1, 60).map(Decimal)
some = st.integers(0, 60).map(Decimal)
lines = st.lists(
    st.builds(CarriedLine, amounts, some, st.just("pieces"), st.booleans(), st.just(()), some, some), max_size=5
)


def line(quantity, good=0, *, ended=False, again=(), unit="pieces", bad=0, returned=0):
    return CarriedLine(Decimal(quantity), Decimal(good), unit, ended, tuple(again), Decimal(bad), Decimal(returned))


def left(wanted, *of_item):
    return left_to_order(None if wanted is None else Decimal(wanted), "pieces", of_item)


def test_what_is_on_an_open_line_is_not_ordered_again():
    result = left(9, line(9, 7))
    assert result.is_covered and result.sentence == ""


def test_a_replacement_does_not_count_twice():
    # Worked examples, childcare: 9 ordered, 7 came good and 2 damaged, 2 ordered again.
    assert left(9, line(9, 7, bad=2, again=[line(2)])).left == 0
    assert left(11, line(9, 7, bad=2, again=[line(2)])).left == 2
    assert left(9, line(9, 7, bad=2, ended=True, again=[line(2)])).left == 0
    assert left(9, line(9, 7, ended=True, again=[line(2, 1, ended=True)])).left == 1


def test_what_came_damaged_or_wrong_is_to_be_ordered_at_once():
    # The screen's base: 4 ordered, 2 good, 1 damaged, 1 wrong; nothing of the 4 is waited for any more.
    result = left(4, line(4, 2, bad=2))
    assert (result.left, result.carried) == (2, 2)
    assert result.sentence == "2 of 4 pieces here or on order, 2 still to be ordered: 2 came damaged or wrong."


def test_of_what_is_still_to_come_nothing_is_ordered_again():
    # 9 ordered, 3 good and 1 damaged so far: 5 are still to come, 1 is to be ordered again.
    assert (line(9, 3, bad=1).expected, left(9, line(9, 3, bad=1)).left) == (5, 1)


def test_a_replacement_that_comes_damaged_is_ordered_once_more():
    assert left(9, line(9, 7, bad=2, again=[line(2, 1, bad=1)])).left == 1


def test_good_ones_sent_back_count_down_and_bad_ones_go_back_first():
    # 9 good of 9, 3 sent back; then 7 good and 2 bad of 9, of which 2 and 3 go back.
    assert left(9, line(9, 9, returned=3)).left == 3
    assert left(9, line(9, 7, bad=2, returned=2)).left == 2
    assert left(9, line(9, 7, bad=2, returned=3)).sentence.endswith(
        "3 still to be ordered: 2 came damaged or wrong, 1 went back."
    )


def test_too_many_that_go_back_leave_nothing_to_order():
    assert left(9, line(9, 11, returned=2)).left == 0


def test_a_line_ended_short_counts_what_came_good():
    result = left(9, line(9, 7, ended=True))
    assert (result.left, result.is_covered) == (2, False)
    assert result.sentence == (
        "7 of 9 pieces here or on order, 2 still to be ordered: 2 of what was ordered before will not come."
    )


def test_a_quantity_that_grew_leaves_the_difference_and_says_why():
    result = left(11, line(9))
    assert result.left == 2 and result.sentence.endswith("the job needs more now than was ordered.")
    both = left(12, line(9, 7, ended=True))
    assert both.left == 5 and both.sentence.endswith("will not come, and the job needs more now.")


def test_what_is_counted_in_something_else_stands_for_all_while_it_is_open():
    assert left(9, line(3, unit="ft")).is_covered and "counted in different units" in left(9, line(3, unit="ft")).so_far
    assert left(9, line(3, 2, unit="ft", ended=True)).left == 9
    assert left(None, line(3)).is_covered and "is not known" in left(None, line(3)).so_far


@pytest.mark.parametrize(("quantity", "good"), [("0", "0"), ("-1", "0"), ("NaN", "0"), ("1", "-1"), ("1", "Infinity")])
def test_a_line_of_nothing_or_of_less_come_than_nothing_is_refused(quantity, good):
    with pytest.raises(LeftToOrderError, match="quantity|good"):
        CarriedLine(Decimal(quantity), Decimal(good), "pieces")


def test_less_wanted_than_nothing_is_refused():
    with pytest.raises(LeftToOrderError, match="needed"):
        left(-1)


@given(amounts, lines)
def test_ordering_what_is_left_leaves_nothing_and_never_more_than_is_wanted(wanted, of_item):
    order = left_to_order(wanted, "pieces", of_item)
    if not order.left:
        assert sum(entry.carries for entry in of_item) >= wanted
        return
    rest = CarriedLine(order.left, Decimal(0), "pieces")
    after = left_to_order(wanted, "pieces", [*of_item, rest])
    assert after.left == 0 and after.carried == wanted


@given(amounts, lines, st.integers(0, 40).map(Decimal))
def test_it_does_not_matter_in_which_order_lines_are_read_and_more_wanted_is_never_less_left(wanted, of_item, more):
    order = left_to_order(wanted, "pieces", of_item)
    assert left_to_order(wanted, "pieces", of_item[::-1]) == order
    assert left_to_order(wanted + more, "pieces", of_item).left >= order.left


@given(amounts, some, some, some)
def test_what_a_line_does_not_stand_for_is_all_accounted_for(quantity, good, bad, returned):
    entry = CarriedLine(quantity, good, "pieces", bad=bad, returned=returned)
    assert entry.missing.all == max(Decimal(0), quantity - entry.carries)
    assert min(entry.carries, entry.missing.bad, entry.missing.returned, entry.missing.ended) >= 0


@given(amounts, some, some)
def test_ordering_again_what_is_short_makes_the_line_whole(quantity, good, bad):
    short = CarriedLine(quantity, good, "pieces", bad=bad).short
    again = (CarriedLine(short, Decimal(0), "pieces"),) if short else ()
    assert CarriedLine(quantity, good, "pieces", replaced_by=again, bad=bad).carries >= quantity


def test_a_part_is_stated_where_all_is_alike_and_nobody_can_tell_which_else():
    sheets = OrderStatement("GB", "Board", Decimal(4), "sheets", (StatedPack("8 ft", 4),))
    part = part_of(sheets, Decimal(1))
    assert part is not None and (part.quantity, part.packs) == (1, (StatedPack("8 ft", 1),))
    assert part_of(sheets, Decimal(4)) == sheets and part_of(sheets, Decimal("0.5")) is None
    mixed = OrderStatement("S", "Stud", Decimal(4), "sticks", (StatedPack("8 ft", 3), StatedPack("10 ft", 1)))
    assert part_of(mixed, Decimal(1)) is None
