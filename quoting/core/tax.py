"""Tax on a price: the rule, the client's lines it is charged on, and the amount with its basis in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from catalog.core.money import to_cents
from quoting.core.costs import Category
from quoting.core.figures import PricingError, check_between, check_cents, percent_words

TaxedPart = Literal["price", "materials"]
TaxBasis = Literal["document", "line"]


@dataclass(frozen=True)
class TaxRule:
    """A tax on the price.

    Args:
        name: what the paper calls it, such as ``Sales tax``; never empty.
        rate: the rate as a share, 0 to 1.
        applies_to: ``price`` for the whole of it, ``materials`` for the part of the price that stands for
            materials.
        basis: ``document`` to round the tax once, ``line`` to round it on each client's line and add up.
        exempt_certificate: the number of the client's certificate; not empty means no tax is charged.

    Raises:
        PricingError: no name, or a figure or word that is out of range.

    Source: own rule; the rates and rules of a place are the firm's to enter on its adviser's word.

    >>> TaxRule("Sales tax", Decimal("0.13")).basis
    'document'
    """

    name: str
    rate: Decimal
    applies_to: TaxedPart = "price"
    basis: TaxBasis = "document"
    exempt_certificate: str = ""

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise PricingError("Tax: it needs a name, such as 'Sales tax'.")
        check_between(self.rate, f"Tax {self.name!r}: the rate", Decimal(0), Decimal(1))
        if self.applies_to not in ("price", "materials"):
            raise PricingError(f"Tax {self.name!r}: it applies to price or materials, not {self.applies_to!r}.")
        if self.basis not in ("document", "line"):
            raise PricingError(f"Tax {self.name!r}: the basis is document or line, not {self.basis!r}.")


@dataclass(frozen=True)
class PriceLine:
    """A line of the price as the client sees it.

    Args:
        section: what the line is for, such as a wall.
        price: its price before tax, in whole cents, 0 or more.
        taxed: the part of the price the tax applies to, in whole cents, 0 up to the price.
        tax: the tax shown on the line, in whole cents; always 0 when the tax is rounded on the document.

    Raises:
        PricingError: a part of a cent, an amount under 0, or more taxed than the price.

    Source: own rule.

    >>> PriceLine("Wall A", Decimal("100.00"), Decimal("40.00"), Decimal("5.20")).price
    Decimal('100.00')
    """

    section: str
    price: Decimal
    taxed: Decimal
    tax: Decimal

    def __post_init__(self) -> None:
        for amount, what in ((self.price, "price"), (self.taxed, "taxed part"), (self.tax, "tax")):
            check_cents(amount, f"Price line {self.section!r}: the {what}")
        if self.taxed > self.price:
            raise PricingError(f"Price line {self.section!r}: more is taxed than the price.")


def price_line(name: str, cells: Mapping[Category, Decimal], tax: TaxRule) -> PriceLine:
    price = sum(cells.values(), Decimal("0.00"))
    taxed = price if tax.applies_to == "price" else cells["materials"]
    if tax.exempt_certificate.strip():
        taxed = Decimal("0.00")
    on_line = to_cents(Fraction(taxed) * Fraction(tax.rate)) if tax.basis == "line" else Decimal("0.00")
    return PriceLine(name, price, taxed, on_line)


def tax_of(lines: Sequence[PriceLine], taxed: Decimal, tax: TaxRule) -> tuple[Decimal, str]:
    if tax.exempt_certificate.strip():
        return Decimal("0.00"), f"{tax.name}: none, exempt with certificate {tax.exempt_certificate.strip()}."
    part = "the price" if tax.applies_to == "price" else "the part of the price for materials"
    if tax.basis == "line":
        amount = sum((line.tax for line in lines), Decimal("0.00"))
        rounded = "rounded on each line"
    else:
        amount = to_cents(Fraction(taxed) * Fraction(tax.rate))
        rounded = "rounded once"
    return amount, f"{tax.name} {percent_words(tax.rate)} on {part}, {taxed:,}, {rounded}: {amount:,}."
