"""Quotes decided: how many were won and lost, what they were worth, and why they were lost."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

MIN_FOR_A_RATE = 5
"""Of fewer decided quotes a share says nothing."""


@dataclass(frozen=True)
class DecidedQuote:
    """value: before tax, in whole cents. lost_to: the reason in words; empty where it was won."""

    value: Decimal
    lost_to: str = ""


@dataclass(frozen=True)
class CountAndValue:
    count: int
    value: Decimal


@dataclass(frozen=True)
class WonAndLost:
    """reasons: of the lost, the greatest value first. rate, rate_by_value: won of all decided; None under five."""

    won: CountAndValue
    lost: CountAndValue
    reasons: tuple[tuple[str, CountAndValue], ...]
    rate: Fraction | None
    rate_by_value: Fraction | None


def won_and_lost(decided: Iterable[DecidedQuote]) -> WonAndLost:
    """Add up decided quotes.

    Args:
        decided: in any order.

    Returns:
        Counts and values; their shares from five decided quotes on.

    Raises:
        Nothing.

    Source: the firm's own rule.

    >>> won_and_lost([DecidedQuote(Decimal("100.00")), DecidedQuote(Decimal("50.00"), "Lost to price")]).lost
    CountAndValue(count=1, value=Decimal('50.00'))
    """
    quotes = list(decided)
    by_reason: defaultdict[str, list[DecidedQuote]] = defaultdict(list)
    for quote in quotes:
        by_reason[quote.lost_to].append(quote)
    won = _added_up(by_reason.pop("", []))
    reasons = sorted(
        ((why, _added_up(some)) for why, some in by_reason.items()), key=lambda pair: (-pair[1].value, pair[0])
    )
    lost = _added_up(entry for entry in quotes if entry.lost_to)
    enough = len(quotes) >= MIN_FOR_A_RATE
    value = won.value + lost.value
    return WonAndLost(
        won,
        lost,
        tuple(reasons),
        Fraction(won.count, len(quotes)) if enough else None,
        Fraction(won.value) / Fraction(value) if enough and value else None,
    )


def _added_up(quotes: Iterable[DecidedQuote]) -> CountAndValue:
    values = [quote.value for quote in quotes]
    return CountAndValue(len(values), sum(values, Decimal("0.00")))
