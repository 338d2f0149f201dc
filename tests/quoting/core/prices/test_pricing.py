"""Prices, taxes, instalments, deposits and the cost of an hour.

Expected amounts are those of the invented dental and childcare jobs and of the trade rules on money, worked
out by hand.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.core.ground.money import to_cents
from quoting.core.prices.costs import CATEGORIES, CostLine, cost_line
from quoting.core.prices.figures import PricingError
from quoting.core.prices.labour import labour_cost
from quoting.core.prices.payments import DepositRule, Instalment, deposit
from quoting.core.prices.pricing import PricingPolicy, price_quote
from quoting.core.prices.tax import PriceLine, TaxRule

NO_TAX = TaxRule("Sales tax", Decimal(0))
TAX_13 = TaxRule("Sales tax", Decimal("0.13"))


def at_margin(margin: str, minimum: str | None = None) -> PricingPolicy:
    least = None if minimum is None else Decimal(minimum)
    return PricingPolicy("margin", target_margin=Decimal(margin), minimum_margin=least)


def lump(category: str, cost: str, section: str = "") -> CostLine:
    return cost_line(category, "lump sum", Decimal(1), "each", Decimal(cost), section)


DENTAL_COSTS = [
    lump("materials", "3180.00"),
    cost_line("labour", "all work", Decimal(96), "h", Decimal("47.00")),
    lump("subcontract", "650.00"),
    lump("other", "240.00"),
]


def test_the_dental_price_at_38_percent_margin():
    quote = price_quote(DENTAL_COSTS, at_margin("0.38"), TAX_13)
    assert quote.cost == Decimal("8582.00")
    assert quote.price == Decimal("13841.94")
    assert quote.tax == Decimal("1799.45")
    assert quote.total == Decimal("15641.39")
    assert round(quote.margin, 4) == Decimal("0.3800")
    assert [line.price for line in quote.lines] == [Decimal("13841.94")]


def test_the_markup_that_stands_for_the_dental_margin_gives_the_same_price():
    markup = Decimal("0.38") / Decimal("0.62")
    policy = PricingPolicy("markup", markup_by_category=dict.fromkeys(CATEGORIES, markup))
    quote = price_quote(DENTAL_COSTS, policy, TAX_13)
    # Four categories are rounded apart, so the routes may part by two cents at most.
    assert abs(quote.price - Decimal("13841.94")) <= Decimal("0.02")


def test_the_childcare_price_at_36_percent_margin():
    quote = price_quote([lump("materials", "18940.00")], at_margin("0.36"), NO_TAX)
    assert quote.price == Decimal("29593.75")


def test_10_000_at_25_percent_margin_is_13_333_33():
    """Textbook figure of retail arithmetic, from memory: 10,000 / 0.75 = 13,333.33."""
    assert price_quote([lump("other", "10000.00")], at_margin("0.25"), NO_TAX).price == Decimal("13333.33")


def test_an_hour_costs_47_04_with_its_burden():
    # Trade rules, money: 87,205.60 over 1,854 productive hours.
    hour = labour_cost(
        Decimal("32.00"),
        payroll_tax_rate=Decimal("0.1125"),
        insurance_rate=Decimal("0.085"),
        health_per_year=Decimal(6000),
        other_per_year=Decimal(1500),
        paid_hours=Decimal(2080),
        unproductive_hours=Decimal(226),
    )
    assert hour.yearly_cost == Decimal("87205.60")
    assert (hour.productive_hours, hour.cost_per_hour) == (Decimal(1854), Decimal("47.04"))


def test_an_hour_cannot_be_worked_out_without_productive_hours():
    with pytest.raises(PricingError, match="productive hours must be over 0"):
        labour_cost(
            Decimal(32),
            payroll_tax_rate=Decimal(0),
            insurance_rate=Decimal(0),
            health_per_year=Decimal(0),
            other_per_year=Decimal(0),
            paid_hours=Decimal(226),
            unproductive_hours=Decimal(226),
        )


def test_markups_by_category_are_rounded_and_added():
    policy = PricingPolicy(
        "markup",
        markup_by_category={
            "materials": Decimal("0.35"),
            "labour": Decimal("0.80"),
            "subcontract": Decimal("0.10"),
            "other": Decimal(0),
        },
    )
    quote = price_quote(DENTAL_COSTS, policy, NO_TAX)
    # 3,180.00 x 1.35 + 4,512.00 x 1.80 + 650.00 x 1.10 + 240.00
    assert dict(quote.price_by_category) == {
        "materials": Decimal("4293.00"),
        "labour": Decimal("8121.60"),
        "subcontract": Decimal("715.00"),
        "other": Decimal("240.00"),
    }
    assert quote.price == Decimal("13369.60")
    assert round(quote.margin, 4) == Decimal("0.3581")
    assert round(quote.markup, 4) == Decimal("0.5579")


def test_a_category_without_a_markup_is_a_named_gap():
    policy = PricingPolicy("markup", markup_by_category={"materials": Decimal("0.35")})
    with pytest.raises(PricingError, match=r"no markup on labour, which cost 4,512\.00"):
        price_quote(DENTAL_COSTS, policy, NO_TAX)


def test_costs_of_the_whole_job_are_spread_over_the_sections_by_their_own_costs():
    costs = [
        lump("materials", "300.00", "Wall A"),
        lump("materials", "100.00", "Wall B"),
        lump("other", "40.00"),
    ]
    quote = price_quote(costs, at_margin("0.5"), NO_TAX)
    assert [(line.section, line.price) for line in quote.lines] == [
        ("Wall A", Decimal("660.00")),
        ("Wall B", Decimal("220.00")),
    ]


def test_sections_keep_the_order_asked_for():
    costs = [lump("materials", "1.00", "A"), lump("materials", "2.00", "B")]
    quote = price_quote(costs, at_margin("0"), NO_TAX, sections=["B", "A"])
    assert [line.section for line in quote.lines] == ["B", "A"]


def test_costs_of_the_whole_job_alone_are_spread_evenly_over_listed_sections():
    quote = price_quote([lump("materials", "90.00")], at_margin("0.1"), NO_TAX, sections=["A", "B"])
    assert [line.price for line in quote.lines] == [Decimal("50.00"), Decimal("50.00")]


@pytest.mark.parametrize(
    ("sections", "reason"),
    [(["B"], "section 'A', which is not among"), (["A", "A"], "twice"), (["A", "C"], "'C' has no cost")],
)
def test_sections_that_do_not_match_the_costs_are_refused(sections, reason):
    with pytest.raises(PricingError, match=reason):
        price_quote([lump("materials", "1.00", "A")], at_margin("0"), NO_TAX, sections=sections)


@pytest.mark.parametrize("costs", [[], [lump("other", "0.00")]])
def test_nothing_to_price_is_refused(costs):
    with pytest.raises(PricingError, match="nothing to price"):
        price_quote(costs, at_margin("0.38"), NO_TAX)


def test_tax_by_line_and_by_document_may_differ_and_say_so():
    costs = [lump("materials", "0.10", name) for name in "ABC"]
    by_line = price_quote(costs, at_margin("0"), replace(TAX_13, basis="line"))
    by_document = price_quote(costs, at_margin("0"), TAX_13)
    # 13 % of 0.10 is 0.013 on each line; 13 % of 0.30 is 0.039.
    assert ([line.tax for line in by_line.lines], by_line.tax) == ([Decimal("0.01")] * 3, Decimal("0.03"))
    assert ([line.tax for line in by_document.lines], by_document.tax) == ([Decimal(0)] * 3, Decimal("0.04"))
    assert "rounded on each line" in by_line.explanations[-1]
    assert "rounded once" in by_document.explanations[-1]


def test_tax_on_materials_only_is_on_their_part_of_the_price():
    costs = [lump("materials", "100.00"), lump("labour", "300.00")]
    quote = price_quote(costs, at_margin("0.5"), replace(TAX_13, applies_to="materials"))
    assert (quote.taxed, quote.tax) == (Decimal("200.00"), Decimal("26.00"))


def test_an_exempt_client_pays_no_tax_and_the_certificate_is_named():
    # Library example: tax exempt with a certificate number.
    quote = price_quote(DENTAL_COSTS, at_margin("0.38"), replace(TAX_13, exempt_certificate="EX-4471"))
    assert (quote.tax, quote.total) == (Decimal("0.00"), Decimal("13841.94"))
    assert "exempt with certificate EX-4471" in quote.explanations[-1]


def test_instalments_add_up_to_the_total_and_the_last_takes_the_cent():
    events = [("on signing", "0.10"), ("framing up", "0.40"), ("boards up", "0.40"), ("handed over", "0.10")]
    quote = price_quote(
        [lump("other", "12345.67")],
        at_margin("0"),
        NO_TAX,
        instalments=[Instalment(event, Decimal(share)) for event, share in events],
    )
    # Each rounded half up (1234.567, 4938.268, 4938.268), the last takes what remains.
    assert [str(due.amount) for due in quote.instalments] == ["1234.57", "4938.27", "4938.27", "1234.56"]


def test_instalments_that_are_not_the_whole_are_refused():
    with pytest.raises(PricingError, match=r"must add up to 1 \(100 %\); these add up to 0\.9"):
        price_quote(DENTAL_COSTS, at_margin("0.38"), TAX_13, instalments=[Instalment("on signing", Decimal("0.9"))])


def test_a_margin_below_the_gate_is_flagged_and_said():
    low = price_quote(DENTAL_COSTS, at_margin("0.20", "0.30"), NO_TAX)
    fair = price_quote(DENTAL_COSTS, at_margin("0.38", "0.30"), NO_TAX)
    assert (low.below_minimum_margin, fair.below_minimum_margin) == (True, False)
    assert low.explanations[-1] == "The margin is below the firm's least of 30 %."


def test_the_explanations_name_every_step():
    quote = price_quote(DENTAL_COSTS, at_margin("0.38"), TAX_13)
    assert quote.explanations == (
        "Cost 8,582.00 at a target margin of 38 %: price 13,841.94.",
        "Margin 38 % of the price.",
        "Sales tax 13 % on the price, 13,841.94, rounded once: 1,799.45.",
    )


THIRD = Fraction(1, 3)


@pytest.mark.parametrize(
    ("rule", "amount"),
    [
        (DepositRule(THIRD), "9864.58"),
        (DepositRule(Decimal("0.10")), "2959.38"),
        (DepositRule(Decimal("0.10"), at_most=Decimal("1000.00")), "1000.00"),
        (DepositRule(THIRD, covers_special_orders=True), "9864.58"),
    ],
)
def test_the_childcare_deposits(rule, amount):
    # Childcare example: price 29,593.75, special orders 4,260.00.
    assert deposit(Decimal("29593.75"), Decimal("4260.00"), rule).amount == Decimal(amount)


def test_a_deposit_is_raised_to_the_special_orders_but_never_over_the_price():
    rule = DepositRule(Decimal("0.10"), covers_special_orders=True)
    assert deposit(Decimal("10000.00"), Decimal("4260.00"), rule).amount == Decimal("4260.00")
    assert deposit(Decimal("3000.00"), Decimal("4260.00"), rule).amount == Decimal("3000.00")


def test_a_deposit_over_the_law_is_warned_of_and_one_at_the_limit_is_not():
    over = deposit(Decimal("29593.75"), Decimal("0.00"), DepositRule(THIRD, legal_amount=Decimal("1000.00")))
    assert "over the limit of 1,000.00" in over.warnings[0]
    at_limit = deposit(Decimal("30000.00"), Decimal("0.00"), DepositRule(THIRD, legal_share=THIRD))
    assert at_limit.warnings == ()


def test_a_deposit_that_does_not_cover_special_orders_says_so():
    rule = DepositRule(Decimal("0.10"), at_most=Decimal("1000.00"))
    result = deposit(Decimal("29593.75"), Decimal("4260.00"), rule)
    assert result.explanation == "Deposit 1,000.00: the lesser of 10 % of 29,593.75 and 1,000.00."
    assert result.warnings == ("The deposit of 1,000.00 does not cover the special orders of 4,260.00.",)


@pytest.mark.parametrize(
    ("make", "reason"),
    [
        (lambda: lump("paint", "1.00"), "not 'paint'"),
        (lambda: cost_line("other", "x", Decimal(-1), "h", Decimal(1)), "quantity must be from 0"),
        (lambda: cost_line("other", "x", Decimal(1), "h", Decimal("NaN")), "unit cost must be an ordinary"),
        (lambda: cost_line("other", "x", Decimal(1), "h", 1.5), "exact decimal, not a float"),
        (lambda: cost_line("other", "x", Decimal("1E-300"), "h", Decimal(1)), "ordinary number"),
        (lambda: cost_line("other", " ", Decimal(1), "h", Decimal(1)), "say what it is for"),
        (
            lambda: CostLine("other", "x", Decimal(2), "h", Decimal("1.50"), Decimal("3.01")),
            r"2 at 1\.50 is 3\.00, not 3\.01",
        ),
        (lambda: at_margin("1"), r"must be under 1 \(100 %\)"),
        (lambda: at_margin("1.2"), "from 0 to 1"),
        (lambda: at_margin("-0.1"), "from 0 to 1"),
        (lambda: PricingPolicy("margin"), "target margin is missing"),
        (lambda: PricingPolicy("guess"), "not 'guess'"),
        (lambda: PricingPolicy("markup", markup_by_category={"x": Decimal(1)}), "no category 'x'"),
        (lambda: PricingPolicy("markup", markup_by_category={"other": Decimal(11)}), "markup on other"),
        (lambda: TaxRule("", Decimal(0)), "needs a name"),
        (lambda: TaxRule("T", Decimal(13)), "rate must be from 0 to 1, not 13"),
        (lambda: TaxRule("T", Decimal(0), "labour"), "not 'labour'"),
        (lambda: TaxRule("T", Decimal(0), "price", "page"), "not 'page'"),
        (lambda: Instalment("", Decimal(1)), "needs the event"),
        (lambda: Instalment("x", Decimal(0)), "share must be over 0"),
        (lambda: DepositRule(Decimal(2)), "share must be from 0 to 1"),
        (lambda: DepositRule(THIRD, Decimal("1.00"), True), "not both"),
        (lambda: deposit(Decimal("1.001"), Decimal(0), DepositRule(THIRD)), "whole cents"),
        (lambda: deposit(Decimal("Infinity"), Decimal(0), DepositRule(THIRD)), "contract price: .* finite"),
        (
            lambda: cost_line("other", "x", Decimal(10**7), "h", Decimal(10**7)),
            "'x': .* at most 1,000,000,000",
        ),
        (lambda: PriceLine("A", Decimal("1.00"), Decimal("2.00"), Decimal(0)), "more is taxed"),
        (lambda: at_margin("1"), "under 1"),
    ],
)
def test_what_cannot_be_priced_is_refused_by_name(make, reason):
    with pytest.raises(PricingError, match=reason):
        make()


def test_a_quote_whose_parts_do_not_add_up_cannot_be_made():
    quote = price_quote(DENTAL_COSTS, at_margin("0.38"), TAX_13)
    for wrong in (
        {"price": quote.price + 1},
        {"total": quote.total + 1},
        {"cost": quote.cost + 1},
        {"lines": (*quote.lines, *quote.lines)},
        {"tax": quote.tax + Decimal("0.001")},
    ):
        with pytest.raises(PricingError):
            replace(quote, **wrong)


LINES = st.builds(
    cost_line,
    st.sampled_from(CATEGORIES),
    st.just("work"),
    st.decimals("0.01", 500, places=2),
    st.just("each"),
    st.decimals("0.50", 900, places=4),
    st.sampled_from(["", "Wall A", "Wall B", "Wall C"]),
)
POLICIES = st.one_of(
    st.decimals(0, "0.9", places=3).map(lambda margin: PricingPolicy("margin", target_margin=margin)),
    st.lists(st.decimals(0, 3, places=3), min_size=4, max_size=4).map(
        lambda markups: PricingPolicy("markup", markup_by_category=dict(zip(CATEGORIES, markups, strict=True)))
    ),
)
TAXES = st.builds(
    TaxRule,
    st.just("Sales tax"),
    st.decimals(0, "0.3", places=5),
    st.sampled_from(["price", "materials"]),
    st.sampled_from(["document", "line"]),
)
COSTS = st.lists(LINES, min_size=1, max_size=12).filter(lambda lines: any(line.cost for line in lines))


@settings(deadline=None)
@given(COSTS, POLICIES, TAXES, st.lists(st.integers(1, 9), max_size=5))
def test_everything_that_must_add_up_does(costs, policy, tax, weights):
    instalments = [
        Instalment(f"event {number}", Fraction(weight, sum(weights))) for number, weight in enumerate(weights)
    ]
    quote = price_quote(costs, policy, tax, instalments=instalments)
    assert sum(line.cost for line in costs) == quote.cost == sum(quote.cost_by_category.values())
    assert sum(line.price for line in quote.lines) == quote.price == sum(quote.price_by_category.values())
    assert quote.price + quote.tax == quote.total
    assert sum(due.amount for due in quote.instalments) == (quote.total if weights else 0)
    assert quote.price >= quote.cost - len(CATEGORIES) * Decimal("0.01")
    exact_tax = Fraction(quote.taxed) * Fraction(tax.rate)
    slack = Fraction(1, 200) * (len(quote.lines) if tax.basis == "line" else 1)
    assert abs(Fraction(quote.tax) - exact_tax) <= slack


@settings(deadline=None)
@given(COSTS, st.decimals(0, "0.9", places=3))
def test_the_price_is_the_cost_over_one_less_the_margin(costs, margin):
    quote = price_quote(costs, PricingPolicy("margin", target_margin=margin), NO_TAX)
    assert quote.price == to_cents(Fraction(quote.cost) / (1 - Fraction(margin)))


@settings(deadline=None)
@given(COSTS, LINES, POLICIES)
def test_more_cost_never_lowers_the_price(costs, one_more, policy):
    before = price_quote(costs, policy, NO_TAX).price
    assert price_quote([*costs, one_more], policy, NO_TAX).price >= before


@settings(deadline=None)
@given(COSTS, st.decimals(0, "0.9", places=3), st.decimals(0, "0.9", places=3))
def test_a_higher_margin_never_lowers_the_price(costs, entry, two):
    low, high = sorted([entry, two])
    prices = [price_quote(costs, PricingPolicy("margin", target_margin=margin), NO_TAX).price for margin in (low, high)]
    assert prices[0] <= prices[1]
