"""Days accepted for planning: when they hold, what they replace, and as a document."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.leads.lead_times import LeadTerm, lead_workdays
from catalog.core.leads.planned_leads import PlannedLead, PlannedLeadError, accept, planned_in_force, planned_term

MONDAY = date(2027, 1, 4)
TERM = LeadTerm(27, "workdays", 3, "telephone", MONDAY)
PLAN = accept(45, TERM, "MILL", Decimal("0.9"), "three receipts", (Decimal("1.3"),), "A. Tester", MONDAY)


def test_of_planned_days_the_last_accepted_that_has_not_ended_holds() -> None:
    ended = replace(PLAN, plan_workdays=40, accepted_on=date(2026, 12, 1), ended_on=MONDAY)
    assert planned_in_force([ended, PLAN], date(2026, 12, 31)) == ended
    assert planned_in_force([ended, PLAN], MONDAY) == PLAN
    assert planned_in_force([ended, replace(PLAN, ended_on=MONDAY)], MONDAY) is None


@pytest.mark.parametrize(
    ("plan", "production", "transit"), [(45, 42, 3), (30, 27, 3), (2, 0, 2), (990, 730, 260), (1, 0, 1)]
)
def test_planned_days_keep_the_transit_and_change_the_production(plan: int, production: int, transit: int) -> None:
    timed = planned_term(TERM, plan)
    assert (timed.production_days, timed.production_counts, timed.transit_workdays) == (
        production,
        "workdays",
        transit,
    )


def test_a_week_is_five_working_days_or_seven_of_the_calendar() -> None:
    assert lead_workdays(LeadTerm(14, "calendar_days", 2, "telephone", MONDAY)) == 12
    assert lead_workdays(LeadTerm(1, "calendar_days", 0, "telephone", MONDAY)) == 1
    assert lead_workdays(TERM) == 30


def test_planned_days_read_back_as_they_were_written() -> None:
    for plan in (PLAN, replace(PLAN, ended_on=date(2027, 3, 1), production_counts="calendar_days", ratios=())):
        reader = Reader(write(plan))
        assert read(PlannedLead, reader) == plan
        reader.finish()


@pytest.mark.parametrize(
    ("name", "value", "text"),
    [
        ("plan_workdays", 0, "plan_workdays: 0 must be from 1 to 990"),
        ("confidence", "0.3", "confidence: 0.3 must be from 0.5 to 0.995"),
        ("ratios", ["1.1", "-1"], r"ratios\[1\]: -1 must be"),
        ("accepted_by", "", "accepted_by: "),
        ("ended_on", "2026-12-31", "Planned days end on or after Mon 4 Jan 2027"),
        ("quoted", {"production": "soon", "transit_workdays": 3}, "quoted.production: "),
    ],
)
def test_a_document_that_cannot_be_right_is_refused_by_name(name: str, value: object, text: str) -> None:
    with pytest.raises(DocumentError, match=text):
        read(PlannedLead, Reader({**write(PLAN), name: value}))


@pytest.mark.parametrize(
    "changes",
    [{"plan_workdays": 0}, {"confidence": Decimal("NaN")}, {"accepted_by": " "}, {"ratios": (Decimal(0),)}],
)
def test_planned_days_that_nobody_could_stand_for_are_refused(changes: dict[str, object]) -> None:
    with pytest.raises(PlannedLeadError):
        replace(PLAN, **changes)  # type: ignore[arg-type]
