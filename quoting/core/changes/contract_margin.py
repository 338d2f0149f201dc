"""The margin of a contract with its changes: what was agreed, the changes, and what both cost."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from catalog.core.ground.money import to_cents
from quoting.core.changes.change_notes import ZERO, ChangeError, ChangeLine
from quoting.core.prices.figures import percent_words, ratio


@dataclass(frozen=True)
class ContractMargin:
    """A price before tax with what it costs.

    price, cost: in whole cents. assumed: the part of the price whose cost nobody has said, amounts of either sign
    added up without it; its cost is taken at the agreed share of cost.
    """

    price: Decimal
    cost: Decimal
    assumed: Decimal = ZERO

    @property
    def margin(self) -> Decimal | None:
        """(price - cost) / price as a share, unrounded; None where the price is not over 0.

        >>> ContractMargin(Decimal("100.00"), Decimal("62.00")).margin
        Decimal('0.38')
        """
        return ratio(self.price - self.cost, self.price) if self.price > 0 else None

    @property
    def sentence(self) -> str:
        """Margin and cost in words, and how much of the price has a cost that is assumed.

        >>> ContractMargin(Decimal("1000.00"), Decimal("620.00"), Decimal("50.00")).sentence
        '38 % of 1,000.00, cost 620.00; the cost of 50.00 is assumed'
        """
        share = "none" if self.margin is None else percent_words(self.margin)
        message = f"; the cost of {self.assumed:,} is assumed" if self.assumed else ""
        return f"{share} of {self.price:,}, cost {self.cost:,}{message}"


def with_lines(agreed: ContractMargin, lines: Iterable[ChangeLine], share_of: ContractMargin) -> ContractMargin:
    """A contract with lines added to it.

    Args:
        agreed: before them. lines: of either sign. share_of: whose share of cost a line without a cost is taken at; its
            price is over 0.

    Returns:
        The contract with them.

    Raises:
        ChangeError: share_of has no price.

    Source: own rule; a cost nobody has said is assumed and shown as assumed, never zero.

    >>> quote = ContractMargin(Decimal("1000.00"), Decimal("600.00"))
    >>> said = ChangeLine("Niche", Decimal("200.00"), Decimal("200.00"), Decimal("150.00"))
    >>> unsaid = ChangeLine("Door", Decimal("-100.00"), Decimal("-100.00"))
    >>> after = with_lines(quote, [said, unsaid], quote)
    >>> str(after.price), str(after.cost), str(after.assumed)
    ('1100.00', '690.00', '100.00')
    """
    if share_of.price <= 0:
        raise ChangeError("A quote without a price has no share of cost.")
    share = Fraction(share_of.cost) / Fraction(share_of.price)
    price, cost, assumed = agreed.price, agreed.cost, agreed.assumed
    for line in lines:
        price += line.price
        cost += to_cents(Fraction(line.price) * share) if line.cost is None else line.cost
        assumed += abs(line.price) if line.cost is None else ZERO
    return ContractMargin(price, cost, assumed)
