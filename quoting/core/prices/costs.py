"""Cost lines: what a job costs the firm, by category and by the client's line it belongs to."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Literal

from catalog.core.ground.declared import Amount, As, View
from catalog.core.ground.money import MoneyError, to_cents
from quoting.core.prices.figures import PricingError, check_between

Category = Literal["materials", "labour", "subcontract", "other"]
CATEGORIES: tuple[Category, ...] = ("materials", "labour", "subcontract", "other")

CATEGORY_WORDS = (
    ("materials", "Materials"),
    ("labour", "Labour"),
    ("subcontract", "Subcontract"),
    ("other", "Other"),
)

MAX_QUANTITY = Decimal(10_000_000)


@dataclass(frozen=True)
class CostLine(View):
    """One line of cost.

    Args:
        category: ``materials``, ``labour``, ``subcontract`` or ``other``.
        what: what it is for; never empty.
        quantity: how much, 0 to 10 million, in ``unit``.
        unit: the unit of the quantity, such as ``stick`` or ``h``; never empty.
        unit_cost: cost of one unit, 0 or more.
        cost: quantity times unit cost, in whole cents; see ``cost_line``, which works it out.
        section: the client's line it belongs to, such as a wall; empty for what serves the whole job.

    Raises:
        PricingError: an unknown category, an empty name or unit, a figure out of range, or a cost that is not
            quantity times unit cost.

    Source: own rule (totals are sums of rounded lines).

    >>> line = CostLine("labour", "framing", Decimal(96), "h", Decimal("47.00"), Decimal("4512.00"))
    >>> line.section
    ''
    """

    category: Category
    what: str
    quantity: Decimal
    unit: str
    unit_cost: Decimal
    cost: Annotated[Decimal, Amount()]
    section: Annotated[str, As(name="wall")] = ""

    def __post_init__(self) -> None:
        if self.category not in CATEGORIES:
            raise PricingError(f"Cost line: the category is {', '.join(CATEGORIES)}, not {self.category!r}.")
        if not self.what.strip() or not self.unit.strip():
            raise PricingError("Cost line: it must say what it is for and in which unit.")
        label = f"Cost line {self.what!r}"
        check_between(self.quantity, f"{label}: the quantity", Decimal(0), MAX_QUANTITY)
        check_between(self.unit_cost, f"{label}: the unit cost", Decimal(0), MAX_QUANTITY)
        right = line_cost(label, self.quantity, self.unit_cost)
        if self.cost != right:
            raise PricingError(f"{label}: {self.quantity} at {self.unit_cost} is {right}, not {self.cost}.")


def cost_line(
    category: Category, what: str, quantity: Decimal, unit: str, unit_cost: Decimal, section: str = ""
) -> CostLine:
    """Make a cost line, working out its cost.

    Args:
        category: ``materials``, ``labour``, ``subcontract`` or ``other``.
        what: what it is for.
        quantity: how much, 0 or more, in ``unit``.
        unit: the unit of the quantity.
        unit_cost: cost of one unit, 0 or more.
        section: the client's line it belongs to; empty for what serves the whole job.

    Returns:
        The line, its cost rounded to cents.

    Raises:
        PricingError: as ``CostLine``.

    Source: own rule.

    >>> cost_line("labour", "framing", Decimal(96), "h", Decimal("47.00")).cost
    Decimal('4512.00')
    """
    label = f"Cost line {what!r}"
    check_between(quantity, f"{label}: the quantity", Decimal(0), MAX_QUANTITY)
    check_between(unit_cost, f"{label}: the unit cost", Decimal(0), MAX_QUANTITY)
    cost = line_cost(label, quantity, unit_cost)
    return CostLine(category, what, quantity, unit, unit_cost, cost, section)


def line_cost(label: str, quantity: Decimal, unit_cost: Decimal) -> Decimal:
    try:
        return to_cents(Fraction(quantity) * Fraction(unit_cost))
    except MoneyError as problem:
        raise PricingError(f"{label}: {problem}") from None
