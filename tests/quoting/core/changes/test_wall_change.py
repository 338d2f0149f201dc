"""A change of the walls, on the walls that changed, with its cost and hours. Three walls alike, priced by takeoff."""

from copy import deepcopy
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.core.materials.specs import Fact
from quoting.core.changes.wall_change import set_alike, wall_change, with_spill_over
from quoting.core.quotes.job_file import JobFile, read_job_file
from quoting.core.quotes.work_up import work_up
from tests.support.worked import PRICING, TODAY, small_book, small_document

BY_TAKEOFF: dict[str, Any] = {"materials": "takeoff", "labour": [], "labour_from_hours": {"rate": "47.00"}}
CENTS = st.decimals(Decimal("-9999.99"), Decimal("9999.99"), places=2)
AMOUNTS = st.tuples(CENTS, CENTS, CENTS, CENTS)


def job(a: float = 96, b: float = 96, coat_hours: str = "8", **pricing: Any) -> JobFile:
    document = small_document(pricing=deepcopy(PRICING) | BY_TAKEOFF | pricing)
    (wall,) = document["walls"]
    heights = {"A": a, "B": b, "C": 96}
    document["walls"] = [wall | {"key": name.lower(), "name": name, "height": high} for name, high in heights.items()]
    book = small_book()
    rate = {"coat_hours_per_1000sqft": Fact(Decimal(coat_hours), "Own hours", "firm")}
    standards = replace(book.standards, facts={**book.standards.facts, **rate})
    return read_job_file(document, replace(book, standards=standards))


def changed(before: JobFile, after: JobFile):
    old, new = (work_up(file, TODAY) for file in set_alike(before, after))
    return wall_change(old, new), old, new


def test_a_wall_whose_measurements_are_the_same_is_neither_listed_nor_charged():
    change, old, new = changed(job(), job(a=102))
    assert [line.what for line in change.lines] == ["A, changed"]
    assert change.lines[0].price == new.quote.priced.price - old.quote.priced.price


def test_two_walls_that_changed_share_what_spills_over_and_the_third_is_not_listed():
    change, old, new = changed(job(), job(a=102, b=90))
    assert [line.what for line in change.lines] == ["A, changed", "B, changed"]
    assert sum(line.price for line in change.lines) == new.quote.priced.price - old.quote.priced.price


def test_the_taxed_part_adds_up_where_materials_alone_are_taxed():
    tax = {"name": "Sales tax", "rate": "0.13", "applies_to": "materials"}
    change, old, new = changed(job(tax=tax), job(a=102, b=90, tax=tax))
    assert sum(line.taxed for line in change.lines) == new.quote.priced.taxed - old.quote.priced.taxed
    assert {line.what.split(",")[0] for line in change.lines} == {"A", "B"}


def test_a_line_carries_its_cost_which_at_a_margin_of_38_percent_is_62_percent_of_its_price():
    change, old, new = changed(job(), job(a=102, b=90))
    for line in change.lines:
        assert line.cost == pytest.approx(line.price * Decimal("0.62"), abs=Decimal("0.01"))
    assert sum(line.cost for line in change.lines) == new.quote.priced.cost - old.quote.priced.cost


def test_costs_of_the_whole_job_alone_are_listed_under_the_job():
    """200.00 more at a margin of 38 %: 200 / 0.62 = 322.58, give or take the cent both prices are rounded to."""
    change, _, _ = changed(job(), job(other=[{"what": "Delivery", "amount": "440.00"}]))
    (line,) = change.lines
    assert line.what == "Corridor screen, changed"
    assert line.price == pytest.approx(Decimal("322.58"), abs=Decimal("0.01"))


def test_a_cost_entered_for_a_wall_is_charged_to_that_wall():
    more = [{"what": "Delivery", "amount": "240.00"}, {"what": "Lift", "amount": "100.00", "wall": "B"}]
    change, _, _ = changed(job(), job(other=more))
    assert [line.what for line in change.lines] == ["B, changed"]


def test_a_name_and_a_decision_do_not_make_a_wall_a_changed_one():
    before = job()
    walls = [replace(wall, name=f"{wall.name} wall") if wall.key == "b" else wall for wall in job(a=102).job.walls]
    after = replace(job(a=102), job=replace(before.job, walls=tuple(walls)))
    assert [line.what for line in changed(before, after)[0].lines] == ["A, changed"]


@given(st.lists(AMOUNTS, min_size=1, max_size=4), AMOUNTS)
def test_whatever_spills_over_the_walls_add_up_to_the_whole(own, whole):
    shared = with_spill_over(own, whole)
    assert tuple(sum(column) for column in zip(*shared, strict=True)) == whole


def test_hours_are_added_up_over_the_coats_before_they_are_rounded_to_days():
    """A coat goes from 15.9 h to 16.2 h, over the 16 h of two people's day, so each of three takes a day more as it is
    dated. Together with framing and board it is 4.7 h, 0.3 of a day: under half a day, and no day is proposed."""
    change, old, new = changed(job(coat_hours="31.14"), job(a=102, coat_hours="31.14"))
    coats = [
        [activity.hours for activity in days.plan.activities if activity.key.startswith("coat")] for days in (old, new)
    ]
    assert [round(hours[0], 1) for hours in coats] == [15.9, 16.2]
    assert new.plan.finish > old.plan.finish
    assert (change.moved.hours, change.moved.workdays) == (Decimal("4.7"), 0)


def test_half_a_day_of_work_and_more_is_proposed():
    """12 in on a wall is an eighth of its 11.4 h of boards, coats and paint, and 6 studs of 0.54 h at the sheet ends of
    a third course: 4.7 h. Two walls are 9.3 h, and half a day of two people is 8 h."""
    change, _, _ = changed(job(), job(a=108, b=108))
    assert change.moved.workdays == 1
    assert change.moved.hours == pytest.approx(Decimal("9.3"), abs=Decimal("0.1"))


def test_a_coat_more_moves_the_end_by_its_own_day_and_its_drying():
    """Level 5 on wall A adds a fourth coat of 1.4 h and a day of drying to a chain whose other hours stay."""
    finer = job()
    walls = tuple(
        replace(wall, left=replace(wall.left, level=5)) if wall.key == "a" else wall for wall in finer.job.walls
    )
    change, old, new = changed(job(), replace(finer, job=replace(finer.job, walls=walls)))
    assert change.moved.workdays == new.calendar.workdays_between(old.plan.finish, new.plan.finish) > 0


def test_no_days_are_made_up_where_the_firm_states_no_threshold():
    before, after = job(), job(a=102)
    facts = {name: fact for name, fact in after.book.standards.facts.items() if name != "change_days_from"}
    after = replace(after, book=replace(after.book, standards=replace(after.book.standards, facts=facts)))
    moved = changed(before, after)[0].moved
    assert (moved.hours, moved.workdays) == (Decimal("4.0"), None)
