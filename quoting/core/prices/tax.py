"""Tax on a price: the rule, the client's lines it is charged on, and the amount with its basis in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Literal, get_args

from catalog.core.ground.declared import Amount, As, Text, View
from catalog.core.ground.money import to_cents
from quoting.core.prices.costs import Category
from quoting.core.prices.figures import PricingError, check_between, check_cents, percent_words
from quoting.core.prices.stated_figures import Stated

TaxedPart = Literal["price", "materials"]
TaxBasis = Literal["document", "line"]
TAXED_PARTS: tuple[TaxedPart, ...] = get_args(TaxedPart)
TAX_BASES: tuple[TaxBasis, ...] = get_args(TaxBasis)


@dataclass(frozen=True)
class TaxRule:
    """The tax on the price.

    Raises:
        PricingError: no name, or a figure or word that is out of range.

    Source: own rule; the rates and rules of a place are the firm's to enter on its adviser's word.

    >>> TaxRule("Sales tax", Decimal("0.13")).basis
    'document'
    """

    document_name = "tax"

    name: Annotated[str, Text(60), "What the paper calls it.", As(label="Tax")]
    rate: Annotated[
        Decimal,
        Stated("0", "1"),
        'The rate as a share, 0 to 1: "0.13" is 13 %.',
        As(label="Rate, %", hint="0: none is charged. Empty: the rate in force that day.", in_percent=True),
    ]
    applies_to: Annotated[
        TaxedPart,
        "The whole price, or the part that stands for materials.",
        As(
            label="Charged on",
            words=(("price", "The whole price"), ("materials", "The part of the price for materials")),
        ),
    ] = "price"
    basis: Annotated[
        TaxBasis,
        "Rounded once on the document, or on each line.",
        As(label="Rounding", words=(("document", "Rounded once"), ("line", "Rounded on each line"))),
    ] = "document"
    exempt_certificate: Annotated[str, As(aside=True)] = ""

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise PricingError("Tax: it needs a name, such as 'Sales tax'.")
        check_between(self.rate, f"Tax {self.name!r}: the rate", Decimal(0), Decimal(1))
        if self.applies_to not in ("price", "materials"):
            raise PricingError(f"Tax {self.name!r}: it applies to price or materials, not {self.applies_to!r}.")
        if self.basis not in ("document", "line"):
            raise PricingError(f"Tax {self.name!r}: the basis is document or line, not {self.basis!r}.")


@dataclass(frozen=True)
class PriceLine(View):
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

    section: Annotated[str, As(name="what")]
    price: Annotated[Decimal, Amount()]
    taxed: Annotated[Decimal, As(aside=True)]
    tax: Annotated[Decimal, As(aside=True)]

    def __post_init__(self) -> None:
        for amount, what in ((self.price, "price"), (self.taxed, "taxed part"), (self.tax, "tax")):
            check_cents(amount, f"Price line {self.section!r}: the {what}")
        if self.taxed > self.price:
            raise PricingError(f"Price line {self.section!r}: more is taxed than the price.")


def price_line(name: str, cells: Mapping[Category, Decimal], tax: TaxRule) -> PriceLine:
    """Make a client's line with what of it is taxed.

    Args:
        name: what the line is for, such as a wall.
        cells: the price of each category in it, in whole cents.
        tax: the tax on the quote.

    Returns:
        The line; with the basis ``line`` its tax is rounded on it.

    Raises:
        PricingError: as ``PriceLine``.

    Source: own rule.

    >>> cells = {"materials": Decimal("40.00"), "labour": Decimal("60.00")}
    >>> price_line("Wall A", cells, TaxRule("Sales tax", Decimal("0.13"), "materials")).taxed
    Decimal('40.00')
    """
    price = sum(cells.values(), Decimal("0.00"))
    taxed = price if tax.applies_to == "price" else cells["materials"]
    if tax.exempt_certificate.strip():
        taxed = Decimal("0.00")
    return PriceLine(name, price, taxed, tax_on_line(taxed, tax))


def tax_on_line(taxed: Decimal, tax: TaxRule) -> Decimal:
    """The tax rounded on one line.

    Args:
        taxed: the part of the line the tax applies to, in whole cents, either sign.
        tax: the tax on the quote.

    Returns:
        The tax in whole cents; 0 when it is rounded on the document, or the client is exempt.

    Source: own rule; rounded half up from the exact value, as the Streamlined Sales and Use Tax Agreement,
        section 324, asks (tax carried to the third place and rounded up whenever that is greater than four).

    >>> tax_on_line(Decimal("40.00"), TaxRule("Sales tax", Decimal("0.0875"), "price", "line"))
    Decimal('3.50')
    """
    if tax.basis != "line" or tax.exempt_certificate.strip():
        return Decimal("0.00")
    return to_cents(Fraction(taxed) * Fraction(tax.rate))


def tax_of(on_lines: Sequence[Decimal], taxed: Decimal, tax: TaxRule) -> tuple[Decimal, str]:
    """Work out the tax of a quote.

    Args:
        on_lines: the tax rounded on each line; counts when the basis is ``line``.
        taxed: the part of the price the tax applies to, in whole cents; counts when it is ``document``.
        tax: the tax on the quote.

    Returns:
        The tax in whole cents, and how it came about: rate, basis, rounding; or the certificate of who is exempt.

    Source: as ``tax_on_line``.

    >>> tax_of([], Decimal("13841.94"), TaxRule("Sales tax", Decimal("0.13")))[0]
    Decimal('1799.45')
    """
    if tax.exempt_certificate.strip():
        return Decimal("0.00"), f"{tax.name}: none, exempt with certificate {tax.exempt_certificate.strip()}."
    part = "the price" if tax.applies_to == "price" else "the part of the price for materials"
    if tax.basis == "line":
        amount = sum(on_lines, Decimal("0.00"))
        rounded = "rounded on each line"
    else:
        amount = to_cents(Fraction(taxed) * Fraction(tax.rate))
        rounded = "rounded once"
    return amount, f"{tax.name} {percent_words(tax.rate)} on {part}, {taxed:,}, {rounded}: {amount:,}."
