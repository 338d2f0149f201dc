"""What is earned, and what is to go at this pace: published exercises, each second-hand unless a source stands by."""

from decimal import Decimal
from fractions import Fraction

import pytest

from quoting.core.money.completion import at_this_pace
from quoting.core.money.earned import earned

D = Decimal


def percent(share):
    return f"{float(share) * 100:.2f}"


def test_at_this_pace_of_17_33_percent_80000_become_461538():
    # An examination exercise: budget 750,000, earned 130,000, actual 80,000.
    share = Fraction(130, 750)
    assert percent(share) == "17.33"
    assert D(80000) + at_this_pace(D(80000), share) == pytest.approx(D(461538), abs=1)


def test_at_this_pace_the_ratio_is_not_rounded_on_the_way():
    # An examination exercise: 500,000, 150,000, 162,000; with the ratio rounded to 0.93 it would be 538,344.
    assert D(162000) + at_this_pace(D(162000), Fraction(150, 500)) == D("540000.00")


@pytest.mark.parametrize(
    ("to_date", "to_go", "share", "profit"),
    [("1040000", "1560000", "40.00", "400000"), ("2100000", "650000", "76.36", "250000")],
)
def test_a_long_contract_of_3000000_earns_by_cost(to_date, to_go, share, profit):
    # A textbook exercise on long contracts.
    result = earned(D(3000000), D(to_date), D(to_date) + D(to_go))
    assert (percent(result.share), result.profit) == (share, D(profit))


def test_goods_not_fitted_earn_their_cost_alone():
    # IFRS 15, IE95-100 (the result from memory): 1,500,000 of 4,000,000 not fitted, 500,000 of the rest spent.
    result = earned(D(5000000), D(2000000), D(4000000), unfitted=D(1500000))
    assert (percent(result.share_fitted), result.amount_fitted) == ("20.00", D("2200000.00"))


def test_goods_of_a_tenth_of_the_cost_are_not_shown_apart():
    assert earned(D(1000), D(100), D(1000), unfitted=D(100)).share_fitted is None
    assert earned(D(1000), D("200"), D(1000), unfitted=D("100.01")).share_fitted is not None


def test_a_job_that_loses_shows_the_whole_loss_now():
    assert earned(D(1000), D(10), D(1300)).profit == -300


def test_nothing_in_sight_has_no_share():
    result = earned(D(1000), D(0), D(0), billed=D(200))
    assert (result.share, result.amount, result.over_billed) == (None, 0, 200)


@pytest.mark.parametrize("share", [Fraction(0), Fraction(-1, 2), Fraction(3, 2)])
def test_a_share_that_is_none_has_no_pace(share):
    with pytest.raises(ValueError, match="over 0 and at most 1"):
        at_this_pace(D(1), share)
