"""Allowances: sums in the price for what is not chosen yet, and what happens when it comes to more or less."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Annotated

from catalog.core.ground.declared import As, Money, Text
from catalog.core.ground.money import to_cents
from quoting.core.prices.costs import CATEGORIES, CATEGORY_WORDS, Category
from quoting.core.prices.figures import PricingError, check_between, check_cents, percent_words
from quoting.core.prices.stated_figures import MAX_TITLE, Stated

MAX_ALLOWANCES = 60


@dataclass(frozen=True)
class Allowance:
    """A sum in the price, before tax, for something the client has still to choose.

    Raises:
        PricingError: no name, or a figure out of range.

    Source: own rule; what is over is charged and what is under credited, as is common practice.

    >>> Allowance("Pendant lamp over the desk", Decimal("500.00")).own_cost
    Decimal('500.00')
    """

    what: Annotated[str, Text(MAX_TITLE), "What it is for.", As(label="For")]
    amount: Annotated[Decimal, Money(), "The sum in the price, over 0.", As(label="Sum in the price")]
    category: Annotated[
        Category, "What it is a cost of; materials when not said.", As(label="Kind", words=CATEGORY_WORDS)
    ] = "materials"
    cost: Annotated[
        Decimal | None,
        Money(),
        "What the firm expects to pay; the sum itself when not said.",
        As(label="Expected cost", hint="Empty: the sum itself."),
    ] = None
    over_markup: Annotated[
        Decimal,
        Stated("0", "1"),
        "Markup on what is over, 0 to 1; none when not said.",
        As(label="Markup on what is over, %", in_percent=True),
    ] = Decimal(0)

    def __post_init__(self) -> None:
        if not self.what.strip():
            raise PricingError("Allowance: it must say what it is for.")
        label = f"Allowance {self.what!r}"
        check_cents(self.amount, f"{label}: the amount")
        if self.amount == 0:
            raise PricingError(f"{label}: the amount must be over 0; leave out an allowance of nothing.")
        if self.category not in CATEGORIES:
            raise PricingError(f"{label}: the category is {', '.join(CATEGORIES)}, not {self.category!r}.")
        if self.cost is not None:
            check_cents(self.cost, f"{label}: the cost")
        check_between(self.over_markup, f"{label}: the markup on what is over", Decimal(0), Decimal(1))

    @property
    def own_cost(self) -> Decimal:
        """What the firm expects to pay.

        Returns:
            The cost in whole cents; the sum itself where no cost is given.

        Source: own rule.

        >>> Allowance("Lamp", Decimal("500.00"), cost=Decimal("420.00")).own_cost
        Decimal('420.00')
        """
        return self.amount if self.cost is None else self.cost

    def sentence(self, amount: str) -> str:
        """What the paper says of it, over and under included.

        Args:
            amount: the sum as the paper writes money.

        Returns:
            Two sentences for the client.

        Source: own rule.

        >>> Allowance("Lamp", Decimal("500.00")).sentence("USD 500.00")[:42]
        'Lamp: USD 500.00 before tax is in the pric'
        """
        markup = f", with {percent_words(self.over_markup)} on top," if self.over_markup else ""
        return (
            f"{self.what}: {amount} before tax is in the price. A change note adds what is over it{markup} "
            "and credits what is under it."
        )


@dataclass(frozen=True)
class AllowanceChange:
    """What an allowance has come to.

    Args:
        actual: what it came to, before tax, in whole cents.
        difference: what is added to the price, in whole cents; negative for what is taken off.
        sentence: how it came about, for a change note.

    Source: own rule.

    >>> AllowanceChange(Decimal("620.00"), Decimal("120.00"), "Lamp").difference
    Decimal('120.00')
    """

    actual: Decimal
    difference: Decimal
    sentence: str


def settle(allowance: Allowance, actual: Decimal) -> AllowanceChange:
    """Compare what was allowed with what it came to.

    Args:
        allowance: the sum in the price.
        actual: what it came to, counted as the allowance was (before tax), in whole cents, 0 or more.

    Returns:
        The change of the price: the difference, and on what is over the markup that was stated.

    Raises:
        PricingError: an amount under 0 or with a part of a cent.

    Source: own rule.

    >>> settle(Allowance("Lamp", Decimal("500.00")), Decimal("620.00")).difference
    Decimal('120.00')
    """
    check_cents(actual, f"Allowance {allowance.what!r}: what it came to")
    difference = actual - allowance.amount
    message = f"{allowance.what}: came to {actual:,} where {allowance.amount:,} was allowed"
    if difference > 0 and allowance.over_markup:
        difference = to_cents(Fraction(difference) * (1 + Fraction(allowance.over_markup)))
        message += f", with {percent_words(allowance.over_markup)} on what is over"
    sign = "+" if difference > 0 else ""
    return AllowanceChange(actual, difference, f"{message}: {sign}{difference:,}.")
