"""Days to plan with from the lead-time record, against a computation by scipy and numpy, and simulated firms."""

import math
from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from catalog.core.leads import lead_record
from catalog.core.leads.lead_record import (
    KeptShare,
    LeadEvidence,
    LeadPrior,
    LeadReceipt,
    LeadRecordError,
    chance_within_greatest,
    confidence_from_cost,
    confidence_words,
    firm_prior,
    kept_so_far,
    planned_lead,
)
from tests.bench_lead_record import LEAST, MOST, WORLDS, coverage

FIRST = date(2027, 1, 4)


def receipts(*actual: int, quoted: int = 30, supplier: str = "MILL", material: str = "BASE") -> list[LeadReceipt]:
    """One a week."""
    return [
        LeadReceipt(quoted, days, FIRST + timedelta(weeks=week), supplier, material) for week, days in enumerate(actual)
    ]


def still_open(age: int) -> LeadReceipt:
    return LeadReceipt(30, age, FIRST + timedelta(weeks=60), "MILL", "BASE", is_open=True)


def planned(record: Iterable[LeadReceipt], confidence: float = 0.90) -> LeadEvidence:
    return planned_lead(30, record, supplier="MILL", material="BASE", confidence=confidence)


def by_reference(
    quoted: float, logs: list[float], m0: float, v0: float, confidence: float
) -> tuple[float, float, float]:
    """The formula of a normal sample of unknown mean and variance, by numpy and scipy: days, mean, variance."""
    n, k0, nu0 = len(logs), 2, 6
    mean = float(np.mean(logs)) if n else m0
    squares = float(np.var(logs)) * n if n else 0.0
    m = (k0 * m0 + n * mean) / (k0 + n)
    variance = (nu0 * v0 + squares + k0 * n / (k0 + n) * (mean - m0) ** 2) / (nu0 + n)
    reach = stats.t.ppf(confidence, nu0 + n, loc=m, scale=math.sqrt(variance * (1 + 1 / (k0 + n))))
    return quoted * math.exp(reach), m, variance


def test_the_worked_case_without_receipts_and_with_three() -> None:
    # The firm's worked case: quoted 30, 48.6 days with nothing received, 44.67 after ratios 1.00, 1.10 and 1.30.
    assert planned([]).exact_workdays == pytest.approx(48.64, abs=0.005)
    evidence = planned(receipts(30, 33, 39))
    assert evidence.exact_workdays == pytest.approx(44.67, abs=0.005)
    assert (evidence.plan_workdays, evidence.ratios) == (45, (1.0, 1.1, 1.3))


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(1, 120), max_size=14), st.sampled_from([0.5, 0.8, 0.9, 0.99]))
def test_a_material_alone_is_planned_as_the_formula_says(actual: list[int], confidence: float) -> None:
    logs = [math.log(days / 30) for days in actual][-8:]
    expected, _, _ = by_reference(30, logs, math.log(1.10), 0.22**2, confidence)
    assert planned(receipts(*actual), confidence).exact_workdays == pytest.approx(expected, rel=1e-9)


def test_the_suppliers_other_materials_stand_between_the_material_and_the_start() -> None:
    others, own = receipts(12, 14, 15, quoted=10, material="CAP"), receipts(33, 30)
    _, m0, v0 = by_reference(1, [math.log(x) for x in (1.2, 1.4, 1.5)], math.log(1.10), 0.22**2, 0.9)
    expected, _, _ = by_reference(30, [math.log(1.1), 0.0], m0, v0, 0.9)
    assert planned([*others, *own]).exact_workdays == pytest.approx(expected, rel=1e-9)


def test_another_suppliers_few_receipts_change_nothing_and_thirty_of_them_do() -> None:
    elsewhere = receipts(*[20] * 30, quoted=10, supplier="YARD", material="TAPE")
    alone = planned([]).exact_workdays
    assert planned(elsewhere[:29]).exact_workdays == alone
    # Thirty receipts of ratio 2: their mean stands in, and as they do not differ, no spread is left.
    assert planned(elsewhere).exact_workdays == pytest.approx(60.0)


