"""What an hour of work costs the firm: the worksheet from the wage to the rate."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from catalog.core.ground.money import to_cents
from quoting.core.prices.costs import MAX_QUANTITY
from quoting.core.prices.figures import PricingError, check_between

MAX_HOURS = Decimal(8784)
"""Hours of a leap year."""


@dataclass(frozen=True)
class LabourCost:
    """What an hour of work costs the firm.

    Args:
        yearly_cost: wage and burden of a year, 0 or more, unrounded.
        productive_hours: hours of the year spent on jobs, over 0.

    Raises:
        PricingError: a figure out of range.

    Source: labour cost per productive hour = yearly cost / productive hours (trade rules, money).

    >>> LabourCost(Decimal("87205.60"), Decimal(1854)).cost_per_hour
    Decimal('47.04')
    """

    yearly_cost: Decimal
    productive_hours: Decimal

    def __post_init__(self) -> None:
        check_between(self.yearly_cost, "The yearly cost", Decimal(0), MAX_QUANTITY)
        check_between(self.productive_hours, "The productive hours", Decimal(0), MAX_HOURS)
        if self.productive_hours == 0:
            raise PricingError("The productive hours must be over 0.")

    @property
    def cost_per_hour(self) -> Decimal:
        """The cost of a productive hour.

        Returns:
            The cost in whole cents.

        Source: as the class.

        >>> LabourCost(Decimal(1000), Decimal(100)).cost_per_hour
        Decimal('10.00')
        """
        return to_cents(Fraction(self.yearly_cost) / Fraction(self.productive_hours))


def labour_cost(
    wage_per_hour: Decimal,
    *,
    payroll_tax_rate: Decimal,
    insurance_rate: Decimal,
    health_per_year: Decimal,
    other_per_year: Decimal,
    paid_hours: Decimal,
    unproductive_hours: Decimal,
) -> LabourCost:
    """Work out what an hour of work costs, burden included.

    Args:
        wage_per_hour: the wage, 0 or more.
        payroll_tax_rate: taxes the firm pays on wages, as a share, 0 to 1.
        insurance_rate: insurance the firm pays on wages, as a share, 0 to 1.
        health_per_year: health cost of a year, 0 or more.
        other_per_year: other cost of a year, 0 or more.
        paid_hours: hours paid in a year, 0 to 8,784.
        unproductive_hours: those of them not spent on jobs, 0 to under the paid hours.

    Returns:
        The yearly cost, the productive hours and, from them, the cost per hour.

    Raises:
        PricingError: a figure out of range, named.

    Source: trade rules, money.

    >>> labour_cost(
    ...     Decimal("32.00"),
    ...     payroll_tax_rate=Decimal("0.1125"),
    ...     insurance_rate=Decimal("0.085"),
    ...     health_per_year=Decimal(6000),
    ...     other_per_year=Decimal(1500),
    ...     paid_hours=Decimal(2080),
    ...     unproductive_hours=Decimal(226),
    ... ).cost_per_hour
    Decimal('47.04')
    """
    for amount, what in (
        (wage_per_hour, "wage"),
        (health_per_year, "health cost of a year"),
        (other_per_year, "other cost of a year"),
    ):
        check_between(amount, f"The {what}", Decimal(0), MAX_QUANTITY)
    for rate, what in ((payroll_tax_rate, "payroll tax rate"), (insurance_rate, "insurance rate")):
        check_between(rate, f"The {what}", Decimal(0), Decimal(1))
    check_between(paid_hours, "The paid hours", Decimal(0), MAX_HOURS)
    check_between(unproductive_hours, "The unproductive hours", Decimal(0), paid_hours)
    wages = wage_per_hour * paid_hours
    yearly = wages * (1 + payroll_tax_rate + insurance_rate) + health_per_year + other_per_year
    return LabourCost(yearly, paid_hours - unproductive_hours)
