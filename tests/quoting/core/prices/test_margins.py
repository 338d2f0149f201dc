"""The bridge from the quoted margin to the actual one.

Expected figures are those of the invented dental job, worked out by hand: 38.00 % quoted, 29.72 % in the end.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoting.core.prices.margins import (
    BridgeStep,
    ExtraCost,
    MarginBridge,
    MarginError,
    QuotedAgainstActual,
    margin_bridge,
)


def lump(category: str, quoted: str, actual: str) -> QuotedAgainstActual:
    return QuotedAgainstActual(category, category, Decimal(1), Decimal(quoted), Decimal(1), Decimal(actual))


HOURS = QuotedAgainstActual("labour", "all work", Decimal(96), Decimal("47.00"), Decimal(113), Decimal("47.00"))
DENTAL = [
    lump("materials", "3180.00", "3342.50"),
    HOURS,
    lump("subcontract", "650.00", "650.00"),
    lump("other", "240.00", "240.00"),
]
RUSH = ExtraCost("freight", "rush delivery", Decimal("185.00"))


def dental() -> MarginBridge:
    return margin_bridge(Decimal("13841.94"), DENTAL, [RUSH])


def test_the_dental_margin_falls_from_38_to_29_72_percent():
    bridge = dental()
    assert (bridge.quoted_cost, bridge.actual_cost) == (Decimal("8582.00"), Decimal("9728.50"))
    assert bridge.quoted_margin_percent == Decimal("38.00")
    assert bridge.actual_margin_percent == Decimal("29.72")
    assert bridge.points_lost == Decimal("8.28")


def test_the_dental_loss_is_hours_materials_and_freight():
    assert dental().amount_by_cause() == {
        "price": Decimal("162.50"),
        "hours": Decimal("799.00"),
        "freight": Decimal("185.00"),
    }


def test_the_points_of_the_steps_add_up_to_the_points_lost():
    points = {step.cause: step.points for step in dental().steps}
    assert sum(points.values()) == Decimal("8.28")
    # 162.50, 799.00 and 185.00 over 13,841.94 are 1.174, 5.772 and 1.337 points.
    assert points == {"price": Decimal("1.17"), "hours": Decimal("5.78"), "freight": Decimal("1.33")}


def test_more_hours_at_a_higher_wage_are_told_apart():
    line = QuotedAgainstActual("labour", "all work", Decimal(10), Decimal(50), Decimal(12), Decimal(55))
    causes = margin_bridge(Decimal("1000.00"), [line]).amount_by_cause()
    # 2 h more at 50 and 12 h at 5 more.
    assert causes == {"hours": Decimal("100.00"), "wage": Decimal("60.00")}


def test_fewer_boards_at_a_higher_price_gain_and_lose():
    line = QuotedAgainstActual("materials", "boards", Decimal(10), Decimal(20), Decimal(8), Decimal(25))
    bridge = margin_bridge(Decimal("1000.00"), [line])
    assert bridge.amount_by_cause() == {"quantity": Decimal("-40.00"), "price": Decimal("40.00")}
    assert [step.points for step in bridge.steps] == [Decimal("-4.00"), Decimal("4.00")]
    assert bridge.points_lost == 0


def test_a_job_that_cost_more_than_its_price_has_a_negative_margin():
    bridge = margin_bridge(Decimal("100.00"), [lump("other", "60.00", "150.00")])
    assert bridge.actual_margin_percent == Decimal("-50.00")


@pytest.mark.parametrize(
    ("make", "reason"),
    [
        (lambda: lump("paint", "1", "1"), "not 'paint'"),
        (lambda: lump("other", "-1", "1"), "quoted unit cost must be 0 or more, not -1"),
        (lambda: lump("other", "1", "NaN"), "actual unit cost: .* finite"),
        (lambda: replace(HOURS, actual_quantity=113.0), "exact decimal"),
        (lambda: replace(HOURS, what=" "), "needs a name"),
        (lambda: replace(HOURS, actual_quantity=Decimal("1E11")), "beyond any amount"),
        (lambda: ExtraCost("weather", "rain", Decimal(1)), "not 'weather'"),
        (lambda: ExtraCost("late", "", Decimal(1)), "say what it was"),
        (lambda: ExtraCost("late", "x", Decimal("1.001")), "whole cents"),
        (lambda: margin_bridge(Decimal(0), DENTAL), "price must be over 0"),
        (lambda: margin_bridge(Decimal("1.001"), DENTAL), "whole cents"),
        (lambda: margin_bridge(Decimal("0.01"), [lump("other", "1", "10000000000")]), "too far off"),
        (lambda: replace(dental(), price=Decimal(0)), "price must be over 0"),
        (lambda: margin_bridge(Decimal(100), []), "nothing to compare"),
        (lambda: BridgeStep("late", "x", Decimal("0.001"), Decimal(0)), "whole cents"),
        (lambda: replace(dental(), actual_cost=Decimal(1)), "do not add up"),
        (lambda: replace(dental(), actual_margin_percent=Decimal(1)), "points of the steps"),
    ],
)
def test_what_cannot_be_compared_is_refused(make, reason):
    with pytest.raises(MarginError, match=reason):
        make()


FIGURES = st.decimals(0, 2000, places=2)
LINES = st.builds(
    QuotedAgainstActual,
    st.sampled_from(["materials", "labour", "subcontract", "other"]),
    st.just("work"),
    FIGURES,
    FIGURES,
    FIGURES,
    FIGURES,
)
EXTRAS = st.builds(ExtraCost, st.sampled_from(["freight", "rework", "late", "unforeseen"]), st.just("x"), FIGURES)


@settings(deadline=None)
@given(st.decimals(1, 10**6, places=2), st.lists(LINES, min_size=1, max_size=8), st.lists(EXTRAS, max_size=5))
def test_amounts_and_points_add_up_whatever_came(price, lines, extras):
    bridge = margin_bridge(price, lines, extras)
    actual = sum(line.actual_cost for line in lines) + sum(extra.amount for extra in extras)
    assert bridge.actual_cost == actual
    assert sum(step.amount for step in bridge.steps) == actual - sum(line.quoted_cost for line in lines)
    assert sum(step.points for step in bridge.steps) == bridge.points_lost
