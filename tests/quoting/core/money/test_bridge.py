"""The margin bridge: Larkmoor Dental worked out by hand, published exercises, and what holds whatever came."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.core.costs.bills import BillRow
from jobs.core.costs.hours import HourRow, StepHoursLeft
from jobs.core.costs.received_goods import OrderedFreight, OrderedRow
from quoting.core.money.bridge import BridgeError, bridge_of, points_of
from quoting.core.money.completion import SaidToGo
from quoting.core.money.job_costs import JobFacts, job_costs
from quoting.core.money.quoted import NoteCosts, QuotedCost
from quoting.core.prices.overhead import OverheadRule

D = Decimal
DAY = date(2027, 2, 5)


def bought(category: str, item: str, quantity: str, price: str, tag: str = "", row: str = "1") -> BillRow:
    amount = (D(quantity) * D(price)).quantize(D("0.01"))
    return BillRow(row, "9", "Tollard", DAY, category, item, item, D(quantity), D(price), amount, tag)


def worked(hours: int, rate: str, step: str | None = "all work", tag: str = "") -> HourRow:
    return HourRow("1", DAY, "Ines", step, hours * 60, D(rate), tag)


def causes(facts: JobFacts) -> dict[str, Decimal]:
    return {step.cause: step.amount for step in bridge_of(job_costs(facts)).steps}


def one_item(category: str, quoted: tuple[str, str], *rows: BillRow | HourRow) -> JobFacts:
    line = QuotedCost(category, "all work", "All work", D(quoted[0]), D(quoted[1]))
    hours = tuple(row for row in rows if isinstance(row, HourRow))
    bills = tuple(row for row in rows if isinstance(row, BillRow))
    return JobFacts(D("100000.00"), (line,), hours=hours, bills=bills, is_closed=True)


LARKMOOR = JobFacts(
    D("13841.94"),
    (
        QuotedCost("materials", "all", "Materials", D(1), D("3180.00"), takes_rest=True),
        QuotedCost("labour", "all work", "All work", D(96), D("47.00")),
        QuotedCost("subcontract", "painter", "Painter", D(1), D("650.00")),
        QuotedCost("other", "scaffold", "Scaffold", D(1), D("240.00")),
    ),
    hours=(worked(113, "47.00"),),
    bills=(
        bought("materials", "board", "10", "334.25"),
        bought("subcontract", "painter", "1", "650.00"),
        bought("other", "scaffold", "1", "240.00"),
        bought("freight", "rush", "1", "185.00"),
    ),
    is_closed=True,
)


def test_larkmoor_falls_from_38_to_29_72_percent():
    bridge = bridge_of(job_costs(LARKMOOR))
    assert (bridge.quoted_cost, bridge.cost) == (D("8582.00"), D("9728.50"))
    assert (bridge.quoted_margin, bridge.margin, bridge.lost) == (D("38.00"), D("29.72"), D("8.28"))


def test_larkmoor_lost_799_on_hours_162_50_on_price_and_185_on_freight():
    steps = bridge_of(job_costs(LARKMOOR)).steps
    # 799.00, 162.50 and 185.00 over 13,841.94 are 5.772, 1.174 and 1.337 points.
    assert [(step.cause, step.amount, step.points) for step in steps] == [
        ("hours", D("799.00"), D("5.77")),
        ("freight", D("185.00"), D("1.34")),
        ("price", D("162.50"), D("1.17")),
    ]


def test_430_at_6_90_against_450_at_6_50():
    # Exercise 23-5 of a textbook, second-hand.
    facts = one_item("materials", ("430", "6.90"), bought("materials", "all work", "450", "6.50"))
    assert causes(facts) == {"price": D("-180.00"), "quantity": D("138.00")}


def test_8400_hours_at_23_against_8450_at_22_50():
    # A textbook exercise, second-hand.
    facts = one_item("labour", ("8400", "23.00"), worked(8450, "22.50"))
    assert causes(facts) == {"wage": D("-4225.00"), "hours": D("1150.00")}


def test_1140_at_3_10_against_2200_at_3_30_and_760_hours_at_10_against_770_at_9_90():
    # A textbook exercise, second-hand.
    goods = one_item("materials", ("1140", "3.10"), bought("materials", "all work", "2200", "3.30"))
    assert causes(goods) == {"price": D("440.00"), "quantity": D("3286.00")}
    work = one_item("labour", ("760", "10.00"), worked(770, "9.90"))
    assert causes(work) == {"wage": D("-77.00"), "hours": D("100.00")}


def test_a_credit_lowers_its_cause_below_nothing():
    rows = (bought("materials", "all work", "10", "5.00"), bought("freight", "", "1", "-20.00", row="2"))
    assert causes(one_item("materials", ("10", "5.00"), *rows)) == {"freight": D("-20.00")}


def test_what_nothing_was_quoted_for_is_unforeseen_and_not_coded():
    step = bridge_of(job_costs(one_item("labour", ("1", "50.00"), worked(1, "50.00"), worked(2, "50.00", None)))).steps[
        0
    ]
    assert (step.cause, step.amount, step.parts[0].is_coded) == ("unforeseen", D("100.00"), False)


def test_a_note_once_signed_takes_the_work_tagged_with_it():
    facts = one_item("labour", ("1", "50.00"), worked(1, "50.00"), worked(3, "50.00", "boards", "note 1"))
    assumed = QuotedCost("other", "note 1", "Niche", D(1), D("140.00"), takes_rest=True)
    note = NoteCosts(1, "Niche", D("200.00"), False, (assumed,))
    assert causes(replace(facts, notes=(note,))) == {"unbilled": D("150.00")}
    assert causes(replace(facts, notes=(replace(note, is_signed=True),))) == {"price": D("10.00")}


def test_contingency_is_a_gain_and_overhead_goes_by_what_was_worked():
    rule = OverheadRule(per_labour_hour=D("9.50"))
    extra = (
        QuotedCost("other", "overhead", "Overhead", D(10), D("9.50"), "overhead"),
        QuotedCost("other", "contingency", "Contingency", D(1), D("50.00"), "contingency"),
    )
    facts = one_item("labour", ("10", "48.00"), worked(12, "48.00"))
    amounts = causes(replace(facts, quoted=(*facts.quoted, *extra), overhead=rule))
    # 2 h more: 96.00 of hours and 19.00 of overhead.
    assert amounts == {"hours": D("96.00"), "overhead": D("19.00"), "contingency": D("-50.00")}


def test_a_tie_of_remainders_goes_to_the_larger_amount_then_by_the_order_of_causes():
    points = points_of({"freight": D("0.50"), "wage": D("0.50"), "late": D("100.50")}, D("10000.00"), D("1.02"))
    # Each leaves half a hundredth: 1.005 + 0.005 + 0.005 = 1.015, shown 1.02, so late and wage are rounded up.
    assert points == {"freight": D("0.00"), "wage": D("0.01"), "late": D("1.01")}


def test_a_price_of_nothing_has_no_margin():
    with pytest.raises(BridgeError, match=r"accepted price must be over 0, not 0\.00"):
        bridge_of(job_costs(JobFacts(D("0.00"), ())))


MONEY = st.decimals(0, 3000, places=2)
MANY = st.decimals(0, 200, places=1)
ITEMS = st.sampled_from(["framing", "boards", "base", "sundries"])
BOUGHT = st.sampled_from(["materials", "subcontract", "other"])
TAGS = st.sampled_from(["", "", "", "rework", "late", "unforeseen", "note 1", "note 2", "note 3"])
DAYS = st.dates(date(2027, 5, 1), date(2027, 5, 28))
ROWS = st.integers(1, 10**6).map(str)
QUOTED = st.builds(QuotedCost, BOUGHT | st.just("labour"), ITEMS, st.just("x"), st.decimals(-9, 90, places=1), MONEY)
LINES = st.lists(QUOTED, max_size=3).map(tuple)
NOTES = st.tuples(*(st.builds(NoteCosts, st.just(n), st.just("x"), MONEY, st.just(n == 1), LINES) for n in (1, 2)))
HOURS = st.builds(HourRow, ROWS, DAYS, st.just("x"), ITEMS | st.none(), st.integers(1, 1440), MONEY, TAGS)
LEFT = st.builds(StepHoursLeft, ITEMS, st.integers(0, 9999), st.booleans(), st.just("x"), DAYS)
BILLS = st.builds(
    BillRow, ROWS, st.just("9"), st.just("x"), DAYS, BOUGHT | st.just("freight"), ITEMS, st.just("x"), MANY, MONEY,
    st.decimals(-500, 3000, places=2), TAGS, st.none() | st.sampled_from("123"),
)  # fmt: skip
ORDERED = st.builds(
    OrderedRow, st.sampled_from("123"), st.just("P-1"), ITEMS, st.just("x"), BOUGHT, MANY, MANY, MANY, MONEY,
    st.none() | MONEY, st.just("order"), st.booleans(), st.booleans(),
)  # fmt: skip
FREIGHT = st.builds(OrderedFreight, ROWS, MONEY, st.booleans(), MONEY, st.booleans(), st.booleans(), st.booleans())
SAID = st.builds(SaidToGo, BOUGHT | st.just("labour"), ITEMS, st.none() | MONEY, st.just("x"), st.just("x"), DAYS)
SEVERAL = {"max_size": 4}
FACTS = st.builds(
    JobFacts,
    st.decimals(1, 10**6, places=2),
    st.lists(QUOTED, max_size=5).map(tuple),
    NOTES,
    *(st.lists(rows, **SEVERAL).map(tuple) for rows in (HOURS, LEFT, BILLS, ORDERED, FREIGHT, SAID)),
    st.just({"": D("49.50")}),
)


@settings(deadline=None)
@given(FACTS)
def test_each_cent_has_one_cause_and_amounts_and_points_add_up(facts):
    costs = job_costs(facts)
    bridge = bridge_of(costs)
    assert bridge.agreed_cost + sum(step.amount for step in bridge.steps) == costs.at_completion
    assert bridge.changes + sum(step.points for step in bridge.steps) == bridge.lost
    assert sum(part.amount for step in bridge.steps for part in step.parts) == bridge.cost - bridge.agreed_cost
    assert all(abs(step.points - step.amount * 100 / costs.contract) < D("0.02") for step in bridge.steps)


@settings(deadline=None)
@given(FACTS)
def test_every_sum_is_that_of_its_rows(facts):
    costs = job_costs(facts)
    spent = sum(row.cost for row in facts.hours) + sum(row.amount for row in facts.bills)
    assert costs.of("worked") + costs.of("billed") == spent
    assert costs.at_completion == costs.to_date + costs.to_complete
    assert sum(item.at_completion for item in costs.items) == costs.at_completion
    assert sum(group.to_date for group in costs.by_category.values()) == costs.to_date


@settings(deadline=None)
@given(FACTS, st.randoms(use_true_random=False))
def test_the_order_of_the_rows_moves_no_figure(facts, random: Random):
    def shuffled(rows):
        return tuple(random.sample(rows, len(rows)))

    one_each = replace(facts, hours_left=facts.hours_left[:1], said=facts.said[:1])
    moved = {name: shuffled(getattr(one_each, name)) for name in ("hours", "bills", "ordered", "freight", "notes")}
    was, now = job_costs(one_each), job_costs(replace(one_each, **moved))
    assert (was.parts, was.gaps) == (now.parts, now.gaps)
    assert [(s.cause, s.amount, s.points) for s in bridge_of(was).steps] == [
        (s.cause, s.amount, s.points) for s in bridge_of(now).steps
    ]


def test_a_share_is_exact_on_the_way():
    facts = one_item("materials", ("3", "0.10"), bought("materials", "all work", "1", "0.33"))
    assert job_costs(facts).margin == Fraction(10000000 - 33, 10000000)
