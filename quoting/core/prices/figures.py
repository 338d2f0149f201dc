"""What every figure of a quote is checked by, and how it is said."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction

from catalog.core.ground.money import MoneyError, to_cents
from catalog.core.ground.refusal import InvalidValue

_RATIO = Context(prec=28, rounding=ROUND_HALF_UP)


class PricingError(InvalidValue):
    """A price that cannot be worked out; the message names the figure and what would be right."""


def check_between(value: Decimal | Fraction, what: str, least: Decimal, most: Decimal) -> None:
    """Refuse a figure that is not exact, not ordinary or out of range.

    Args:
        value: the figure, in whatever unit.
        what: its name, which begins the refusal.
        least: the smallest it may be, itself included.
        most: the greatest, itself included.

    Raises:
        PricingError: a float or other inexact type, NaN or Infinity, closer to 0 than any figure of ours, or out
            of range.

    Source: own rule.

    >>> check_between(Decimal("0.38"), "The margin", Decimal(0), Decimal(1))
    """
    if not isinstance(value, Decimal | Fraction):
        raise PricingError(f"{what} must be an exact decimal, not a {type(value).__name__}.")
    if isinstance(value, Decimal) and (not value.is_finite() or (value and value.adjusted() < -12)):
        raise PricingError(f"{what} must be an ordinary number, not {value}.")
    if not least <= value <= most:
        raise PricingError(f"{what} must be from {least:,} to {most:,}, not {value}.")


def check_margin(margin: Decimal, what: str) -> None:
    """Refuse what is no margin.

    Args:
        margin: profit as a share of the price.
        what: its name, which begins the refusal.

    Raises:
        PricingError: under 0, or 1 and more.

    Source: own rule: a margin of 100 % leaves nothing for the cost.

    >>> check_margin(Decimal("0.38"), "The margin")
    """
    check_between(margin, what, Decimal(0), Decimal(1))
    if margin == 1:
        raise PricingError(f"{what} must be under 1 (100 %): no price leaves nothing for the cost.")


def check_cents(amount: Decimal, what: str) -> None:
    """Refuse an amount under 0 or with a part of a cent.

    Args:
        amount: the amount, in any currency.
        what: its name, which begins the refusal.

    Raises:
        PricingError: as said.

    Source: own rule.

    >>> check_cents(Decimal("12.50"), "The price")
    """
    try:
        exact = to_cents(amount) == amount
    except MoneyError as problem:
        raise PricingError(f"{what}: {problem}") from None
    if not exact or amount < 0:
        raise PricingError(f"{what} must be 0 or more and in whole cents, not {amount}.")


def check_sum(parts_name: str, parts: Iterable[Decimal], whole_name: str, whole: Decimal) -> None:
    """Refuse parts that do not add up to their whole.

    Args:
        parts_name: what the parts are called in the refusal.
        parts: the amounts, in whole cents.
        whole_name: what the whole is called.
        whole: the amount they must add up to.

    Raises:
        PricingError: they do not.

    Source: own rule (totals are sums of rounded lines).

    >>> check_sum("lines", [Decimal("1.10"), Decimal("2.20")], "price", Decimal("3.30"))
    """
    together = sum(parts, Decimal("0.00"))
    if together != whole:
        raise PricingError(f"The {parts_name} add up to {together}, but the {whole_name} is {whole}.")


def ratio(upper: Decimal, lower: Decimal) -> Decimal:
    """Divide to 28 digits, whatever the program around has set for its decimals.

    Args:
        upper: what is divided, any sign.
        lower: what by, not 0.

    Returns:
        The quotient, half up in the last digit.

    Source: own rule.

    >>> ratio(Decimal(1), Decimal(8))
    Decimal('0.125')
    """
    return _RATIO.divide(upper, lower)


def percent_words(share: Decimal | Fraction) -> str:
    """Say a share as a percentage of at most two places.

    Args:
        share: a share, any sign.

    Returns:
        Such as ``33.33 %``.

    Source: own rule.

    >>> percent_words(Decimal("0.38"))
    '38 %'
    """
    return f"{to_cents(Fraction(share) * 100).normalize():f} %"
