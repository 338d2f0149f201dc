"""Order now, wait for the field check, or rush. Dates of the dental base are those of the worked example (ordered
16 Dec: usable 29 Jan, 4 working days late); shares of a triangular distribution are scipy's."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import triang

from catalog.core.ground.workdays import Closure, calendar_with
from catalog.core.leads.lead_times import LeadTerm
from catalog.core.leads.order_terms import OrderTerms
from jobs.core.measure.radius_readings import RadiusBand
from jobs.core.ordering.order_timing import (
    ItemToOrder,
    OrderChoice,
    best_choice,
    fits_of,
    order_choices,
    radius_fit,
    rush_extra,
)
from quoting.core.quotes.work_up import work_up
from tests.documents import job_file
from tests.support.worked import TODAY

FIRM = calendar_with(
    "firm",
    [Closure(d, d) for d in (date(2026, 12, 25), date(2026, 12, 28), date(2027, 1, 1), date(2027, 1, 18))],
)
MILL = calendar_with(
    "mill", [Closure(date(2026, 12, 21), date(2027, 1, 1)), Closure(date(2027, 1, 18), date(2027, 1, 18))]
)
TERM = LeadTerm(15, "workdays", 3, "price list", date(2026, 11, 2))
RUSHED = OrderTerms(
    rush_production_workdays=8,
    rush_transit_workdays=1,
    rush_fee=Decimal(185),
    source="telephone",
    stated_on=date(2026, 11, 2),
)
MAY_MISS = radius_fit("Base", 1000.0, RadiusBand(950.0, 1000.0, 1050.0), 25.0, 50.0, "metric")
BASE = ItemToOrder(date(2027, 1, 25), TERM, RUSHED, Decimal(800), 3, 5, (MAY_MISS,), date(2026, 12, 16))


def ways(item: ItemToOrder, today: date = date(2026, 12, 9)) -> dict[str, OrderChoice]:
    return {choice.way: choice for choice in order_choices(item, firm=FIRM, supplier=MILL, today=today)}


def test_the_dental_base_is_in_time_now_and_four_days_late_after_the_check() -> None:
    choices = ways(BASE)
    assert choices["now"].late_workdays == 0 and choices["now"].days_in_hand == 1
    assert (choices["wait"].usable, choices["wait"].late_workdays) == (date(2027, 1, 29), 4)
    assert choices["wait"].days_in_hand == -4


def test_a_rush_after_the_check_is_in_time_and_costs_its_fee() -> None:
    # Eight of the mill's days after 16 Dec: 17, 18 Dec, 4 to 8, 11 Jan; at the dock the 12th, cushion 13, 14, 15.
    rush = ways(BASE)["rush"]
    assert (rush.usable, rush.late_workdays, rush.extra) == (date(2027, 1, 15), 0, Decimal("185.00"))


def test_a_rush_has_a_cushion_of_its_own_where_the_supplier_s_terms_state_it() -> None:
    # At the dock on Tue 12 Jan, usable a day later. Ordered last on Fri 8 Jan, 14 of the firm's days after 16 Dec: 8
    # of the mill's days on it ships on Thu 21 and is at the dock on Fri 22 Jan.
    rush = ways(replace(BASE, terms=replace(RUSHED, rush_cushion_workdays=1)))["rush"]
    assert (rush.usable, rush.days_in_hand) == (date(2027, 1, 13), 14)


def test_only_ordering_now_carries_the_risk_of_the_radius() -> None:
    choices = ways(BASE)
    assert (choices["now"].fit, choices["wait"].fit, choices["rush"].fit) == ("may_miss", "fits", "fits")
    assert choices["now"].remake == Decimal("100.00")  # 800 at a chance of 12.5 % to miss
    assert choices["wait"].remake == Decimal("0.00")


def test_the_best_way_is_in_time_and_cheapest_on_average() -> None:
    choices = order_choices(BASE, firm=FIRM, supplier=MILL, today=date(2026, 12, 9))
    best = best_choice(choices)
    assert best is not None and best.way == "now"  # 100 for a remake on average against 185 for the rush
    miss = replace(BASE, fits=(radius_fit("Base", 1000.0, RadiusBand(1100.0, 1150.0, 1200.0), 25.0, 50.0, "metric"),))
    best = best_choice(order_choices(miss, firm=FIRM, supplier=MILL, today=date(2026, 12, 9)))
    assert best is not None and best.way == "rush"


def test_after_the_check_nothing_is_waited_for() -> None:
    assert list(ways(replace(BASE, is_checked=True))) == ["now", "rush"]
    assert ways(replace(BASE, is_checked=True))["now"].fit == "fits"


@pytest.mark.parametrize(
    ("without", "way", "text"),
    [
        ({"terms": None}, "rush", "stated no rush"),
        ({"term": None}, "now", "No lead term"),
        ({"check_on": None}, "wait", "No day is known for the field check"),
        ({"price": None}, "now", "what a remake would cost"),
        ({"need_by": None}, "now", "by which it is needed"),
    ],
)
def test_what_is_not_known_is_a_gap_and_never_a_figure(without: dict[str, object], way: str, text: str) -> None:
    choice = ways(replace(BASE, **without))[way]  # type: ignore[arg-type]
    assert any(text in gap for gap in choice.gaps)
    if way != "now" or "term" in without:
        assert choice.usable is None


def test_a_rush_whose_fee_nobody_stated_has_days_but_no_cost() -> None:
    silent = replace(RUSHED, rush_fee=None)
    rush = ways(replace(BASE, terms=silent))["rush"]
    assert rush.usable is not None and rush.extra is None and rush.gaps
    assert rush_extra(silent, Decimal(800)) is None


@pytest.mark.parametrize(
    ("band", "fit", "chance"),
    [
        (RadiusBand(980.0, 1000.0, 1040.0), "fits", 1.0),
        (RadiusBand(1060.0, 1100.0, 1140.0), "will_miss", 0.0),
        (RadiusBand(990.0, 1000.0, float("inf")), "may_miss", None),
        (None, "not_known", None),
    ],
)
def test_a_band_inside_fits_one_outside_misses_and_one_without_end_has_no_chance(
    band: RadiusBand | None, fit: str, chance: float | None
) -> None:
    result = radius_fit("Base", 1000.0, band, 25.0, 50.0, "metric")
    assert (result.fit, result.chance) == (fit, chance)


def test_a_tolerance_nobody_stated_is_not_taken_for_none() -> None:
    assert radius_fit("Base", 1000.0, RadiusBand(999.0, 1000.0, 1001.0), None, 50.0, "metric").fit == "not_known"


@given(
    st.floats(500, 900),
    st.floats(1, 200),
    st.floats(1, 200),
    st.floats(0, 300),
    st.floats(0, 300),
    st.floats(400, 1400),
)
def test_the_chance_is_that_of_scipys_triangular_distribution(
    low: float, up: float, further: float, inside: float, outside: float, radius: float
) -> None:
    band = RadiusBand(low, low + up, low + up + further)
    fit = radius_fit("Base", radius, band, inside, outside, "metric")
    law = triang(c=up / (up + further), loc=low, scale=up + further)
    expected = law.cdf(radius + outside) - law.cdf(radius - inside)
    assert fit.chance == pytest.approx(expected, abs=1e-6)


def test_the_fits_of_a_job_are_those_of_its_made_runs_on_either_face() -> None:
    result = work_up(job_file("larkmoor-dental"), TODAY)
    codes = {plan.run.material for wall in result.walls for plan in wall.trims if plan.order is not None}
    fits = [fit for code in sorted(codes) for fit in fits_of(result.walls, code, "imperial")]
    assert fits and all(("Screen" in fit.what or "piece 1" in fit.what) for fit in fits)
