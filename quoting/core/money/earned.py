"""What of a contract is earned by now, and whether more or less of it is billed."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from catalog.core.ground.money import to_cents
from quoting.core.money.job_costs import JobCosts
from quoting.core.money.quoted import NOTHING

MAX_UNFITTED = Fraction(1, 10)
"""Goods here and not fitted, as a share of the cost at completion, over which they are shown apart."""


@dataclass(frozen=True)
class Earned:
    """What is earned by cost against cost.

    share: of the work, exact; None where no cost is in sight. amount: of the contract, in whole cents. billed: price
    parts requested, retention included. unfitted: goods here that no step has begun to fit; share_fitted and
    amount_fitted leave them out of the share, None where they are a tenth of the cost or less.
    """

    contract: Decimal
    at_completion: Decimal
    share: Fraction | None
    amount: Decimal
    billed: Decimal
    unfitted: Decimal
    share_fitted: Fraction | None
    amount_fitted: Decimal | None

    @property
    def over_billed(self) -> Decimal:
        """Billed less earned; under 0 is under-billed."""
        return self.billed - self.amount

    @property
    def profit(self) -> Decimal:
        """What the whole job leaves; a loss is under 0 and shows whole from now on."""
        return self.contract - self.at_completion


def earned(
    contract: Decimal, to_date: Decimal, at_completion: Decimal, billed: Decimal = NOTHING, unfitted: Decimal = NOTHING
) -> Earned:
    """Work out what is earned.

    Args:
        contract: accepted and signed, before tax. to_date, at_completion: cost. billed: price parts requested.
        unfitted: goods in the cost to date that are not fitted. All in whole cents.

    Returns:
        The earned share as an exact fraction, and what it comes to.

    Raises:
        Nothing.

    Source: cost against cost, own rounding (once, at the end); uninstalled materials as IFRS 15 B19.

    >>> earned(Decimal("25840.00"), Decimal("9085.58"), Decimal("17274.28")).amount
    Decimal('13590.81')
    """
    share = Fraction(to_date) / Fraction(at_completion) if at_completion > 0 else None
    amount = to_cents(Fraction(contract) * share) if share is not None else NOTHING
    fitted = _fitted(contract, to_date, at_completion, unfitted)
    share_fitted, amount_fitted = fitted or (None, None)
    return Earned(contract, at_completion, share, amount, billed, unfitted, share_fitted, amount_fitted)


def _fitted(contract: Decimal, to_date: Decimal, whole: Decimal, unfitted: Decimal) -> tuple[Fraction, Decimal] | None:
    if whole <= 0 or Fraction(unfitted) <= MAX_UNFITTED * Fraction(whole) or unfitted >= whole:
        return None
    apart = Fraction(unfitted)
    share = (Fraction(to_date) - apart) / (Fraction(whole) - apart)
    return share, to_cents((Fraction(contract) - apart) * share + apart)


def unfitted_goods(costs: JobCosts) -> Decimal:
    """Goods received whose step nobody has begun, at their price.

    costs: of the job; its facts say which step fits a material. Returns whole cents; materials no step fits are taken
    as fitted. Source: own rule.
    """
    begun = {row.step for row in costs.facts.hours if row.minutes > 0}
    begun |= {left.step for left in costs.facts.hours_left if left.is_done}
    together = Fraction(0)
    for row in costs.facts.ordered:
        step = costs.facts.fitted_by.get(row.item)
        if step is not None and step not in begun and row.price is not None:
            together += Fraction(to_cents(Fraction(row.received) * Fraction(row.price)))
    return to_cents(together)


def earned_of(costs: JobCosts, billed: Decimal) -> Earned:
    """`earned` of a job's cost. billed: price parts requested, retention included, in whole cents."""
    return earned(costs.contract, costs.to_date, costs.at_completion, billed, unfitted_goods(costs))
