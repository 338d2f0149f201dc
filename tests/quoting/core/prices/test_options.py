"""Options, allowances, overhead and rounding of tax, against figures worked by hand or published."""

from decimal import Decimal
from itertools import chain, combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoting.core.prices.allowances import Allowance, settle
from quoting.core.prices.figures import PricingError
from quoting.core.prices.margin_gate import below_least
from quoting.core.prices.options import Offer, OptionError, PricedOption, total_with
from quoting.core.prices.payments import DepositRule, Instalment
from quoting.core.prices.tax import PriceLine, TaxRule, tax_on_line

LINE = PriceLine("Screen", Decimal("13841.94"), Decimal("13841.94"), Decimal("0.00"))
TAX = TaxRule("Sales tax", Decimal("0.13"))
THIRDS = tuple(Instalment(event, Decimal(share)) for event, share in (("start", "0.4"), ("up", "0.4"), ("end", "0.2")))


def option(key, price, **more):
    return PricedOption(key, key.capitalize(), Decimal(price), more.pop("taxed", Decimal(price)), **more)


OAK, ASH, COAT = option("oak", "480.00", group="Cap"), option("ash", "-120.50", group="Cap"), option("coat", "250.00")
OFFER = Offer((LINE,), TAX, (OAK, ASH, COAT), THIRDS, DepositRule(Decimal("0.1"), at_most=Decimal("1000.00")))


def test_total_tax_instalments_and_deposit_follow_the_choice():
    # (13,841.94 + 480 + 250) = 14,571.94; 13 % is 1,894.3522; 40 % of 16,466.29 is 6,586.516. By hand.
    total = total_with(OFFER, ["coat", "oak"])
    assert (total.price, total.tax, total.total) == (Decimal("14571.94"), Decimal("1894.35"), Decimal("16466.29"))
    assert [due.amount for due in total.instalments] == [Decimal("6586.52"), Decimal("6586.52"), Decimal("3293.25")]
    assert (total.deposit.amount, total.instalments[0].to_pay) == (Decimal("1000.00"), Decimal("5586.52"))
    assert total.chosen == ("oak", "coat")


def test_nothing_chosen_is_the_base():
    assert total_with(OFFER, []).total == Decimal("15641.39")


@pytest.mark.parametrize(
    ("chosen", "message"), [(["oak", "ash"], "not both"), (["elm"], "no option"), (["oak", "oak"], "is there twice")]
)
def test_a_choice_that_cannot_be_is_refused_in_words(chosen, message):
    with pytest.raises(OptionError, match=message):
        total_with(OFFER, chosen)


def test_an_exempt_client_pays_no_tax_on_an_option():
    exempt = TaxRule("Sales tax", Decimal("0.13"), "price", "line", "EX-1")
    line = PriceLine("Screen", Decimal("100.00"), Decimal("0.00"), Decimal("0.00"))
    total = total_with(Offer((line,), exempt, (option("oak", "50.00"),)), ["oak"])
    assert (total.tax, total.total) == (Decimal("0.00"), Decimal("150.00"))
    assert "EX-1" in total.tax_words


def test_options_that_could_bring_the_price_below_nothing_are_refused():
    with pytest.raises(PricingError, match="under 0"):
        Offer((LINE,), TAX, (option("less", "-9000.00"), option("lesser", "-9000.00")))
    # The control: of one group only one of them can be chosen.
    Offer((LINE,), TAX, (option("less", "-9000.00", group="A"), option("lesser", "-9000.00", group="A")))


def choices(options):
    keys = [entry.key for entry in options]
    return chain.from_iterable(combinations(keys, size) for size in range(len(keys) + 1))


cents = st.integers(-30_000, 30_000).map(lambda number: Decimal(number) / 100)


@given(st.lists(st.tuples(cents, cents, st.sampled_from(["", "A", "B"])), max_size=5), st.integers(0, 90))
@settings(max_examples=60, deadline=None)
def test_the_least_margin_of_any_choice_is_that_of_trying_them_all(parts, percent):
    least = Decimal(percent) / 100
    options = tuple(
        option(f"o{place}", price, cost=cost, group=group) for place, (price, cost, group) in enumerate(parts)
    )
    price, cost = Decimal("2000.00"), Decimal("1200.00")
    offer = Offer((PriceLine("Screen", price, price, Decimal("0.00")),), TAX, options)
    short = []
    for chosen in choices(options):
        try:
            total = total_with(offer, chosen)
        except OptionError:
            continue
        spent = cost + sum((entry.cost for entry in options if entry.key in chosen), Decimal(0))
        short.append(spent / (1 - least) - total.price)
    result = below_least(price, cost, least, options)
    assert abs((result.shortfall if result else Decimal(0)) - max(*short, Decimal(0), Decimal(0))) <= Decimal("0.006")


def test_an_overrun_of_an_allowance_makes_a_change_and_an_underrun_one_the_other_way():
    """The worked case: 620 on an allowance of 500 adds 120."""
    allowance = Allowance("Lamp", Decimal("500.00"))
    amounts = [settle(allowance, Decimal(actual)).difference for actual in ("620.00", "500.00", "410.50")]
    assert amounts == [Decimal("120.00"), Decimal("0.00"), Decimal("-89.50")]
    marked = Allowance("Lamp", Decimal("500.00"), over_markup=Decimal("0.15"))
    assert settle(marked, Decimal("620.00")).difference == Decimal("138.00")


@pytest.mark.parametrize(
    ("taxed", "rate", "tax"),
    [("10.00", "0.0725", "0.73"), ("0.50", "0.05", "0.03"), ("1.00", "0.0649", "0.06"), ("22.649", "0.1", "2.26")],
)
def test_tax_is_carried_to_the_third_place_and_rounded_up_over_four(taxed, rate, tax):
    """Streamlined Sales and Use Tax Agreement, section 324 (from memory): 0.725 is 0.73, 0.0649 is 0.06.

    On the exact value: 2.2649 is 2.26, where rounding to 2.265 first would give 2.27.
    """
    assert tax_on_line(Decimal(taxed), TaxRule("Tax", Decimal(rate), "price", "line")) == Decimal(tax)


@pytest.mark.parametrize(
    ("rule", "amount"),
    [
        (DepositRule(Decimal("0.1")), "2959.38"),
        (DepositRule(Decimal("0.1"), at_most=Decimal("1000.00")), "1000.00"),
    ],
)
def test_the_deposit_of_the_childcare_follows_its_rule(rule, amount):
    """Worked example: a price of 29,593.75."""
    line = PriceLine("Walls", Decimal("29593.75"), Decimal("0.00"), Decimal("0.00"))
    total = total_with(Offer((line,), TaxRule("No tax", Decimal(0)), deposit=rule), [])
    assert total.deposit.amount == Decimal(amount)