def test_the_firms_own_record_predicts_with_its_mean_and_spread() -> None:
    logs = np.random.default_rng(5).normal(0.2, 0.3, 40)
    record = [
        LeadReceipt(900, round(900 * math.exp(entry)), FIRST + timedelta(days=place), "YARD", "TAPE")
        for place, entry in enumerate(logs)
    ]
    seen = np.log([receipt.ratio for receipt in record])
    prior = firm_prior(record)
    assert prior.m0 == pytest.approx(np.mean(seen))
    assert prior.v0 * (1 + 1 / prior.k0) == pytest.approx(np.var(seen, ddof=1))
    assert (prior.based_on, prior.k0, prior.nu0) == (40, 2, 6)


def test_only_the_last_eight_receipts_count() -> None:
    assert planned(receipts(90, 90, *[30] * 8)).exact_workdays == planned(receipts(*[30] * 8)).exact_workdays


def test_the_order_in_which_the_record_is_given_does_not_matter() -> None:
    record = receipts(30, 33, 39, 28, 41, 30, 36, 44, 30)
    assert planned(reversed(record)) == planned(record)


def test_an_open_order_counts_at_its_age_once_that_is_over_its_quote() -> None:
    assert planned([*receipts(30, 33), still_open(30)]) == planned(receipts(30, 33))
    evidence = planned([*receipts(30, 33), still_open(39)])
    assert evidence.exact_workdays == pytest.approx(44.67, abs=0.005)
    assert "1.00, 1.10 and 1.30 of the quote, one of them still open" in evidence.sentence


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(10, 90), max_size=10), st.lists(st.integers(1, 200), min_size=1, max_size=4))
def test_open_orders_never_make_the_plan_shorter(actual: list[int], ages: list[int]) -> None:
    # An age is a lower bound of what the order will have taken.
    record = receipts(*actual)
    with_open = planned([*record, *(still_open(age) for age in ages)])
    assert with_open.exact_workdays >= planned(record).exact_workdays - 1e-9


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(10, 90), max_size=8), st.integers(1, 300))
def test_more_confidence_and_more_days_quoted_never_shorten_the_plan(actual: list[int], quoted: int) -> None:
    record = receipts(*actual)
    low, high = (planned(record, confidence).exact_workdays for confidence in (0.8, 0.95))
    assert low <= high
    longer = planned_lead(quoted + 1, record, supplier="MILL", material="BASE").exact_workdays
    assert longer > planned_lead(quoted, record, supplier="MILL", material="BASE").exact_workdays


@pytest.mark.parametrize(
    ("record", "sentence"),
    [
        (
            receipts(30, 33, 39),
            "quoted 30 days; the last 3 took 1.00, 1.10 and 1.30 of the quote; nine in ten should be here within 45 "
            "working days",
        ),
        (
            receipts(36),
            "quoted 30 days; the last one took 1.20 of the quote; nine in ten should be here within 48 working days",
        ),
        (
            [],
            "quoted 30 days; nothing of it has come yet; until something does, 1.10 of the quote on average is "
            "assumed; nine in ten should be here within 49 working days",
        ),
        (
            receipts(33, 30, material="CAP"),
            "quoted 30 days; nothing of it has come yet; the supplier's last 2 orders of other materials took 1.10 and "
            "1.00 of their quotes; nine in ten should be here within 46 working days",
        ),
    ],
)
def test_the_office_is_told_in_one_sentence(record: list[LeadReceipt], sentence: str) -> None:
    assert planned(record).sentence == sentence


def test_the_days_of_the_one_receipt_and_of_the_other_material_are_those_of_the_formula() -> None:
    # The sentences above name 48 and 46 days.
    assert math.ceil(by_reference(30, [math.log(1.2)], math.log(1.1), 0.22**2, 0.9)[0]) == 48
    _, m0, v0 = by_reference(30, [math.log(1.1), 0.0], math.log(1.1), 0.22**2, 0.9)
    assert math.ceil(by_reference(30, [], m0, v0, 0.9)[0]) == 46


def test_the_share_kept_judges_each_order_by_what_was_known_when_it_was_placed() -> None:
    # The first was planned 49 days on nothing known and took 60; the second, ordered before that came, 49 too.
    late, soon = receipts(60, 50)
    soon = replace(soon, ordered_on=FIRST - timedelta(days=1))
    assert planned([late, soon]).kept == KeptShare(0, 2)
    # Ordered once the first was in, it is planned with more: 30 x exp(...) by the formula after a ratio of 2.
    days = by_reference(30, [math.log(2)], math.log(1.1), 0.22**2, 0.9)[0]
    assert days > 50
    assert planned([late, replace(soon, ordered_on=None)]).kept == KeptShare(1, 2)


