"""Rounding, reading and splitting money.

Rounding is checked against the standard library's ROUND_HALF_UP; the amounts of the split are those of the
project's notes on methods (12 345.67 at 10/40/40/10, 2.2649 rounded once).
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.core.ground.money import (
    MAX_AMOUNT,
    MoneyError,
    parse_money,
    share_out,
    split_by_shares,
    to_cents,
)
from catalog.core.ground.typed_marks import MoneyMarks

AMOUNTS = st.decimals(-(10**9), 10**9, places=6)
CENTS = st.integers(-(10**11), 10**11).map(lambda cents: Decimal(cents).scaleb(-2))


@pytest.mark.parametrize(
    ("amount", "cents"),
    [
        ("2.2649", "2.26"),
        ("2.265", "2.27"),
        ("0.005", "0.01"),
        ("-0.005", "-0.01"),
        ("0.0049999999999999999999999999999", "0.00"),
        ("1E+3", "1000.00"),
        ("-0.001", "0.00"),
    ],
)
def test_amounts_round_half_up_once(amount, cents):
    assert str(to_cents(Decimal(amount))) == cents


def test_a_fraction_is_rounded_from_its_exact_value():
    assert to_cents(Fraction(2959375, 300)) == Decimal("9864.58")
    assert to_cents(Fraction(1, 200)) == Decimal("0.01")


@settings(deadline=None)
@given(AMOUNTS)
def test_rounding_agrees_with_the_standard_library(amount):
    assert to_cents(amount) == amount.quantize(Decimal("0.01"), ROUND_HALF_UP, Context(prec=60))


@settings(deadline=None)
@given(AMOUNTS)
def test_rounding_twice_changes_nothing_and_never_gives_minus_zero(amount):
    once = to_cents(amount)
    assert to_cents(once) == once
    assert not (once.is_zero() and once.is_signed())


@pytest.mark.parametrize(
    "amount", ["NaN", "sNaN", "Infinity", "-Infinity", "1E+20", "1E+999999", "1E-999999", "1000000000000.01"]
)
def test_what_is_not_an_amount_is_refused(amount):
    with pytest.raises(MoneyError):
        to_cents(Decimal(amount))


@pytest.mark.parametrize("amount", [1.5, 3, True, "1.00", None])
def test_only_exact_decimals_are_money(amount):
    with pytest.raises(MoneyError, match="exact decimal"):
        to_cents(amount)


@pytest.mark.parametrize(
    ("text", "amount"), [("1250", "1250.00"), ("1250.5", "1250.50"), ("0", "0.00"), ("0.10", "0.10")]
)
def test_an_amount_is_read(text, amount):
    assert str(parse_money(text, "Freight")) == amount


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("12,50", "comma where none belongs"),
        ("12,50.00", "comma where none belongs"),
        ("12.345", "more than 2 places"),
        ("1/2", "fraction"),
        ("-5", "under zero"),
        ("nan", "not a number"),
        ("1e5", "not a number"),
        ("1_000", "not a number"),
        ("true", "not a number"),
        ("$5", "names another currency"),
        ("", "nothing was given"),
        ("99999999999999", "too large"),
        ("9" * 5000, "too long"),
    ],
)
def test_a_wrong_amount_is_refused_with_the_field_and_the_reason(text, reason):
    with pytest.raises(MoneyError, match=rf"^Freight: .*{reason}"):
        parse_money(text, "Freight")


@pytest.mark.parametrize("text", ["$5,213.80", "USD 5,213.80", "5,213.80", "5213.80", "5,213.80 USD", "$ 5213.8"])
def test_an_amount_is_read_as_it_is_printed(text):
    assert parse_money(text, "Freight", marks=MoneyMarks("USD")) == Decimal("5213.80")


@pytest.mark.parametrize("text", ["€668", "668 CAD"])
def test_an_amount_of_another_currency_is_refused(text):
    with pytest.raises(MoneyError, match="names another currency; type the amount in USD alone"):
        parse_money(text, "Freight", marks=MoneyMarks("USD"))


def test_a_decimal_comma_is_read_where_the_place_prints_one_and_refused_elsewhere():
    german = MoneyMarks("EUR", ",", ".")
    read = [parse_money(text, "Freight", marks=german) for text in ("5.213,80", "5.213", "0,5", "5213.80")]
    assert [str(amount) for amount in read] == ["5213.80", "5213.00", "0.50", "5213.80"]
    with pytest.raises(MoneyError, match="type it like 1.250,50"):
        parse_money("5,213.80", "Freight", marks=german)


def test_a_unit_price_may_have_more_places_and_a_credit_may_be_negative():
    assert parse_money("0.0345", "Screws", places=4) == Decimal("0.0345")
    assert parse_money("-5", "Credit", allow_negative=True) == Decimal("-5.00")


def test_12345_67_at_10_40_40_10_adds_exactly():
    shares = [Decimal("0.10"), Decimal("0.40"), Decimal("0.40"), Decimal("0.10")]
    parts = split_by_shares(Decimal("12345.67"), shares)
    assert sum(parts) == Decimal("12345.67")
    # Each rounded half up (1234.567, 4938.268, 4938.268), the last takes what remains.
    assert [str(part) for part in parts] == ["1234.57", "4938.27", "4938.27", "1234.56"]


def test_a_third_a_time_leaves_the_odd_cent_to_the_last():
    # Worked example: a third of 29,593.75 is 9,864.58.
    parts = split_by_shares(Decimal("29593.75"), [Fraction(1, 3)] * 3)
    assert [str(part) for part in parts] == ["9864.58", "9864.58", "9864.59"]


def test_tiny_shares_never_leave_the_last_below_nothing():
    parts = split_by_shares(Decimal("0.02"), [Decimal("0.25")] * 4)
    assert sum(parts) == Decimal("0.02")
    assert min(parts) >= 0


def test_shares_that_are_not_the_whole_are_refused():
    with pytest.raises(MoneyError, match=r"add up to 1 \(100 %\); these add up to 100"):
        split_by_shares(Decimal("100.00"), [Decimal(10), Decimal(90)])


@pytest.mark.parametrize(
    ("total", "weights", "reason"),
    [
        ("1.00", [], "at least one weight"),
        ("1.00", ["0", "0"], "All weights are 0"),
        ("1.00", ["2", "-1"], "0 or more, not -1"),
        ("1.00", ["NaN"], "finite"),
        ("1.001", ["1"], "whole cents"),
    ],
)
def test_what_cannot_be_shared_is_refused(total, weights, reason):
    with pytest.raises(MoneyError, match=reason):
        share_out(Decimal(total), [Decimal(weight) for weight in weights])


@settings(deadline=None)
@given(CENTS, st.lists(st.decimals(0, 10**6, places=3), min_size=1, max_size=12).filter(any))
def test_parts_add_up_exactly_and_stay_within_a_cent_of_their_share(total, weights):
    parts = share_out(total, weights)
    whole = sum(Fraction(weight) for weight in weights)
    assert sum(parts) == total
    for part, weight in zip(parts, weights, strict=True):
        assert abs(Fraction(part) - Fraction(total) * Fraction(weight) / whole) <= Fraction(1, 100)
        assert part == to_cents(part)
        assert weight or part == 0
        assert part * total >= 0


@settings(deadline=None)
@given(CENTS, st.lists(st.integers(1, 1000), min_size=1, max_size=8))
def test_shares_of_the_whole_split_exactly(total, weights):
    shares = [Fraction(weight, sum(weights)) for weight in weights]
    assert sum(split_by_shares(total, shares)) == total


def test_the_largest_amount_is_still_exact():
    assert to_cents(MAX_AMOUNT) == MAX_AMOUNT
