"""A sum of money with the tax on it: instalments, the deposit and what is held back, in parts of price and of tax."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from typing import Annotated

from catalog.core.ground.declared import Amount
from catalog.core.ground.money import split_by_shares, to_cents
from catalog.core.ground.refusal import InvalidValue
from quoting.core.prices.payments import Instalment, instalments_due

NOTHING = Decimal("0.00")


class RequestError(InvalidValue):
    """What cannot be asked for, in a sentence."""


@dataclass(frozen=True)
class Parts:
    """A sum of money and the tax on it, in whole cents, either sign.

    >>> (Parts(Decimal("20.00"), Decimal("1.65")) + Parts(Decimal("5.00"), Decimal("0.41"))).total
    Decimal('27.06')
    """

    document_name = "price_and_tax"

    price: Annotated[Decimal, Amount()] = NOTHING
    tax: Annotated[Decimal, Amount()] = NOTHING
    total: Annotated[Decimal, Amount()] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "total", self.price + self.tax)

    def __add__(self, other: Parts) -> Parts:
        return Parts(self.price + other.price, self.tax + other.tax)

    def __sub__(self, other: Parts) -> Parts:
        return self + -other

    def __neg__(self) -> Parts:
        return Parts(-self.price, -self.tax)


NO_PARTS = Parts()


@dataclass(frozen=True)
class Retention:
    """What the client holds back of each request until an event. share: 0 to 1. holds_tax: else the tax is due at once.

    >>> Retention(Decimal("0.05")).of(Parts(Decimal("7380.00"), Decimal("608.85")))
    Parts(price=Decimal('369.00'), tax=Decimal('30.44'))
    """

    share: Decimal | Fraction
    holds_tax: bool = True

    def __post_init__(self) -> None:
        if not 0 <= self.share < 1:
            raise RequestError(f"The share held back is {self.share}; it is 0 or more and under 1.")

    def of(self, part: Parts) -> Parts:
        """Each part rounded to the cent. Source: trade rules, money (own rule)."""
        share = Fraction(self.share)
        tax = to_cents(Fraction(part.tax) * share) if self.holds_tax else NOTHING
        return Parts(to_cents(Fraction(part.price) * share), tax)


@dataclass(frozen=True)
class Agreed:
    """What requests follow from: the price accepted, its tax, the instalments by their events, deposit, retention."""

    accepted: Parts
    instalments: tuple[Instalment, ...]
    deposit: Decimal = NOTHING
    retention: Retention | None = None


def instalment_parts(agreed: Agreed) -> tuple[Parts, ...]:
    """What each instalment asks for.

    Args:
        agreed: the price accepted with its tax and the instalments, shares adding up to 1.

    Returns:
        As many as there are instalments: the total by `instalments_due`, the price by the same shares, the tax part
        the difference. They add up to price and tax exactly.

    Raises:
        MoneyError: shares that do not add up to 1.

    Source: trade rules, money (own rule).

    >>> halves = tuple(Instalment(event, Decimal("0.5")) for event in ("start", "end"))
    >>> instalment_parts(Agreed(Parts(Decimal("100.01"), Decimal("8.25")), halves))[0]
    Parts(price=Decimal('50.01'), tax=Decimal('4.12'))
    """
    due = instalments_due(agreed.accepted.total, agreed.instalments)
    prices = split_by_shares(agreed.accepted.price, [entry.share for entry in due])
    return tuple(Parts(price, entry.amount - price) for price, entry in zip(prices, due, strict=True))


def deposit_parts(agreed: Agreed) -> Parts:
    """The deposit, its price part in the proportion of price and total. Raises nothing. Source: own rule.

    >>> deposit_parts(Agreed(Parts(Decimal("24600.00"), Decimal("2029.50")), (), Decimal("5325.90")))
    Parts(price=Decimal('4920.00'), tax=Decimal('405.90'))
    """
    return cut(agreed.accepted, agreed.deposit)


def sum_of(parts: Iterable[Parts]) -> Parts:
    """All of them together; nothing of none. Raises nothing. Source: own rule."""
    return sum(parts, NO_PARTS)


def cut(whole: Parts, amount: Decimal) -> Parts:
    """An amount out of a whole, in the same proportion of price and tax. Raises nothing. Source: own rule.

    >>> cut(Parts(Decimal("100.00"), Decimal("8.25")), Decimal("54.13"))
    Parts(price=Decimal('50.00'), tax=Decimal('4.13'))
    """
    if amount == whole.total:
        return whole
    price = to_cents(Fraction(amount) * Fraction(whole.price) / Fraction(whole.total)) if whole.total else amount
    return Parts(price, amount - price)
