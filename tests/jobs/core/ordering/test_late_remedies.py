"""Late remedies. The late item is the base of the dental screen ordered on 16 December: usable 29 January, 4 working
days late (worked examples); other days are counted by hand on the same calendars."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from catalog.core.ground.workdays import WorkCalendar, calendar_with
from catalog.core.leads.lead_times import LeadTerm
from catalog.core.leads.order_terms import OrderTerms
from jobs.core.ordering.late_remedies import (
    FollowingWork,
    LateItem,
    OtherSource,
    PartOffer,
    Remedy,
    in_time,
    late_remedies,
)
from jobs.core.ordering.order_by import arrival
from tests.jobs.core.ordering.test_order_choices import FIRM, MILL, RUSHED, TERM

ORDERED = date(2026, 12, 16)
YARD = WorkCalendar("yard")
ITEM = LateItem(
    "Base",
    date(2027, 1, 25),
    arrival(ORDERED, TERM, cushion_workdays=3, firm=FIRM, supplier=MILL),
    Decimal(800),
    3,
    float_workdays=3,
    activity="trim",
    following=(FollowingWork("Trim", 4, 1), FollowingWork("Paint", 1, 2)),
    promised_on=date(2027, 2, 12),
)


def found(item: LateItem, terms: OrderTerms | None = RUSHED) -> dict[str, Remedy]:
    remedies = late_remedies(item, terms, firm=FIRM, supplier=MILL, today=ORDERED)
    return {remedy.kind: remedy for remedy in remedies}


def test_the_dental_base_has_more_than_three_remedies_with_days() -> None:
    dated = [remedy for remedy in found(ITEM).values() if remedy.usable is not None]
    assert len(dated) >= 3 and ITEM.arrives.usable == date(2027, 1, 29)


def test_a_rush_at_the_terms_of_the_supplier_comes_in_time_and_costs_its_fee() -> None:
    rush = found(ITEM)["rush"]
    assert (rush.usable, rush.late_workdays, rush.cost) == (date(2027, 1, 15), 0, Decimal("185.00"))


def test_a_rush_is_used_after_its_own_cushion() -> None:
    rush = found(ITEM, replace(RUSHED, rush_cushion_workdays=0))["rush"]
    assert (rush.usable, rush.late_workdays) == (date(2027, 1, 12), 0)


def test_without_its_cushion_it_comes_the_day_after_it_is_needed() -> None:
    # Ordered 16 Dec it ships 21 January; three days in transit make Tuesday 26 January, one after the 25th.
    cushion = found(ITEM)["cushion"]
    assert (cushion.usable, cushion.late_workdays, cushion.cost) == (date(2027, 1, 26), 1, Decimal("0.00"))


def test_fetched_on_the_day_it_is_ready_it_saves_its_transit() -> None:
    # Ready on Thursday 21 January; three cushion days on is Tuesday the 26th.
    fetch = found(ITEM)["fetch"]
    assert (fetch.usable, fetch.late_workdays, fetch.cost) == (date(2027, 1, 26), 1, None)


def test_float_is_used_no_further_than_there_is() -> None:
    assert found(ITEM)["resequence"].late_workdays == 1
    assert found(replace(ITEM, float_workdays=9))["resequence"].late_workdays == 0
    assert "resequence" not in found(replace(ITEM, float_workdays=0))


def test_one_more_person_halves_four_days_of_one_and_gains_nothing_on_a_day() -> None:
    crew = found(ITEM)["crew"]
    assert crew.late_workdays == 2 and "2 working days" in crew.sentence and "paint" not in crew.sentence
    assert crew.cost is None and crew.gaps


def test_the_promised_day_moves_by_what_no_float_takes_up() -> None:
    # 4 late less 3 of float is one working day after Friday 12 February.
    assert "Mon 15 Feb 2027" in found(ITEM)["promise"].sentence


def test_stock_elsewhere_is_compared_by_its_own_calendar_and_price() -> None:
    stock = OtherSource(
        "Plain base from the yard", LeadTerm(1, "workdays", 1, "shelf", ORDERED), YARD, None, Decimal(-60), True
    )
    remedy = found(replace(ITEM, sources=(stock,)))["source"]
    assert (remedy.late_workdays, remedy.cost, remedy.signed) == (0, Decimal("-60.00"), True)


def test_what_is_in_time_and_cheapest_stands_first_and_what_lacks_figures_last() -> None:
    stock = OtherSource(
        "Plain base from the yard", LeadTerm(1, "workdays", 1, "shelf", ORDERED), YARD, None, Decimal(20)
    )
    order = [
        remedy.kind
        for remedy in late_remedies(replace(ITEM, sources=(stock,)), RUSHED, firm=FIRM, supplier=MILL, today=ORDERED)
    ]
    assert order[:3] == ["source", "rush", "promise"] and order[-1] == "part"
    assert [
        remedy.kind for remedy in in_time(late_remedies(ITEM, RUSHED, firm=FIRM, supplier=MILL, today=ORDERED))
    ] == ["rush"]


@pytest.mark.parametrize("kind", ["rush", "part"])
def test_what_nobody_stated_is_a_gap_without_day_or_cost(kind: str) -> None:
    remedy = found(ITEM, None)[kind]
    assert (remedy.usable, remedy.cost) == (None, None) and remedy.gaps


def test_a_part_shipped_first_counts_from_its_own_dock_day() -> None:
    part = found(replace(ITEM, parts=(PartOffer("The left face", date(2027, 1, 22), Decimal(45)),)))["part"]
    assert (part.usable, part.late_workdays, part.cost) == (date(2027, 1, 22), 0, 45)


def test_an_item_in_time_needs_no_remedy() -> None:
    early = replace(ITEM, need_by=date(2027, 2, 1))
    assert late_remedies(early, RUSHED, firm=calendar_with("firm", []), supplier=MILL, today=ORDERED) == ()
