"""Costs that stand on other costs: the firm's overhead, and a contingency for what cannot be foreseen.

Both are lines of cost and are priced as such, so that the margin is what is left after them. Both are worked out on
the costs of the job as entered and taken off, neither on the other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Annotated

from catalog.core.ground.declared import As, Money
from catalog.core.ground.money import to_cents
from quoting.core.prices.costs import CostLine, cost_line
from quoting.core.prices.figures import PricingError, check_between, check_cents, percent_words
from quoting.core.prices.stated_figures import Stated

MAX_OVERHEAD = Decimal(5)
MAX_HOURLY = Decimal(10_000)
CONTINGENCY = "Contingency"
"""What the client's line is called where the contingency is shown."""


@dataclass(frozen=True)
class OverheadRule:
    """How the firm's overhead comes into a price: by share of cost or by labour hour, one of the two.

    Raises:
        PricingError: both or neither given, or a figure out of range.

    Source: own rule; overhead on direct cost and on labour hours are the two usual bases of cost accounting.

    >>> OverheadRule(share_of_cost=Decimal("0.12")).per_labour_hour is None
    True
    """

    document_name = "overhead"

    share_of_cost: Annotated[
        Decimal | None,
        Stated("0", "5"),
        "Overhead as a share of all other cost, 0 to 5.",
        As(label="Overhead, % of cost", in_percent=True),
    ] = None
    per_labour_hour: Annotated[
        Decimal | None,
        Money(),
        "Overhead on each hour of labour, at most 10,000.",
        As(label="Overhead, each labour hour", hint="This or the share, not both."),
    ] = None

    def __post_init__(self) -> None:
        if (self.share_of_cost is None) == (self.per_labour_hour is None):
            raise PricingError("Overhead: give a share of cost or an amount a labour hour, not both.")
        if self.share_of_cost is not None:
            check_between(self.share_of_cost, "Overhead: the share of cost", Decimal(0), MAX_OVERHEAD)
        if self.per_labour_hour is not None:
            check_cents(self.per_labour_hour, "Overhead: the amount an hour")
            check_between(self.per_labour_hour, "Overhead: the amount an hour", Decimal(0), MAX_HOURLY)


@dataclass(frozen=True)
class Contingency:
    """A part kept for what cannot be foreseen.

    Raises:
        PricingError: a share out of range.

    Source: own rule.

    >>> Contingency(Decimal("0.05")).shown
    False
    """

    share: Annotated[
        Decimal,
        Stated("0", "1"),
        "Of all other cost but overhead, over 0 to 1.",
        As(label="Contingency, % of cost", in_percent=True),
    ]
    shown: Annotated[
        bool,
        "A line of its own that the client sees; else it is folded into the others.",
        As(label="Show contingency to client"),
    ] = False

    def __post_init__(self) -> None:
        check_between(self.share, "Contingency: the share", Decimal(0), Decimal(1))
        if self.share == 0:
            raise PricingError("Contingency: the share must be over 0; leave it out for none.")


def overhead_line(costs: Sequence[CostLine], rule: OverheadRule) -> CostLine:
    """The overhead of a job as a line of cost that serves the whole of it.

    Args:
        costs: every line of cost but overhead and contingency.
        rule: how overhead comes into a price.

    Returns:
        A line of the category ``other``; by labour hour its quantity is the hours of the labour lines (unit ``h``).

    Raises:
        PricingError: overhead by labour hour where a labour line is not in hours.

    Source: as ``OverheadRule``.

    >>> labour = cost_line("labour", "framing", Decimal(96), "h", Decimal("47.00"))
    >>> overhead_line([labour], OverheadRule(per_labour_hour=Decimal("9.50"))).cost
    Decimal('912.00')
    >>> overhead_line([labour], OverheadRule(share_of_cost=Decimal("0.12"))).cost
    Decimal('541.44')
    """
    if rule.per_labour_hour is not None:
        labour = [line for line in costs if line.category == "labour"]
        for line in labour:
            if line.unit != "h":
                raise PricingError(f"Overhead is by labour hour, but {line.what!r} is in {line.unit}; enter hours.")
        hours = sum((line.quantity for line in labour), Decimal(0))
        return cost_line("other", "Overhead by labour hour", hours, "h", rule.per_labour_hour)
    share = rule.share_of_cost or Decimal(0)
    amount = to_cents(Fraction(_together(costs)) * Fraction(share))
    return cost_line("other", f"Overhead, {percent_words(share)} of cost", Decimal(1), "sum", amount)


def contingency_line(costs: Sequence[CostLine], rule: Contingency) -> CostLine:
    """The contingency of a job as a line of cost.

    Args:
        costs: every line of cost but overhead and contingency.
        rule: the share, and whether the client sees it.

    Returns:
        A line of the category ``other``, in the section ``Contingency`` when it is shown.

    Raises:
        PricingError: as ``cost_line``.

    Source: own rule.

    >>> labour = cost_line("labour", "framing", Decimal(96), "h", Decimal("47.00"))
    >>> contingency_line([labour], Contingency(Decimal("0.05"), shown=True)).cost
    Decimal('225.60')
    """
    amount = to_cents(Fraction(_together(costs)) * Fraction(rule.share))
    what = f"Contingency, {percent_words(rule.share)} of cost"
    return cost_line("other", what, Decimal(1), "sum", amount, CONTINGENCY if rule.shown else "")


def _together(costs: Sequence[CostLine]) -> Decimal:
    return sum((line.cost for line in costs), Decimal("0.00"))
