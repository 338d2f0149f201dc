"""What came of a line. Expected days are those of the worked example of the childcare walls; numpy's busday counts
are the second reference for days taken."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.core.ground.workdays import Closure, WorkCalendar, calendar_with
from catalog.core.leads.lead_times import LeadTerm
from jobs.core.ordering.receiving import ReceiptError, Received, receipt_state, replacement_check, taken_workdays

AMOUNTS = st.integers(0, 30).map(Decimal)


def came(good: int, damaged: int = 0, wrong: int = 0) -> Received:
    return Received(Decimal(good), Decimal(damaged), Decimal(wrong))


def test_two_damaged_of_nine_are_not_waited_for_and_leave_the_line_short() -> None:
    state = receipt_state(Decimal(9), [came(7, 2)])
    assert (state.open, state.short, state.damaged, state.standing, state.is_complete) == (0, 2, 2, "short", False)


def test_while_others_are_to_come_only_those_are_open() -> None:
    state = receipt_state(Decimal(9), [came(3, 1, 1)])
    assert (state.open, state.short, state.standing) == (4, 2, "part")


def test_damaged_ones_that_are_kept_count_as_good() -> None:
    received = Received(Decimal(7), Decimal(2), kept=True)
    assert receipt_state(Decimal(9), [received]).standing == "complete"


def test_the_replacement_closes_the_line_and_one_more_is_an_excess() -> None:
    assert receipt_state(Decimal(9), [came(7, 2), came(2)]).standing == "complete"
    over = receipt_state(Decimal(9), [came(7, 2), came(3)])
    assert (over.open, over.excess, over.standing) == (0, 1, "excess")


def test_a_line_that_is_ended_waits_for_nothing_and_says_that_it_came_short() -> None:
    state = receipt_state(Decimal(9), [came(7)], ended=True)
    assert (state.open, state.standing, state.is_complete) == (0, "ended", True)


@given(st.integers(1, 30).map(Decimal), st.lists(st.tuples(AMOUNTS, AMOUNTS, AMOUNTS).filter(any), max_size=6))
def test_ordered_is_what_is_good_and_open_less_what_is_too_much(
    ordered: Decimal, given: list[tuple[Decimal, Decimal, Decimal]]
) -> None:
    state = receipt_state(ordered, [Received(*row) for row in given])
    assert state.good + state.open + state.short - state.excess == ordered
    assert state.open == 0 or state.excess == 0


@pytest.mark.parametrize(
    ("entries", "text"),
    [
        ((Decimal(-1), Decimal(2), Decimal(0)), "good"),
        ((Decimal(1), Decimal("NaN"), Decimal(0)), "damaged"),
        ((Decimal(0), Decimal(0), Decimal(0)), "say how much came"),
    ],
)
def test_what_cannot_have_come_is_refused_by_name(entries: tuple[Decimal, ...], text: str) -> None:
    with pytest.raises(ReceiptError) as refusal:
        Received(*entries)
    assert text in f"{refusal.value.field}: {refusal.value.reason}"


def test_the_childcare_replacement_is_usable_3_september_17_working_days_late() -> None:
    firm = calendar_with("firm", [Closure(date(2027, 7, 5), date(2027, 7, 5))])
    maker = calendar_with("maker", [*firm_closures(), Closure(date(2027, 7, 19), date(2027, 7, 30))])
    term = LeadTerm(15, "workdays", 2, "price list", date(2027, 1, 4))
    check = replacement_check(date(2027, 8, 6), date(2027, 8, 11), term, cushion_workdays=3, firm=firm, supplier=maker)
    assert (check.arrives.usable, check.late_workdays) == (date(2027, 9, 3), 17)
    assert "17 working days after" in check.sentence


def firm_closures() -> list[Closure]:
    return [Closure(date(2027, 7, 5), date(2027, 7, 5))]


def test_without_a_day_of_need_a_replacement_is_not_said_to_be_in_time() -> None:
    term = LeadTerm(5, "workdays", 1, "price list", date(2027, 1, 4))
    shop = WorkCalendar("shop")
    check = replacement_check(date(2027, 8, 6), None, term, cushion_workdays=0, firm=shop, supplier=shop)
    assert check.late_workdays is None and "in time" not in check.sentence


@given(st.integers(0, 300), st.sets(st.integers(0, 300), max_size=20))
def test_days_taken_are_those_of_numpy(length: int, shut: set[int]) -> None:
    first = date(2027, 1, 4)
    closed = [first + timedelta(days=number) for number in shut]
    last = first + timedelta(days=length)
    counted = np.busday_count(first + timedelta(days=1), last + timedelta(days=1), holidays=closed)
    assert taken_workdays(first, last, WorkCalendar("mill", frozenset(closed))) == counted


def test_what_came_before_it_was_ordered_is_refused() -> None:
    with pytest.raises(ReceiptError, match="cannot have come before"):
        taken_workdays(date(2027, 8, 6), date(2027, 8, 5), WorkCalendar("mill"))
