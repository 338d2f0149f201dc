"""Margins: what was quoted against what it came to, and where the points of margin went."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from catalog.core.ground.money import MAX_AMOUNT, MoneyError, to_cents
from quoting.core.prices.costs import CATEGORIES, Category

LossCause = Literal["hours", "wage", "quantity", "price", "freight", "rework", "late", "unforeseen"]
ExtraCause = Literal["freight", "rework", "late", "unforeseen"]
EXTRA_CAUSES: tuple[ExtraCause, ...] = ("freight", "rework", "late", "unforeseen")


class MarginError(ValueError):
    """A margin that cannot be worked out; the message names the figure and what would be right."""


@dataclass(frozen=True)
class QuotedAgainstActual:
    """One kind of cost as it was quoted and as it came.

    Args:
        category: ``materials``, ``labour``, ``subcontract`` or ``other``.
        what: what it is; never empty.
        quoted_quantity: how much was quoted, 0 or more.
        quoted_unit_cost: cost of one as quoted, 0 or more.
        actual_quantity: how much it took, 0 or more.
        actual_unit_cost: cost of one as it came, 0 or more.

    Raises:
        MarginError: an unknown category, no name, or a figure that is negative, not finite or too large.

    Source: own rule.

    >>> hours = [Decimal(96), Decimal("47.00"), Decimal(113), Decimal("47.00")]
    >>> QuotedAgainstActual("labour", "all work", *hours).actual_cost
    Decimal('5311.00')
    """

    category: Category
    what: str
    quoted_quantity: Decimal
    quoted_unit_cost: Decimal
    actual_quantity: Decimal
    actual_unit_cost: Decimal

    def __post_init__(self) -> None:
        if self.category not in CATEGORIES:
            raise MarginError(f"The category is one of {', '.join(CATEGORIES)}, not {self.category!r}.")
        if not self.what.strip():
            raise MarginError("A cost needs a name.")
        for value, name in (
            (self.quoted_quantity, "quoted quantity"),
            (self.quoted_unit_cost, "quoted unit cost"),
            (self.actual_quantity, "actual quantity"),
            (self.actual_unit_cost, "actual unit cost"),
        ):
            _check_figure(value, f"{self.what}: the {name}")
        for quantity, unit_cost in (
            (self.quoted_quantity, self.quoted_unit_cost),
            (self.actual_quantity, self.actual_unit_cost),
        ):
            if Fraction(quantity) * Fraction(unit_cost) > Fraction(MAX_AMOUNT):
                raise MarginError(f"{self.what}: {quantity} at {unit_cost} is beyond any amount of money.")

    @property
    def quoted_cost(self) -> Decimal:
        """The cost as quoted.

        Returns:
            Quoted quantity times quoted unit cost, in whole cents.

        Source: own rule.

        >>> lot = [Decimal(1), Decimal("3180.00"), Decimal(1), Decimal("3342.50")]
        >>> QuotedAgainstActual("materials", "all", *lot).quoted_cost
        Decimal('3180.00')
        """
        return to_cents(Fraction(self.quoted_quantity) * Fraction(self.quoted_unit_cost))

    @property
    def actual_cost(self) -> Decimal:
        """The cost as it came.

        Returns:
            Actual quantity times actual unit cost, in whole cents.

        Source: own rule.

        >>> lot = [Decimal(1), Decimal("3180.00"), Decimal(1), Decimal("3342.50")]
        >>> QuotedAgainstActual("materials", "all", *lot).actual_cost
        Decimal('3342.50')
        """
        return to_cents(Fraction(self.actual_quantity) * Fraction(self.actual_unit_cost))


@dataclass(frozen=True)
class ExtraCost:
    """A cost that was never quoted.

    Args:
        cause: ``freight``, ``rework``, ``late`` or ``unforeseen``.
        what: what it was; never empty.
        amount: what it cost, in whole cents, 0 or more.

    Raises:
        MarginError: an unknown cause, no name, or an amount that is negative or has a part of a cent.

    Source: own rule.

    >>> ExtraCost("freight", "rush delivery", Decimal("185.00")).amount
    Decimal('185.00')
    """

    cause: ExtraCause
    what: str
    amount: Decimal

    def __post_init__(self) -> None:
        if self.cause not in EXTRA_CAUSES:
            raise MarginError(f"The cause is one of {', '.join(EXTRA_CAUSES)}, not {self.cause!r}.")
        if not self.what.strip():
            raise MarginError("An extra cost must say what it was.")
        _check_figure(self.amount, f"{self.what}: the amount")
        if to_cents(self.amount) != self.amount:
            raise MarginError(f"{self.what}: the amount must be in whole cents, not {self.amount}.")


@dataclass(frozen=True)
class BridgeStep:
    """One step from the quoted margin to the actual one.

    Args:
        cause: ``hours`` or ``wage`` for labour, ``quantity`` or ``price`` for what is bought, else the cause
            of the extra cost.
        what: what it was.
        amount: cost over the quote, in whole cents; negative when it cost less.
        points: points of margin lost by it, two places; negative when gained.

    Raises:
        MarginError: an amount with a part of a cent.

    Source: own rule.

    >>> BridgeStep("hours", "all work", Decimal("799.00"), Decimal("5.77")).points
    Decimal('5.77')
    """

    cause: LossCause
    what: str
    amount: Decimal
    points: Decimal

    def __post_init__(self) -> None:
        if to_cents(self.amount) != self.amount:
            raise MarginError(f"{self.what}: the amount must be in whole cents, not {self.amount}.")


@dataclass(frozen=True)
class MarginBridge:
    """The way from the quoted margin to the actual one; its figures are checked to add up.

    Args:
        price: the price before tax, over 0.
        quoted_cost: the cost as quoted.
        actual_cost: the cost as it came, extras included.
        quoted_margin_percent: the quoted margin in percent of the price, two places.
        actual_margin_percent: the actual one.
        steps: what lies between, in order of the lines and then the extras; steps of nothing are left out.

    Raises:
        MarginError: a price of 0 or less, or steps that do not add up.

    Source: own rule.

    >>> cost, margin = Decimal("60.00"), Decimal("40.00")
    >>> MarginBridge(Decimal("100.00"), cost, cost, margin, margin, ()).points_lost
    Decimal('0.00')
    """

    price: Decimal
    quoted_cost: Decimal
    actual_cost: Decimal
    quoted_margin_percent: Decimal
    actual_margin_percent: Decimal
    steps: tuple[BridgeStep, ...]

    def __post_init__(self) -> None:
        if self.price <= 0:
            raise MarginError(f"The price must be over 0, not {self.price}.")
        if sum((step.amount for step in self.steps), self.quoted_cost) != self.actual_cost:
            raise MarginError("The steps do not add up from the quoted cost to the actual one.")
        if sum((step.points for step in self.steps), Decimal(0)) != self.points_lost:
            raise MarginError("The points of the steps do not add up to the points lost.")

    @property
    def points_lost(self) -> Decimal:
        """The points of margin lost.

        Returns:
            The quoted margin less the actual one, as both are shown, two places; negative when gained.

        Source: own rule.

        >>> price, cost, came_to = Decimal(100), Decimal(60), Decimal(65)
        >>> step = BridgeStep("late", "waiting", Decimal("5.00"), Decimal("5.00"))
        >>> MarginBridge(price, cost, came_to, Decimal("40.00"), Decimal("35.00"), (step,)).points_lost
        Decimal('5.00')
        """
        return self.quoted_margin_percent - self.actual_margin_percent

    def amount_by_cause(self) -> dict[LossCause, Decimal]:
        """Add the steps up by cause.

        Returns:
            For each cause that occurs, the cost over the quote in whole cents.

        Source: own rule.

        >>> step = BridgeStep("late", "waiting", Decimal("5.00"), Decimal("5.00"))
        >>> bridge = MarginBridge(
        ...     Decimal(100), Decimal(60), Decimal(65), Decimal("40.00"), Decimal("35.00"), (step,)
        ... )
        >>> bridge.amount_by_cause()
        {'late': Decimal('5.00')}
        """
        sums: dict[LossCause, Decimal] = {}
        for step in self.steps:
            sums[step.cause] = sums.get(step.cause, Decimal("0.00")) + step.amount
        return sums


def margin_bridge(
    price: Decimal, lines: Sequence[QuotedAgainstActual], extras: Sequence[ExtraCost] = ()
) -> MarginBridge:
    """Split the difference between the quoted margin and the actual one.

    Args:
        price: the price before tax, in whole cents, over 0.
        lines: what was quoted against what came, at least one.
        extras: costs that were never quoted.

    Returns:
        The bridge. What more or fewer units cost is taken at the quoted unit cost (hours or quantity); the
        rest of a line's difference is the unit cost's (wage or price). Points are rounded along the running
        sum, so that the steps add up to the two margins as shown.

    Raises:
        MarginError: a price of 0 or less or with a part of a cent, or no lines.

    Source: own rule, the usual split of a cost variance into quantity and price.

    >>> line = QuotedAgainstActual("labour", "all work", Decimal(10), Decimal(50), Decimal(12), Decimal(50))
    >>> bridge = margin_bridge(Decimal("1000.00"), [line])
    >>> bridge.quoted_margin_percent, bridge.actual_margin_percent
    (Decimal('50.00'), Decimal('40.00'))
    """
    _check_figure(price, "The price")
    if price == 0 or to_cents(price) != price:
        raise MarginError(f"The price must be over 0 and in whole cents, not {price}.")
    if not lines:
        raise MarginError("There is nothing to compare: give at least one quoted cost.")
    causes = [part for line in lines for part in _split(line)]
    causes += [(extra.cause, extra.what, extra.amount) for extra in extras]
    causes = [part for part in causes if part[2]]
    quoted = sum((line.quoted_cost for line in lines), Decimal("0.00"))
    actual = quoted + sum((amount for _, _, amount in causes), Decimal("0.00"))
    quoted_percent, actual_percent = _margin_percent(price, quoted), _margin_percent(price, actual)
    steps = []
    shown_before, running = quoted_percent, quoted
    for cause, what, amount in causes:
        running += amount
        shown = _margin_percent(price, running)
        steps.append(BridgeStep(cause, what, amount, shown_before - shown))
        shown_before = shown
    return MarginBridge(price, quoted, actual, quoted_percent, actual_percent, tuple(steps))


def _split(line: QuotedAgainstActual) -> list[tuple[LossCause, str, Decimal]]:
    more = Fraction(line.actual_quantity) - Fraction(line.quoted_quantity)
    by_quantity = to_cents(more * Fraction(line.quoted_unit_cost))
    by_unit_cost = line.actual_cost - line.quoted_cost - by_quantity
    labour = line.category == "labour"
    return [
        ("hours" if labour else "quantity", line.what, by_quantity),
        ("wage" if labour else "price", line.what, by_unit_cost),
    ]


def _margin_percent(price: Decimal, cost: Decimal) -> Decimal:
    try:
        return to_cents((Fraction(price) - Fraction(cost)) * 100 / Fraction(price))
    except MoneyError:
        raise MarginError(f"A cost of {cost} against a price of {price} is too far off to compare.") from None


def _check_figure(value: Decimal, what: str) -> None:
    try:
        to_cents(value)
    except MoneyError as problem:
        raise MarginError(f"{what}: {problem}") from None
    if value < 0:
        raise MarginError(f"{what} must be 0 or more, not {value}.")
