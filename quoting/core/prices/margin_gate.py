"""The least margin: whether a quote, or any choice of its options, falls below it, and by how much."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from catalog.core.ground.money import to_cents
from quoting.core.prices.figures import PricingError, check_cents, check_margin, ratio
from quoting.core.prices.options import PricedOption, least_of_any_choice


@dataclass(frozen=True)
class BelowLeast:
    """How far a quote is below the least margin.

    Args:
        least: the least margin, as a share of the price, 0 to under 1.
        margin: the margin of the base, unrounded.
        shortfall: what the price would have to rise by, in whole cents, over 0, in the worst choice of options.
        with_options: True when the base is above the least margin and only some choice of options is below.

    Raises:
        PricingError: a shortfall of nothing.

    Source: own rule.

    >>> BelowLeast(Decimal("0.3"), Decimal("0.25"), Decimal("71.43")).with_options
    False
    """

    least: Decimal
    margin: Decimal
    shortfall: Decimal
    with_options: bool = False

    def __post_init__(self) -> None:
        check_margin(self.least, "The least margin")
        check_cents(self.shortfall, "The shortfall")
        if self.shortfall == 0:
            raise PricingError("The shortfall must be over 0: a quote that is not short is not below the least margin.")

    def is_covered_by(self, margin: Decimal, shortfall: Decimal) -> bool:
        """Whether a decision that was taken for other figures holds for these.

        Args:
            margin: the margin that was decided on, as a share of the price.
            shortfall: the shortfall that was decided on, in whole cents.

        Returns:
            True when these ask for no more: a margin not lower and a shortfall not greater.

        Source: own rule: a decision holds for no figure that asks more than it was taken for.

        >>> BelowLeast(Decimal("0.3"), Decimal("0.25"), Decimal("71.43")).is_covered_by(Decimal("0.25"), Decimal("80"))
        True
        """
        return self.margin >= margin and self.shortfall <= shortfall


def below_least(
    price: Decimal, cost: Decimal, least: Decimal, options: Sequence[PricedOption] = ()
) -> BelowLeast | None:
    """Compare a quote with the least margin, whatever the client ticks.

    Args:
        price: the price of the base before tax, in whole cents, over 0.
        cost: its cost, in whole cents.
        least: the least margin, as a share of the price, 0 to under 1.
        options: what may be ticked; those whose cost is not known are passed over.

    Returns:
        How far it is below, or None when no choice is. The margin of a choice is below g exactly when its
        cost is over (1 - g) of its price, and that adds up over the options, so the worst choice is exact.

    Raises:
        PricingError: a least margin out of range.

    Source: own rule from the definition of margin, g = (price - cost) / price.

    >>> below_least(Decimal("1000.00"), Decimal("750.00"), Decimal("0.3")).shortfall
    Decimal('71.43')
    """
    check_margin(least, "The least margin")
    fraction = 1 - Fraction(least)
    known = [option for option in options if option.cost is not None]
    room = [Fraction(option.price) * fraction - Fraction(option.cost or 0) for option in known]
    base = Fraction(price) * fraction - Fraction(cost)
    worst = base + least_of_any_choice(known, room)
    shortfall = to_cents(max(-worst / fraction, Fraction(0)))
    # Less than half a cent below is what rounding a price to the cent leaves, and no margin given away.
    if shortfall == 0:
        return None
    return BelowLeast(least, ratio(price - cost, price), shortfall, to_cents(max(-base / fraction, Fraction(0))) == 0)
