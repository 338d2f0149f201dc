"""What goes otherwise than ordered, counted by hand on a shop that is shut on weekends alone: needed on Mon 25 Jan
2027, three days of cushion."""

from __future__ import annotations

import os
from dataclasses import replace
from datetime import date
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest

from catalog.core.ground.workdays import WorkCalendar
from jobs.core.ordering.chasing import OrderFacts, chase_list
from jobs.core.ordering.chosen_pieces import MovedRadius
from jobs.core.ordering.confirmation import Comparison, Confirmed, compare
from jobs.core.ordering.deviations import (
    ConfirmedFacts,
    LineFacts,
    PromiseFacts,
    Settled,
    ShortFacts,
    deviations,
)
from jobs.core.ordering.wall_moves import OrderedFit
from tests.jobs.core import alert_days
from tests.jobs.core.alert_days import DAYS, ZONES
from tests.jobs.core.ordering.test_confirmation import AS_ASKED, ASKED, WITHIN

WHOLE = bool(os.environ.get("CURVEWRIGHT_FAULT_ROUNDS"))
SOME_ZONES = ZONES if WHOLE else ("America/Santiago", "Europe/Lisbon")
HOW_LONG, HOW_MANY = (DAYS, 120) if WHOLE else (150, 42)
SHOP, TODAY, NEED_BY = WorkCalendar("shop"), date(2027, 1, 5), date(2027, 1, 25)
LINE = LineFacts("O-1", "The mill", "Base", NEED_BY, 3, False)
MISFIT = OrderedFit("O-1", "on_order", MovedRadius("Screen", "Base", 1, "concave", 3263.3, 3229.4), 10.0)


def said(**otherwise: object) -> Comparison:
    return compare(ASKED, replace(AS_ASKED, **otherwise), "metric", WITHIN)  # type: ignore[arg-type]


def confirmed(comparison: Comparison, **more: object) -> LineFacts:
    return replace(LINE, confirmed=ConfirmedFacts("confirmed 7", comparison, date(2027, 1, 4), **more))  # type: ignore[arg-type]


def of(line: LineFacts, today: date = TODAY) -> list[str]:
    return [deviation.kind for deviation in deviations(line, today, SHOP, "metric")]


@pytest.mark.parametrize(
    ("otherwise", "kinds"),
    [
        ({}, []),
        ({"amount": Decimal("665.40")}, ["dearer"]),
        ({"amount": Decimal("600.00")}, []),
        ({"radii_mm": (1511.3,), "radius_face": "front"}, ["other_radius"]),
        ({"quantity": Decimal(2)}, ["other_pieces"]),
        # Needed at the dock by Fri 6 August: a later day is a promise too late, and said there.
        ({"promised_on": date(2027, 8, 9)}, []),
    ],
)
def test_what_was_confirmed_otherwise_is_a_fact_by_what_differs(otherwise, kinds) -> None:  # type: ignore[no-untyped-def]
    assert of(confirmed(said(**otherwise))) == kinds


def test_a_day_later_than_quoted_and_in_time_is_confirmed_later() -> None:
    comparison = compare(replace(ASKED, quoted_on=date(2027, 8, 4)), replace(AS_ASKED, promised_on=date(2027, 8, 5)),
                    "metric", WITHIN)  # fmt: skip
    assert of(confirmed(comparison)) == ["later"]


def test_what_is_dearer_says_by_how_much_who_acts_and_since_when() -> None:
    # 665.40 for 612.40: 53.00 more.
    (deviation,) = deviations(confirmed(said(amount=Decimal("665.40"))), TODAY, SHOP, "metric")
    assert (deviation.extra, deviation.who, deviation.since) == (Decimal("53.00"), "the office", date(2027, 1, 4))
    assert deviation.action == "Accept the price, or ask The mill again." and "53.00 more" in deviation.sentence


def promised(day: date, **more: object) -> LineFacts:
    return replace(LINE, promise=PromiseFacts(day, date(2027, 1, 4)), **more)  # type: ignore[arg-type]


# At the dock on Wed 20 Jan and three working days on it is usable on the day it is needed.
@pytest.mark.parametrize(("day", "late"), [(20, None), (21, 1), (28, 6)])
def test_a_promise_is_held_against_the_day_of_need(day: int, late: int | None) -> None:
    result = deviations(promised(date(2027, 1, day)), TODAY, SHOP, "metric")
    assert [deviation.late_workdays for deviation in result] == ([] if late is None else [late])


