from dataclasses import replace
from datetime import date
from decimal import Decimal as D

import pytest

from catalog.core.ground.declared import write
from quoting.core.money.job_costs import job_costs
from quoting.core.money.month import last_day, next_month, why_not_closed
from quoting.core.money.month_figures import (
    Cause,
    JobOfMonth,
    OverheadOfMonth,
    RowAmount,
    later_news,
    loss_sentence,
    made_sentence,
    percent,
)
from quoting.core.money.month_job import bridge_of_month, job_of_month, read_job
from tests.support.orrinsby import on_9_june, orrinsby

FEBRUARY = date(2027, 2, 1)
RECEPTION = JobOfMonth(
    "J-1", "Reception screen", "Larkmoor Dental", date(2027, 2, 5),
    D("13841.94"), D("8582.00"), D("13841.94"), D("8582.00"), D("9728.50"),
    (Cause("hours", D("799.00")), Cause("price", D("162.50")), Cause("freight", D("185.00"))),
)  # fmt: skip
# 36.0 % and 34.1 % of 21,460.00.
GALLERY = JobOfMonth(
    "J-2", "Gallery screen", "Weavers' Hall", date(2027, 2, 19),
    D("21460.00"), D("13734.40"), D("21460.00"), D("13734.40"), D("14142.14"), (Cause("rework", D("407.74")),),
)  # fmt: skip


def test_the_finished_jobs_are_taken_together_by_their_money():
    # (35,301.94 - 23,870.64) / 35,301.94 and (35,301.94 - 22,316.40) / 35,301.94.
    message = made_sentence(FEBRUARY, [RECEPTION, GALLERY])
    assert message == "The two finished jobs made 32.4 %; quoted was 36.8 %."


def test_one_finished_job_is_as_its_worked_example_says():
    assert made_sentence(FEBRUARY, [RECEPTION]) == "The finished job made 29.7 %; quoted was 38.0 %."
    assert percent(RECEPTION.margin, 2) == "29.72 %"
    assert [cause.name for cause in RECEPTION.largest_causes] == ["hours", "freight", "price"]


def test_the_cause_that_took_most_is_named_with_its_share():
    # 799.00 of 1,554.24.
    assert loss_sentence([RECEPTION, GALLERY]) == "Hours took 51 % of the loss."
    assert loss_sentence([GALLERY]) == "Rework took all of the loss."
    assert loss_sentence([]) == ""


def test_a_gain_beside_the_losses_leaves_no_share_of_the_loss():
    # 407.74 of rework less a gain of 100.00 is a loss; less one of 500.00 it is none.
    gained = [replace(GALLERY, causes=(Cause("price", D(amount)),)) for amount in ("-100.00", "-500.00")]
    assert loss_sentence([GALLERY, gained[0]]) == "Rework took the most: 407.74."
    assert loss_sentence([GALLERY, gained[1]]) == ""


def test_a_month_without_a_finished_job_says_so():
    assert made_sentence(FEBRUARY, []) == "No job was finished in February 2027."


def test_overhead_recovered_falls_short_of_the_actual():
    month = OverheadOfMonth(412 * 60, D("0"), D("9.50"), None, D("4260.00"))
    assert (month.recovered, month.short) == (D("3914.00"), D("346.00"))


def test_overhead_by_cost_goes_by_the_month_s_cost():
    assert OverheadOfMonth(0, D("1000.00"), None, D("0.12"), None).recovered == D("120.00")


def test_overhead_not_entered_is_a_gap_and_no_shortfall():
    assert OverheadOfMonth(60, D("0"), D("9.50"), None, None).short is None
    assert OverheadOfMonth(60, D("0"), None, None, D("1.00")).short is None


def test_a_bill_that_comes_later_changes_the_month_by_what_it_differs():
    before = [RowAmount("received 7", "24 boards", D("458.40")), RowAmount("billed 1/1", "Track", D("558.00"))]
    after = [RowAmount("billed 9/1", "A-779", D("464.40")), RowAmount("billed 1/1", "Track", D("558.00"))]
    news = later_news(before, after)
    assert [(new.row, new.change) for new in news] == [("billed 9/1", D("464.40")), ("received 7", D("-458.40"))]
    assert sum(new.change for new in news) == D("6.00")


@pytest.mark.parametrize(
    ("month", "closed", "first", "begins"),
    [
        ("2027-02-01", "2027-01-01", None, ""),
        ("2027-02-01", None, None, ""),
        ("2027-02-01", None, "2027-02-01", ""),
        ("2027-02-01", "2027-02-01", None, "February 2027 is closed already."),
        ("2027-02-01", None, "2027-01-01", "January 2027 comes first"),
        ("2027-03-01", "2027-02-01", None, "March 2027 can be closed from Thu 1 Apr 2027."),
    ],
)
def test_a_month_closes_in_order_and_after_its_end(month, closed, first, begins):
    days = [entry and date.fromisoformat(entry) for entry in (month, closed, first)]
    assert why_not_closed(*days, today=date(2027, 3, 31)).startswith(begins)
    assert bool(why_not_closed(*days, today=date(2027, 3, 31))) is bool(begins)


def test_months_follow_each_other_over_the_years_end():
    assert (next_month(date(2026, 12, 31)), last_day(date(2027, 2, 9))) == (date(2027, 1, 1), date(2027, 2, 28))


def test_a_job_of_the_month_adds_up_and_reads_back_the_same():
    job = job_of_month("J-1", "Hall", "Orrinsby", None, job_costs(orrinsby()))
    assert (job.to_date, job.cost, percent(job.margin, 2)) == (D("9085.58"), D("17274.28"), "33.15 %")
    assert job.largest_causes[0].words == "10 h over"
    assert read_job(write(job)) == job
    assert bridge_of_month(job).lost == D("4.85")


@pytest.mark.parametrize("price", ["0.00", "-24600.00"])
def test_a_job_whose_price_is_not_over_nought_has_no_margin_and_no_bridge(price):
    job = job_of_month("J-1", "Hall", "Orrinsby", None, job_costs(orrinsby(price=D(price), notes=())))
    assert (job.margin, job.quoted_margin, job.causes, percent(job.margin)) == (None, None, (), "-")


def test_what_came_on_9_june_is_6_00_more_for_may():
    may, known = (job_of_month("J-1", "Hall", "Orrinsby", None, job_costs(fact)) for fact in (orrinsby(), on_9_june()))
    assert (known.to_date, known.cost, percent(known.margin, 2)) == (D("9091.58"), D("17280.28"), "33.13 %")
    assert bridge_of_month(known).lost == D("4.87")
    news = later_news(may.rows, known.rows)
    assert sorted(new.change for new in news) == [D("-458.40"), D("464.40")]
