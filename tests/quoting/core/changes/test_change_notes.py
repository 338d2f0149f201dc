"""Changes of either sign: sums that add up whatever the lines, and nothing counted before it is signed."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.core.changes.change_notes import ChangeError, ChangeLine, contract_sum, price_change
from quoting.core.prices.tax import TaxRule

CENTS = st.decimals(Decimal("-99999.99"), Decimal("99999.99"), places=2)
RULE = TaxRule("Sales tax", Decimal("0.08875"))


def test_tax_of_a_change_is_rounded_half_up_away_from_zero_on_either_side():
    """0.5 x 0.05 = 0.025: 0.03, and -0.03 (half up on the exact value, as in Streamlined Sales Tax, section 324)."""
    half = TaxRule("Tax", Decimal("0.05"))
    for price, tax in ((Decimal("0.50"), Decimal("0.03")), (Decimal("-0.50"), Decimal("-0.03"))):
        assert price_change([ChangeLine("x", price, price)], half).tax == tax


def test_an_exempt_client_is_charged_no_tax_on_a_change():
    exempt = TaxRule("Sales tax", Decimal("0.13"), exempt_certificate="TX-1")
    priced = price_change([ChangeLine("x", Decimal("100.00"), Decimal("100.00"))], exempt)
    assert (priced.tax, priced.total) == (Decimal("0.00"), Decimal("100.00"))


@given(st.lists(CENTS, min_size=1, max_size=8))
def test_a_change_and_its_opposite_come_to_nothing(amounts):
    there = price_change([ChangeLine("x", amount, amount) for amount in amounts], RULE)
    back = price_change([ChangeLine("x", -amount, -amount) for amount in amounts], RULE)
    assert there.total + back.total == 0
    assert there.price == sum(amounts)


@given(CENTS.map(abs), st.lists(CENTS, max_size=6), st.lists(CENTS, max_size=6))
def test_what_waits_never_moves_the_contract_sum(accepted, signed, waiting):
    sums = contract_sum(accepted, signed, waiting)
    assert sums.total == accepted + sum(signed)
    assert sums.exposure >= 0 >= sums.relief
    assert sums.exposure + sums.relief == sum(waiting)


@pytest.mark.parametrize(("price", "taxed"), [("10.00", "10.01"), ("-10.00", "1.00"), ("10.00", "-1.00")])
def test_no_more_is_taxed_than_the_price_and_nothing_of_the_other_sign(price, taxed):
    with pytest.raises(ChangeError, match="taxed part"):
        ChangeLine("x", Decimal(price), Decimal(taxed))


def test_a_change_without_a_line_is_refused():
    with pytest.raises(ChangeError, match="at least one line"):
        price_change([], RULE)
