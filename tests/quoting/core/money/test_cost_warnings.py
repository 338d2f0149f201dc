"""What somebody is warned of."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

from quoting.core.money.cost_warnings import WarningFacts, WarningLimits, cost_warnings
from quoting.core.money.earned import earned_of
from quoting.core.money.job_costs import JobFacts, job_costs
from tests.support.orrinsby import HOURS, LEFT, left, orrinsby, worked

D = Decimal
TODAY = date(2027, 5, 31)


def warned(facts: JobFacts | None = None, limits: WarningLimits = WarningLimits(), **more: object) -> dict[str, str]:  # noqa: B008
    costs = job_costs(facts or orrinsby())
    warnings = cost_warnings(costs, earned_of(costs, D("7380.00")), WarningFacts(TODAY, **more), limits)
    return {warning.kind: warning.sentence for warning in warnings}


def test_the_job_warns_of_what_is_odd_in_it_and_of_nothing_else():
    texts = warned()
    assert set(texts) == {"billed_over_received", "unsigned", "under_billed"}
    assert texts["billed_over_received"] == "P-2, Base: 9 billed, 8 received."
    assert texts["unsigned"].startswith("Work of 198.00")
    # 6,210.81 / 25,840.00.
    assert texts["under_billed"] == "6,210.81 is earned and not asked for, 24.04 % of the contract."


def test_goods_without_a_bill_are_warned_of_after_ten_days():
    assert "no_bill" not in warned(received_on={"13": date(2027, 5, 21)})
    # 458.40 / 25,840.00 is 1.77 points.
    days = warned(received_on={"13": date(2027, 5, 20)})["no_bill"]
    assert days == "Goods of P-1: no bill after 10 days. 1.77 points rest on it."


def test_a_gain_no_larger_than_the_goods_without_a_bill_is_doubted():
    # 30 h less to go: 1,202.28 over the agreed cost becomes 282.72 under it; 458.40 of goods have no bill.
    sooner = orrinsby(hours_left=(*LEFT[:2], left("boards", 3, 28)))
    assert warned(sooner)["gain_without_bills"].startswith("The job gains 282.72, and 458.40")
    # 44 h of finishing less as well: 2,460.72 under.
    much = orrinsby(hours_left=(*LEFT[:2], left("boards", 3, 28), left("finishing", 0, 28)))
    assert "gain_without_bills" not in warned(much)


def test_a_contract_that_notes_took_to_nought_or_under_still_shows_its_loss():
    # Orrinsby's 17,274.28 in the end, against nothing and against 100.00 the firm gives back.
    for price, loss in (("-1240.00", "17,274.28"), ("-1340.00", "17,374.28")):
        texts = warned(replace(orrinsby(), price=D(price)))
        assert texts["loss"] == f"The job loses {loss}; the whole loss shows now."
        assert "under_billed" not in texts


def test_hours_after_done_and_hours_on_no_step_are_named():
    texts = warned(orrinsby(hours=(*HOURS, worked("8", 29, "framing", 1), worked("9", 29, None, 2))))
    assert texts["after_done"] == "Framing: hours were entered after it was done."
    assert texts["not_coded"] == "Hours on no step: 99.00 counts as unforeseen."


def test_a_running_job_without_hours_for_a_week_is_named():
    assert "no_hours" not in warned(running_since=date(2027, 5, 3))
    hours = tuple(row for row in HOURS if row.day < date(2027, 5, 24))
    texts = warned(orrinsby(hours=hours, hours_left=LEFT[:2]), running_since=date(2027, 5, 3))
    assert texts["no_hours"] == "The job runs, and no hours are in for 13 days. Enter them."


def test_a_margin_that_falls_or_is_under_the_least_is_named():
    texts = warned(limits=WarningLimits(least_margin=D("0.35")), margin_before=Fraction(36, 100))
    assert texts["under_least"] == "The margin falls to 33.15 %, under the firm's least of 35.00 %."
    assert texts["falls"] == "The margin fell by 2.85 points within a month."
    assert "falls" not in warned(margin_before=Fraction(35, 100))


def test_what_is_overdue_and_a_gate_passed_by_its_author_are_named():
    texts = warned(overdue=D("2263.51"), passed_by_author=True)
    assert texts["overdue"] == "2,263.51 is overdue."
    assert "passed_by_author" in texts


def test_a_job_that_loses_says_how_much():
    assert warned(orrinsby(price=D("15000.00")))["loss"] == "The job loses 1,034.28; the whole loss shows now."