def test_while_nothing_has_come_there_is_no_share_kept() -> None:
    assert planned([]).kept.share is None
    assert kept_so_far([still_open(90)]).share is None
    assert planned(receipts(30, 90)).kept.share == 0.5


def test_the_share_kept_of_the_firm_is_of_the_newest_receipts_of_all() -> None:
    record = [*receipts(90), *receipts(*[30] * 4, supplier="YARD", material="TAPE")]
    assert kept_so_far(record) == KeptShare(4, 5)
    assert kept_so_far(record, last=3) == KeptShare(3, 3)


def test_the_next_stays_within_the_longest_of_nine_with_nine_tenths() -> None:
    # Order statistics: P(next <= greatest of n) = n / (n + 1), here against 20,000 drawn samples.
    assert chance_within_greatest(9) == 0.9
    drawn = np.random.default_rng(1).random((20_000, 10))
    assert (drawn[:, 9] <= drawn[:, :9].max(axis=1)).mean() == pytest.approx(0.9, abs=0.01)


def test_the_confidence_from_cost_is_the_critical_ratio() -> None:
    # Newsvendor: 180 for a late day against 20 for an early one.
    assert confidence_from_cost(Decimal(180), Decimal(20)) == 0.9
    assert confidence_from_cost(Decimal(180), Decimal(0)) == 0.995
    assert confidence_from_cost(Decimal(1), Decimal(9)) == 0.5


@pytest.mark.parametrize(
    ("late", "early", "text"),
    [
        (Decimal(0), Decimal(0), "both are zero"),
        (Decimal(-1), Decimal(9), "late"),
        (Decimal(9), Decimal("NaN"), "early"),
    ],
)
def test_costs_that_say_nothing_are_refused(late: Decimal, early: Decimal, text: str) -> None:
    with pytest.raises(LeadRecordError, match=text):
        confidence_from_cost(late, early)


@pytest.mark.parametrize(
    ("changes", "text"),
    [
        ({"quoted_workdays": 0}, "Quoted working days must be a whole number from 1 to 990, not 0"),
        ({"quoted_workdays": True}, "Quoted working days"),
        ({"actual_workdays": -1}, "Actual working days must be a whole number from 0 to 5,000, not -1"),
        ({"supplier": " "}, "needs the code of its supplier"),
        ({"received_on": None}, "needs the day it came"),
    ],
)
def test_a_receipt_nothing_can_be_learnt_from_is_refused(changes: dict[str, object], text: str) -> None:
    with pytest.raises(LeadRecordError, match=text):
        replace(receipts(30)[0], **changes)  # type: ignore[arg-type]


@pytest.mark.parametrize("confidence", [0.49, 1.0, math.nan])
def test_a_confidence_out_of_range_is_refused(confidence: float) -> None:
    with pytest.raises(LeadRecordError, match="must be from 0.5 to 0.995"):
        planned([], confidence)


def test_a_prior_out_of_range_is_refused() -> None:
    for changes in ({"k0": 0.0}, {"v0": -0.1}, {"nu0": 0}, {"m0": math.inf}):
        with pytest.raises(LeadRecordError):
            replace(LeadPrior(), **changes)  # type: ignore[arg-type]


def test_a_share_is_said_in_words() -> None:
    assert [confidence_words(value) for value in (0.5, 0.8, 0.9, 0.995)] == [
        "five in ten",
        "eight in ten",
        "nine in ten",
        "99.5 in a hundred",
    ]


@pytest.mark.parametrize("world", WORLDS)
def test_about_nine_orders_in_ten_come_within_the_plan(world: str) -> None:
    # Simulated firms; the whole table is made by tests.bench_lead_record.
    assert all(LEAST <= coverage(world, count, 250) <= MOST for count in (0, 3, 10))


def test_without_the_window_a_drift_is_not_followed(monkeypatch: pytest.MonkeyPatch) -> None:
    assert LEAST <= coverage("ever slower", 30, 60) <= MOST
    monkeypatch.setattr(lead_record, "WINDOW", 10**6)
    assert coverage("ever slower", 30, 60) < 0.80
