"""Changes of an agreed quote: priced lines of either sign, their tax, and what they make of the contract sum."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Literal, get_args

from catalog.core.ground.declared import As, Choice, Money, Number, Text, build, read_fields
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.money import MoneyError, to_cents
from catalog.core.ground.refusal import EntryError
from quoting.core.prices.costs import CATEGORIES, CATEGORY_WORDS, MAX_QUANTITY
from quoting.core.prices.figures import PricingError, check_between
from quoting.core.prices.tax import TaxRule

ChangeKind = Literal["lines", "walls", "allowance", "substitution"]
KINDS: tuple[ChangeKind, ...] = get_args(ChangeKind)
MAX_DAYS_MOVED = 500
MAX_LINES = 500
COST_CATEGORIES = (*CATEGORIES, "freight")
COST_WORDS = (*CATEGORY_WORDS, ("freight", "Freight"))
ZERO = Decimal("0.00")


class ChangeError(PricingError):
    """A change that cannot be priced; the message names the line and what would be right."""


class ChangeEntryError(ChangeError, EntryError):
    """The same of one entry, which `field` names."""


@dataclass(frozen=True)
class ChangeLine:
    """One line of a change: as the client sees it, and what it costs.

    Args:
        what: what it is for; never empty.
        price: before tax, in whole cents; negative where the client pays less.
        taxed: the part of it that tax is charged on, in whole cents, between 0 and the price.
        cost: what it costs the firm, in whole cents, either sign; None while nobody has said. No client sees it.

    Raises:
        ChangeError: no words, a part of a cent, or a taxed part of the other sign or beyond the price.

    Source: own rule.

    >>> ChangeLine("Second door left out", Decimal("-450.00"), Decimal("-450.00")).price
    Decimal('-450.00')
    """

    what: Annotated[str, Text(200), As(label="Work")]
    price: Annotated[
        Decimal, Money(allow_negative=True), As(label="Price before tax", hint="Minus for what is left out.")
    ]
    taxed: Annotated[
        Decimal,
        Money(allow_negative=True),
        As(label="Of it taxed", hint="Empty: all of it, where tax is on the price.", absent=ZERO),
        "All of it, left out where tax is on the whole price.",
    ]
    cost: Annotated[
        Decimal | None,
        Money(allow_negative=True),
        "The firm's own; it reaches no client.",
        As(label="Our cost"),
    ] = None

    @classmethod
    def from_document(cls, reader: Reader) -> ChangeLine:
        """Where its taxed part is not said, all of it is."""
        line = read_fields(cls, reader)
        return build(cls, reader, line if reader.has("taxed") else line | {"taxed": line["price"]})

    def __post_init__(self) -> None:
        if not self.what.strip():
            raise ChangeError("A line of a change must say what it is for.")
        for amount, name in ((self.price, "price"), (self.taxed, "taxed part"), (self.cost or ZERO, "cost")):
            _check_cents(amount, f"{self.what!r}: the {name}")
        low, high = sorted((ZERO, self.price))
        if not low <= self.taxed <= high:
            message = f"{self.what!r}: the taxed part must be between 0 and the price of {self.price:,}."
            raise ChangeEntryError("taxed", message)


@dataclass(frozen=True)
class ChangeCost:
    """A line of what a change costs the firm; no client sees it.

    Args:
        category: ``materials``, ``labour``, ``subcontract``, ``other`` or ``freight``.
        item: key of a step, code of a material or name of a lump; never empty.
        quantity: how much of it, hours for labour, either sign: under 0 where it is left out.
        unit_cost: cost of one, 0 or more.
        what: its name where the item is a key; empty where the item says it.

    Raises:
        ChangeError: another category, no item, or a figure out of range.

    Source: own rule.

    >>> ChangeCost("labour", "niche", Decimal(10), Decimal("48.00")).cost
    Decimal('480.00')
    """

    category: Annotated[str, Choice(COST_CATEGORIES), As(label="Kind", words=COST_WORDS)]
    item: Annotated[str, Text(200), As(label="Step, material or sum")]
    what: Annotated[str, Text(200)] = field(default="", kw_only=True)
    quantity: Annotated[
        Decimal,
        Number(str(-MAX_QUANTITY), str(MAX_QUANTITY)),
        As(label="How much", hint="Hours for labour; minus for what is left out."),
    ]
    unit_cost: Annotated[Decimal, Number("0", str(MAX_QUANTITY)), As(label="Cost of one")]

    def __post_init__(self) -> None:
        if self.category not in COST_CATEGORIES:
            raise ChangeError(f"The category is one of {', '.join(COST_CATEGORIES)}, not {self.category!r}.")
        if not self.item.strip():
            raise ChangeError("A cost line must say what it is for.")
        check_between(self.quantity, f"{self.item!r}: the quantity", -MAX_QUANTITY, MAX_QUANTITY)
        check_between(self.unit_cost, f"{self.item!r}: the unit cost", ZERO, MAX_QUANTITY)

    @property
    def cost(self) -> Decimal:
        """Quantity times unit cost, in whole cents; under 0 for what is left out."""
        return to_cents(Fraction(self.quantity) * Fraction(self.unit_cost))


@dataclass(frozen=True)
class PricedChange:
    """A change with its tax; what must add up is checked when it is made.

    Args:
        lines: at least one.
        price: their sum, before tax.
        taxed: the sum of their taxed parts.
        tax: on that, by the rule of the agreed quote; negative where tax is given back.
        total: price and tax.

    Raises:
        ChangeError: no line, or sums that do not add up.

    Source: own rule (totals are sums of rounded lines).
    """

    lines: tuple[ChangeLine, ...]
    price: Decimal
    taxed: Decimal
    tax: Decimal
    total: Decimal

    def __post_init__(self) -> None:
        if not self.lines:
            raise ChangeError("A change has at least one line; enter what it is for and its price.")
        sums = (
            ("lines", sum((line.price for line in self.lines), ZERO), self.price),
            ("taxed parts", sum((line.taxed for line in self.lines), ZERO), self.taxed),
            ("price and tax", self.price + self.tax, self.total),
        )
        for what, together, whole in sums:
            if together != whole:
                raise ChangeError(f"The {what} add up to {together}, not to {whole}.")


def price_change(lines: Sequence[ChangeLine], tax: TaxRule) -> PricedChange:
    """Price a change by the tax of the quote it changes.

    Args:
        lines: what it is made of, 1 to 500. tax: the rule of the agreed quote.

    Returns:
        Price, tax and total, each of either sign. Tax is rounded once, or on each line and added up, as the rule
        says; an exempt client is charged none.

    Raises:
        ChangeError: no line, too many, or amounts beyond all bounds.

    Source: own rule; rounding half up, away from zero on either side, so that what is charged and given back again
        comes to nothing.

    >>> rule = TaxRule("Sales tax", Decimal("0.13"))
    >>> priced = price_change([ChangeLine("Niche", Decimal("120.00"), Decimal("120.00"))], rule)
    >>> str(priced.tax), str(priced.total)
    ('15.60', '135.60')
    """
    if len(lines) > MAX_LINES:
        raise ChangeError(f"A change has at most {MAX_LINES} lines, not {len(lines)}.")
    exempt = tax.exempt_certificate.strip()
    taken = tuple(replace(line, taxed=ZERO) for line in lines) if exempt else tuple(lines)
    price = sum((line.price for line in taken), ZERO)
    taxed = sum((line.taxed for line in taken), ZERO)
    try:
        if tax.basis == "line":
            amount = sum((to_cents(Fraction(line.taxed) * Fraction(tax.rate)) for line in taken), ZERO)
        else:
            amount = to_cents(Fraction(taxed) * Fraction(tax.rate))
        to_cents(price + amount)
    except MoneyError as problem:
        raise ChangeError(f"The change cannot be priced: {problem}") from None
    return PricedChange(taken, price, taxed, amount, price + amount)


@dataclass(frozen=True)
class ContractSum:
    """What has been agreed in money, and what is not agreed yet.

    Args:
        accepted: the total of the accepted quote with the options chosen, tax included.
        signed: the totals of the signed change notes together, either sign.
        exposure: what notes that wait for a signature would add, 0 or more.
        relief: what such notes would take off, 0 or less: it never hides what may still be added.

    Source: own rule: what is not signed is not part of the contract.

    >>> str(contract_sum(Decimal("1000.00"), [Decimal("120.00")], [Decimal("50.00"), Decimal("-20.00")]).total)
    '1120.00'
    """

    accepted: Decimal
    signed: Decimal
    exposure: Decimal
    relief: Decimal

    @property
    def total(self) -> Decimal:
        """The contract sum: the accepted total and the signed notes.

        >>> str(ContractSum(Decimal("10.00"), Decimal("-1.00"), Decimal("5.00"), Decimal("0.00")).total)
        '9.00'
        """
        return self.accepted + self.signed


def contract_sum(accepted: Decimal, signed: Sequence[Decimal], waiting: Sequence[Decimal]) -> ContractSum:
    """Add up a contract.

    Args:
        accepted: total of the accepted quote, in whole cents, 0 or more. signed, waiting: totals of the change notes
            that are signed, and of those that wait, each in whole cents and of either sign.

    Returns:
        The contract sum, and the exposure beside it.

    Raises:
        ChangeError: an amount with a part of a cent.

    Source: own rule.

    >>> str(contract_sum(Decimal("100.00"), [], [Decimal("30.00")]).exposure)
    '30.00'
    """
    for amount in (accepted, *signed, *waiting):
        _check_cents(amount, "An amount of the contract")
    return ContractSum(
        accepted,
        sum(signed, ZERO),
        sum((entry for entry in waiting if entry > 0), ZERO),
        sum((entry for entry in waiting if entry < 0), ZERO),
    )


def _check_cents(amount: Decimal, what: str) -> None:
    try:
        exact = to_cents(amount) == amount
    except MoneyError as problem:
        raise ChangeError(f"{what}: {problem}") from None
    if not exact:
        raise ChangeError(f"{what} must be in whole cents, not {amount}.")
