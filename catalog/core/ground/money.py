"""Money: the one rounding function, reading amounts, and splitting them so that the parts add up exactly."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from catalog.core.ground.refusal import InvalidValue
from catalog.core.ground.typed_marks import PLAIN_MARKS, MarksError, MoneyMarks, plain_amount
from catalog.core.ground.units import UnitError, parse_number

MAX_AMOUNT = Decimal(1_000_000_000_000)
"""Amounts reach this far, either sign: past any job of ours, and safely inside exact arithmetic."""


MAX_AMOUNT_LENGTH = 40


class MoneyError(InvalidValue):
    """An amount, share or currency that cannot be used; the message says what would be right."""


def to_cents(amount: Decimal | Fraction) -> Decimal:
    """Round an amount to whole cents, half up: the only rounding of money in the program.

    Args:
        amount: an amount in any currency, any sign, as an exact ``Decimal`` or ``Fraction``.

    Returns:
        The amount with two places; a half cent goes away from zero; never minus zero.

    Raises:
        MoneyError: not a ``Decimal`` or ``Fraction``, not finite, or beyond ``MAX_AMOUNT``.

    Source: own rule (rounded once, from the exact value).

    >>> to_cents(Decimal("2.2649")), to_cents(Decimal("-0.005"))
    (Decimal('2.26'), Decimal('-0.01'))
    """
    exact = _exact(amount, "The amount")
    cents = (abs(exact) * 200 + 1) // 2
    signed = -cents if exact < 0 else cents
    return Decimal(int(signed)).scaleb(-2)


def parse_money(
    text: str, what: str, *, places: int = 2, allow_negative: bool = False, marks: MoneyMarks = PLAIN_MARKS
) -> Decimal:
    """Read an amount of money as people type it, and as it is printed.

    Args:
        text: such as ``1250.50``, ``1,250.50`` or, where the currency is known, ``$1,250.50``; no fraction. At most
            20 characters without its currency and the marks between thousands.
        what: the name of the field, used in the error.
        marks: how the firm's amounts are printed; a plain ``1250.50`` is read by all of them.
        places: the most digits after the point, 2 for amounts, more for unit prices, 0 to 6.
        allow_negative: whether an amount under 0 may be given.

    Returns:
        The amount, exact, with at least two places.

    Raises:
        MoneyError: not such a number, too many places, negative where that has no meaning, or too large.

    Source: own rule.

    >>> parse_money("1250.5", "Freight")
    Decimal('1250.50')
    """
    try:
        short = isinstance(text, str) and len(text) <= MAX_AMOUNT_LENGTH
        amount = parse_number(plain_amount(text, marks) if short else text, what=what)
    except MarksError as problem:
        raise MoneyError(f"{what}: {problem}.") from None
    except UnitError as problem:
        raise MoneyError(str(problem)) from None
    if "/" in text:
        raise MoneyError(f"{what}: {text!r} is a fraction; type an amount like 1250.50.")
    exponent = amount.normalize().as_tuple().exponent
    if isinstance(exponent, int) and -exponent > places:
        raise MoneyError(f"{what}: {text!r} has more than {places} places; type an amount like 1250.50.")
    if amount < 0 and not allow_negative:
        raise MoneyError(f"{what}: {text!r} is under zero; the amount must be 0 or more.")
    if abs(amount) > MAX_AMOUNT:
        raise MoneyError(f"{what}: {text!r} is too large; an amount is at most {MAX_AMOUNT:,}.")
    in_cents = to_cents(amount)
    return in_cents if in_cents == amount else amount


def split_by_shares(total: Decimal, shares: Sequence[Decimal | Fraction]) -> tuple[Decimal, ...]:
    """Split an amount by shares that make up the whole, such as instalments.

    Args:
        total: an amount in whole cents, any sign.
        shares: one share per part, each 0 or more, together exactly 1 (10 % is ``0.10``).

    Returns:
        One amount per share, in whole cents, adding up to ``total`` exactly: each is rounded on its own and the
        last takes what remains. Where nothing would remain for it, the running sums are rounded instead.

    Raises:
        MoneyError: no shares, a share under 0 or not finite, shares not adding up to 1, or a part of a cent.

    Source: trade rules, money (own rule: the last instalment takes the remaining cent).

    >>> [str(part) for part in split_by_shares(Decimal("100.00"), [Decimal("0.125")] * 8)][:3]
    ['12.50', '12.50', '12.50']
    """
    together = sum((_exact(share, "A share") for share in shares), Fraction(0))
    if shares and together != 1:
        raise MoneyError(f"The shares must add up to 1 (100 %); these add up to {float(together):g}.")
    cumulative = share_out(total, shares)
    whole = _exact(total, "The amount")
    first = tuple(to_cents(whole * _exact(share, "A share")) for share in shares[:-1])
    last = total - sum(first, Decimal(0))
    # With many tiny shares the roundings may eat the last part up; then the running sums are rounded instead.
    return (*first, last) if last == 0 or (last > 0) == (total > 0) else cumulative


def share_out(total: Decimal, weights: Sequence[Decimal | Fraction]) -> tuple[Decimal, ...]:
    """Share an amount in proportion to weights, such as a freight charge over the walls of a job.

    Args:
        total: an amount in whole cents, any sign.
        weights: one weight per part, each 0 or more, not all 0; only their proportion counts.

    Returns:
        One amount per weight, in whole cents, adding up to ``total`` exactly; a weight of 0 gets 0.

    Raises:
        MoneyError: no weights, a weight under 0 or not finite, all weights 0, or a part of a cent.

    Source: own rule (cumulative rounding).

    >>> [str(part) for part in share_out(Decimal("10.00"), [Decimal(1), Decimal(1), Decimal(1)])]
    ['3.33', '3.34', '3.33']
    """
    exact_total = _exact(total, "The total")
    if to_cents(total) != total:
        raise MoneyError(f"The total must be in whole cents, not {total}.")
    exact_weights = [_exact(weight, "A weight") for weight in weights]
    if not exact_weights:
        raise MoneyError("There is nothing to share the amount over: give at least one weight.")
    if min(exact_weights) < 0:
        raise MoneyError(f"A weight must be 0 or more, not {min(weights)}.")
    whole = sum(exact_weights, Fraction(0))
    if whole == 0:
        raise MoneyError("All weights are 0: at least one must be over 0.")
    parts = []
    running, given = Fraction(0), Decimal("0.00")
    for weight in exact_weights:
        running += weight
        up_to_here = to_cents(exact_total * running / whole)
        parts.append(up_to_here - given)
        given = up_to_here
    return tuple(parts)


def _exact(amount: Decimal | Fraction, what: str) -> Fraction:
    if not isinstance(amount, Decimal | Fraction):
        raise MoneyError(f"{what} must be an exact decimal, not a {type(amount).__name__}.")
    if isinstance(amount, Decimal):
        if not amount.is_finite():
            raise MoneyError(f"{what} must be a finite number, not {amount}.")
        # A huge exponent would become a number of a million digits before it could be compared.
        if amount and abs(amount.adjusted()) > 60:
            raise MoneyError(f"{what} is far beyond any amount of money: its power of ten is {amount.adjusted()}.")
    exact = Fraction(amount)
    if abs(exact) > MAX_AMOUNT:
        raise MoneyError(f"{what} must be at most {MAX_AMOUNT:,} either way.")
    return exact
