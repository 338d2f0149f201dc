"""Labour taken from the walls' own hours: steps, rates, rounding, and what is missing of them."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.materials.standards import Standards
from jobs.core.measure.explanation import Explanation
from jobs.core.schedule.activities import ActivityPlan, PlannedActivity
from quoting.core.quotes.job_file import JobFile, PricingSpec
from quoting.core.quotes.quote_sheet import QuoteSheet, sheet_of
from quoting.core.quotes.work_up import WorkUp, work_up
from tests.documents import job_file

DAY = date(2026, 11, 25)
RATE = Decimal("47.00")


@pytest.fixture(scope="module")
def dental() -> WorkUp:
    return work_up(by_hours(job_file("larkmoor-dental")), DAY)


def by_hours(read: JobFile, **more) -> JobFile:
    assert read.pricing is not None
    bought = tuple(cost for cost in read.pricing.costs if cost.category != "labour")
    return replace(read, pricing=replace(read.pricing, **({"costs": bought, "hour_cost": RATE} | more)))


def step(key: str, hours: float) -> PlannedActivity:
    explanation = Explanation("as said", (), "")
    return PlannedActivity(key, key.capitalize(), hours, 1, explanation, explanation)


def sheet_with(result: WorkUp, *steps: PlannedActivity) -> QuoteSheet:
    return sheet_of(result.read, result.walls, result.takeoff, ActivityPlan(steps, (), None), DAY)


def told(sheet: QuoteSheet, key: str) -> list[str]:
    return [finding.weight for finding in sheet.findings if finding.key == key]


def test_hours_of_a_published_example_are_priced_to_the_cent(dental):
    # NAVEDTRA 14045: 16,000 sq ft at 33 man-hours per 1,000 is 528 h; at 47.00 that is 24,816.00.
    lines = [hour.line for hour in sheet_with(dental, step("boards", 528.0)).hours]
    assert [(line.what, line.quantity, line.unit, line.cost) for line in lines] == [
        ("Boards", Decimal("528.0"), "h", Decimal("24816.00"))
    ]


def test_hours_are_kept_to_a_tenth_half_up_and_a_step_without_hours_has_no_line(dental):
    sheet = sheet_with(dental, step("framing", 18.35), step("inspection", 0.0))
    assert [str(hour.line.quantity) for hour in sheet.hours] == ["18.4"]


def test_a_wall_prices_itself_from_its_studs(dental):
    standards = dental.read.book.standards
    rate, factor = (standards.fact(name).number for name in ("framing_hours_per_stud", "curve_factor"))
    framing = next(hour for hour in dental.quote.hours if hour.line.what == "Track and studs")
    assert float(framing.line.quantity) == pytest.approx(dental.walls[0].stud_count * rate * factor, abs=0.05)
    assert ("Curve factor", f"{factor:g}") in framing.why.inputs
    labour = sum(hour.line.cost for hour in dental.quote.hours)
    assert labour > 0 and dental.quote.priced.cost_by_category["labour"] == labour


def test_without_the_rate_the_figures_of_the_worked_example_stand():
    # Worked example, Larkmoor Dental: cost 8,582.00.
    quote = work_up(job_file("larkmoor-dental"), DAY).quote
    assert quote.hours == () and str(quote.priced.cost) == "8582.00"


def test_a_missing_standard_is_a_gap_and_no_price():
    read = by_hours(job_file("larkmoor-dental"))
    facts = {name: fact for name, fact in read.book.standards.facts.items() if name != "coat_hours_per_1000sqft"}
    read = replace(read, book=replace(read.book, standards=replace(read.book.standards, facts=facts)))
    quote = work_up(read, DAY).quote
    assert quote.priced is None and told(quote, "standards/coat_hours_per_1000sqft") == ["gap"]
    assert isinstance(read.book.standards, Standards)


def test_a_standard_that_gives_days_only_does_not_stop_the_price():
    read = by_hours(job_file("larkmoor-dental"))
    facts = {name: fact for name, fact in read.book.standards.facts.items() if name != "coat_dry_hours"}
    read = replace(read, book=replace(read.book, standards=replace(read.book.standards, facts=facts)))
    assert work_up(read, DAY).quote.priced is not None


def test_a_job_without_walls_has_no_hours_to_price():
    read = by_hours(job_file("larkmoor-dental"))
    quote = work_up(replace(read, job=replace(read.job, walls=())), DAY).quote
    assert quote.priced is None and told(quote, "pricing/labour_from_hours") == ["gap"]


def test_hours_entered_beside_those_of_the_walls_are_added_and_said(dental):
    both = by_hours(job_file("larkmoor-dental"), costs=job_file("larkmoor-dental").pricing.costs)
    quote = sheet_of(both, dental.walls, dental.takeoff, dental.plan, DAY)
    # Worked example: 96 h at 47.00 are entered.
    assert quote.priced.cost == dental.quote.priced.cost + Decimal("4512.00")
    assert told(quote, "pricing/labour-twice") == ["caution"]


@given(st.decimals(0, 500, places=2))
def test_the_rate_is_read_back_as_written(rate):
    spec = replace(by_hours(job_file("larkmoor-dental")).pricing, hour_cost=rate)
    assert read(PricingSpec, Reader(write(spec))) == spec


@pytest.mark.parametrize(
    ("given", "path"),
    [
        ({}, "labour_from_hours.rate"),
        ({"rate": "-1"}, "labour_from_hours.rate"),
        ({"rate": "dear"}, "labour_from_hours.rate"),
        ({"rate": "10000000.01"}, "labour_from_hours.rate"),
        ({"rate": "47", "hours": "3"}, "labour_from_hours.hours"),
        ("47.00", "labour_from_hours"),
    ],
)
def test_a_wrong_rate_is_named(given, path):
    document = write(job_file("larkmoor-dental").pricing) | {"labour_from_hours": given}
    with pytest.raises(DocumentError) as refused:
        read(PricingSpec, Reader(document))
    assert path in [complaint.path for complaint in refused.value.complaints]
