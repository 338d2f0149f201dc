"""Quotes made up from a seed, priced by the core: every way of pricing, tax, options, instalments and deposit."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from random import Random

from quoting.core.prices.costs import CATEGORIES, CostLine, cost_line
from quoting.core.prices.figures import PricingError
from quoting.core.prices.options import Offer, PricedOption
from quoting.core.prices.payments import DepositRule, Instalment
from quoting.core.prices.pricing import PricedQuote, PricingPolicy, price_quote
from quoting.core.prices.tax import TaxRule

SECTIONS = ("", "Screen", "Nook", "Bay")
ZERO = Decimal("0.00")


@dataclass(frozen=True)
class Generated:
    priced: PricedQuote
    offer: Offer


def generated(count: int, seed: int = 20261125) -> Iterator[Generated]:
    """The same ones for the same seed, on any machine."""
    random, made = Random(seed), 0
    while made < count:
        tax = _tax(random)
        instalments = _instalments(random)
        try:
            priced = price_quote(_costs(random), _policy(random), tax, instalments=instalments)
            offer = Offer(priced.lines, tax, _options(random), instalments, _deposit(random), priced.cost)
        except PricingError:
            continue  # Nothing to price, or options that could bring the price under 0: refused, and rightly.
        made += 1
        yield Generated(priced, offer)


def _decimal(random: Random, least: int, most: int, places: int) -> Decimal:
    return Decimal(random.randint(least * 10**places, most * 10**places)).scaleb(-places)


def _costs(random: Random) -> list[CostLine]:
    return [
        cost_line(
            random.choice(CATEGORIES),
            "work",
            _decimal(random, 0, 300, 2),
            "each",
            _decimal(random, 0, 90, 4),
            random.choice(SECTIONS),
        )
        for _ in range(random.randint(1, 9))
    ]


def _policy(random: Random) -> PricingPolicy:
    if random.random() < 0.5:
        return PricingPolicy("margin", target_margin=_decimal(random, 0, 1, 4) * Decimal("0.9"))
    return PricingPolicy("markup", markup_by_category={category: _decimal(random, 0, 3, 4) for category in CATEGORIES})


def _tax(random: Random) -> TaxRule:
    certificate = "EX-1" if random.random() < 0.1 else ""
    parts = (random.choice(("price", "materials")), random.choice(("document", "line")))
    return TaxRule("Sales tax", _decimal(random, 0, 1, 5) * Decimal("0.3"), *parts, certificate)


def _instalments(random: Random) -> tuple[Instalment, ...]:
    weights = [random.randint(1, 9) for _ in range(random.randint(0, 5))]
    return tuple(Instalment(f"event {place}", Fraction(number, sum(weights))) for place, number in enumerate(weights))


def _options(random: Random) -> tuple[PricedOption, ...]:
    prices = [_decimal(random, -40, 900, 2) for _ in range(random.randint(0, 4))]
    return tuple(
        PricedOption(f"o{place}", f"Option {place}", price, price, random.choice(("", "Cap")))
        for place, price in enumerate(prices)
    )


def _deposit(random: Random) -> DepositRule | None:
    most = _decimal(random, 100, 2000, 2) if random.random() < 0.5 else None
    return DepositRule(Fraction(1, random.randint(2, 10)), at_most=most) if random.random() < 0.5 else None