def test_a_wall_that_moves_once_more_is_another_fact() -> None:
    (deviation,) = deviations(replace(LINE, misfits=(MISFIT,)), TODAY, SHOP, "metric")
    moved = replace(MISFIT, moved=replace(MISFIT.moved, now_mm=3200.0))
    (other,) = deviations(replace(LINE, misfits=(moved,)), TODAY, SHOP, "metric")
    # 3263.3 - 3229.4 = 33.9 tighter, of which 10 may be flexed.
    assert "33.9 mm tighter" in deviation.sentence and "23.9 mm too little" in deviation.sentence
    assert "can still be changed" in deviation.action and deviation.mark != other.mark


def test_what_is_short_says_what_it_costs_again_and_by_when() -> None:
    short = ShortFacts("short 4", Decimal(2), "pieces", date(2027, 1, 4), Decimal("82.74"), date(2027, 1, 8))
    (deviation,) = deviations(replace(LINE, short=short, is_complete=True), TODAY, SHOP, "metric")
    assert (deviation.extra, deviation.action) == (Decimal("82.74"), "Order again by Fri 8 Jan 2027.")


def settled(how: str, on: date = TODAY, need_by: date = NEED_BY) -> dict[str, object]:
    return {"settled": (Settled("promised 2027-01-28", how, on, need_by),)}  # type: ignore[arg-type]


def test_what_is_accepted_is_silent_until_it_is_needed_earlier() -> None:
    late = promised(date(2027, 1, 28), **settled("accepted"))
    assert of(late) == [] and of(replace(late, need_by=date(2027, 2, 1))) == []
    assert of(replace(late, need_by=date(2027, 1, 22))) == ["promised_late"]
    assert of(promised(date(2027, 1, 29), **settled("accepted"))) == ["promised_late"], "another day is another fact"


def test_a_supplier_asked_again_has_two_working_days_to_answer() -> None:
    late = promised(date(2027, 1, 28), **settled("asked_again"))
    # Asked on Tue 5 Jan.
    assert [of(late, date(2027, 1, day)) for day in (5, 6, 7)] == [[], [], ["promised_late"]]


def test_a_confirmation_accepted_with_its_day_settles_the_promise_of_that_day_alone() -> None:
    facts = confirmed(said(), accepted=True, promised_on=date(2027, 1, 28))
    promise = PromiseFacts(date(2027, 1, 28), TODAY)
    assert of(replace(facts, promise=promise)) == []
    assert of(replace(facts, promise=replace(promise, promised_on=date(2027, 1, 29)))) == ["promised_late"]


def test_nothing_that_was_confirmed_or_promised_is_asked_once_all_is_here() -> None:
    assert of(replace(confirmed(said(amount=Decimal(700))), is_complete=True)) == []
    assert of(promised(date(2027, 1, 28), is_complete=True)) == []


def test_the_chase_list_names_each_fact_and_the_owner_asks_after_five_days() -> None:
    days = deviations(confirmed(said(amount=Decimal("665.40"), quantity=Decimal(2))), TODAY, SHOP, "metric")
    order = OrderFacts("O-1", "The mill", date(2027, 1, 4), date(2027, 1, 4), deviations=days)
    chased = [(chase.kind, chase.step) for chase in chase_list([order], date(2027, 1, 11), SHOP)]
    assert chased == [("other_pieces", "owner"), ("dearer", "owner")]
    assert [chase.step for chase in chase_list([order], date(2027, 1, 8), SHOP)] == ["office", "office"]


@pytest.mark.faults
@pytest.mark.parametrize("zone", SOME_ZONES)
def test_each_fact_is_told_once_each_time_it_comes_up_whatever_happens_to_the_schedulers(zone: str) -> None:
    facts = alert_days.some_facts(HOW_MANY, HOW_LONG)
    fact = alert_days.run_facts(facts, ZoneInfo(zone), HOW_LONG)
    assert {day.key[1] for day in facts} == set(alert_days.KINDS) and any(len(day.spans) > 1 for day in facts)
    assert alert_days.wrongs_of_facts(fact, facts, ZoneInfo(zone), HOW_LONG) == []


@pytest.mark.faults
def test_without_the_rule_that_open_rows_are_unique_facts_are_told_twice() -> None:
    """The control of the test above."""
    zone, facts = ZoneInfo("Europe/Lisbon"), alert_days.some_facts(20, 60)
    fact = alert_days.run_facts(facts, zone, 60, guarded=False)
    assert len(alert_days.wrongs_of_facts(fact, facts, zone, 60)) == 20


def test_a_confirmation_that_says_nothing_is_no_fact() -> None:
    assert of(confirmed(compare(ASKED, Confirmed(), "metric", WITHIN))) == []
