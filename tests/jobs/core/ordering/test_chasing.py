"""The chase list. That a confirmation is asked for on the second working day stands in the feature list; days are
counted by hand on a calendar of March 2027 (1 March 2027 is a Monday)."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.core.ground.workdays import WorkCalendar
from jobs.core.ordering.chasing import ClaimFacts, OrderFacts, chase_list, chases

FIRM = WorkCalendar("firm")
PLACED = OrderFacts("PO-7", "The mill", date(2027, 3, 5))  # a Friday
CONFIRMED = replace(PLACED, confirmed_on=date(2027, 3, 8), promised_on=date(2027, 3, 26), is_promised=True)


def march(day: int) -> date:
    return date(2027, 3, day)


def kinds(order: OrderFacts, today: date) -> list[str]:
    return [chase.kind for chase in chases(order, today, FIRM)]


def test_a_missing_confirmation_is_asked_for_on_the_second_working_day_and_not_before() -> None:
    assert kinds(PLACED, march(8)) == []
    assert kinds(PLACED, march(9)) == ["confirm"]


def test_after_five_working_days_without_an_answer_the_owner_asks() -> None:
    assert chases(PLACED, march(15), FIRM)[0].step == "office"
    assert chases(PLACED, march(16), FIRM)[0].step == "owner"


def test_half_of_the_lead_gone_without_a_word_is_asked_about() -> None:
    # 15 working days from 5 to 26 March: the seventh is Tuesday 16 March.
    assert kinds(CONFIRMED, march(15)) == []
    assert kinds(CONFIRMED, march(16)) == ["half_lead"]
    assert kinds(replace(CONFIRMED, last_word_on=march(16)), march(17)) == []


def test_near_the_dock_day_it_is_asked_whether_it_ships_until_something_is_heard() -> None:
    assert kinds(CONFIRMED, march(23)) == ["ship_check"]
    assert kinds(replace(CONFIRMED, last_word_on=march(22)), march(23)) == ["ship_check"]
    assert kinds(replace(CONFIRMED, last_word_on=march(23)), march(24)) == []


def test_a_promise_that_passed_is_asked_about_from_the_next_day_and_not_on_its_own() -> None:
    fact = replace(CONFIRMED, last_word_on=march(25))
    assert kinds(fact, march(26)) == []
    assert kinds(fact, march(27)) == []  # a Saturday
    assert kinds(fact, march(29)) == ["promise_passed"]


def test_what_is_complete_is_asked_about_no_more_but_its_claims_are() -> None:
    broken = ClaimFacts("r1", "2 of 9 lengths damaged", march(26), date(2027, 4, 2))
    fact = replace(CONFIRMED, is_complete=True, claims=(broken,))
    assert kinds(fact, march(26)) == []
    assert kinds(fact, march(29)) == ["claim"]
    assert kinds(fact, date(2027, 4, 2)) == ["claim"]
    assert [(chase.kind, chase.step) for chase in chases(fact, date(2027, 4, 5), FIRM)] == [("claim_lapsed", "owner")]


def test_a_claim_of_no_known_term_is_due_at_once() -> None:
    fact = replace(CONFIRMED, is_complete=True, claims=(ClaimFacts("r1", "2 damaged", march(26), None),))
    assert kinds(fact, march(26)) == ["claim"]


def test_the_list_has_one_line_an_order_and_every_claim() -> None:
    broken = ClaimFacts("r1", "2 damaged", march(26), march(29))
    order = replace(CONFIRMED, confirmed_on=None, claims=(broken,))
    pairs = {(chase.order, chase.kind) for chase in chase_list([order, replace(CONFIRMED, key="O-2")], march(29), FIRM)}
    assert pairs == {(order.key, "confirm"), (order.key, "claim"), ("O-2", "promise_passed")}


def test_no_new_day_is_asked_for_while_what_came_damaged_is_not_claimed() -> None:
    broken = ClaimFacts("r1", "2 damaged", march(26), date(2027, 4, 2))
    assert "promise_passed" in kinds(CONFIRMED, march(29))
    assert kinds(replace(CONFIRMED, claims=(broken,)), march(29)) == ["claim"]


def test_something_heard_before_it_was_placed_is_refused() -> None:
    with pytest.raises(ValueError, match="before the day it was placed"):
        OrderFacts("PO-1", "The mill", march(5), confirmed_on=march(4))


@given(st.integers(0, 90), st.integers(0, 60), st.booleans())
def test_nothing_is_due_before_its_day_and_an_unconfirmed_order_is_never_forgotten(
    ahead: int, lead: int, promised: bool
) -> None:
    today = PLACED.placed_on + timedelta(days=ahead)
    order = replace(PLACED, promised_on=PLACED.placed_on + timedelta(days=lead) if promised else None)
    result = chases(order, today, FIRM)
    assert all(chase.since <= today for chase in result)
    assert ("confirm" in {chase.kind for chase in result}) == (today >= march(9))
