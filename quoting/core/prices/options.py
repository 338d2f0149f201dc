"""Options and alternates: what the client may tick, and what the quote then comes to.

Every option has a price beside the base: more for what is added, less (negative) for a cheaper way. Options of one
group are alternates, of which at most one is chosen; the others are independent. Total, tax, instalments and deposit
follow from the choice by the same rules as the base, in `total_with` alone: page, paper and acceptance all ask it.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from typing import Annotated

from catalog.core.ground.declared import As, Money, Text, build, read_fields
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.money import MoneyError
from quoting.core.prices.figures import PricingError, check_cents, check_sum
from quoting.core.prices.payments import (
    Deposit,
    DepositRule,
    Instalment,
    InstalmentDue,
    credit_deposit,
    deposit,
    instalments_due,
)
from quoting.core.prices.stated_figures import MAX_TITLE, SIGNED
from quoting.core.prices.tax import PriceLine, TaxRule, tax_of, tax_on_line
from quoting.core.prices.variants import MAX_NAME_LENGTH, Changes, Variant

MAX_OPTIONS = 20
MAX_BUILD_OPTIONS = 4
"""Options priced as another build are worked up whole, each as long as the job itself."""

KEY = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
MAX_KEY = 40
KEY_PATTERN = f"^{KEY.pattern}$"


class OptionError(PricingError):
    """A choice that cannot be made; the message says which option and what would be right."""


def key_of(title: str) -> str:
    """A key for an option whose document gives none.

    title: what the client reads. Returns small letters and digits of it, joined by hyphens; `option` when it has
    none.

    >>> key_of("Cap rail, in oak")
    'cap-rail-in-oak'
    """
    bare = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", bare)[:MAX_KEY].strip("-") or "option"


@dataclass(frozen=True)
class OptionSpec:
    """Something the client may tick: a price, or another build.

    Raises:
        PricingError: no or a bad key, no title, both or neither of price and build, or an amount out of range.

    Source: own rule.

    >>> OptionSpec("oak-cap", "Cap rail in oak", price=Decimal("480.00")).group
    ''
    """

    document_name = "option"

    key: Annotated[
        str,
        Text(MAX_KEY, KEY_PATTERN),
        "Its name for life: small letters, digits, hyphens; made of the title when not said.",
        As(absent=""),
    ]
    title: Annotated[str, Text(MAX_TITLE), "What the client reads.", As(label="Option")]
    text: Annotated[str, "More of it for the client.", As(label="More about it")] = ""
    group: Annotated[
        str,
        Text(MAX_NAME_LENGTH),
        "The choice it is an alternate of: of one group at most one is chosen. Empty for an independent option.",
        As(label="Choice", hint="The same word on two: one is chosen."),
    ] = ""
    price: Annotated[
        Decimal | None,
        SIGNED,
        "What it adds to the price before tax; negative for less. Not with build.",
        As(label="Price before tax", hint="Minus for less."),
    ] = None
    cost: Annotated[
        Decimal | None, SIGNED, "What it adds to the cost; needed where a least margin is set.", As(label="Our cost")
    ] = None
    materials_price: Annotated[
        Decimal | None,
        SIGNED,
        "What it adds to the part of the price for materials; needed where only that is taxed.",
        As(label="Of the price, materials", hint="Where only materials are taxed."),
    ] = None
    special_order_cost: Annotated[
        Decimal, Money(), "What its special orders cost, for the deposit.", As(label="Special orders in it")
    ] = Decimal("0.00")
    build: Annotated[
        Variant | None, Changes(), "Another build, worked up and priced as the job is. Not with price."
    ] = None

    @classmethod
    def from_document(cls, reader: Reader) -> OptionSpec:
        """Without a key it gets that of its title, and its build the title as its name."""
        values = read_fields(cls, reader)
        values["key"] = values["key"] or key_of(values["title"])
        if values["build"] is not None:
            values["build"] = replace(values["build"], name=values["title"][:MAX_NAME_LENGTH])
        return build(cls, reader, values)

    def __post_init__(self) -> None:
        check_key(self.key)
        label = f"Option {self.key}"
        if not self.title.strip():
            raise PricingError(f"{label}: it needs a title for the client to read.")
        if (self.price is None) == (self.build is None):
            raise PricingError(f"{label}: give it a price or another build, one of the two.")
        if self.build is not None and (self.cost is not None or self.materials_price is not None):
            raise PricingError(f"{label}: a build brings its own cost and materials; leave them out.")
        for amount, what in ((self.price, "price"), (self.cost, "cost"), (self.materials_price, "materials part")):
            if amount is not None:
                check_cents(abs(amount), f"{label}: the {what}")
        check_cents(self.special_order_cost, f"{label}: the cost of special orders")


@dataclass(frozen=True)
class PricedOption:
    """An option with its price; the client may see everything but `cost` and `special_order_cost`.

    Args:
        key: its name for life.
        title: what the client reads.
        text: more of it for the client; may be empty.
        group: the choice it is an alternate of; empty when it is independent.
        price: what it adds to the price before tax, in whole cents; negative for less.
        taxed: what it adds to the part of the price the tax applies to, in whole cents, either sign: oak for pine
            may add to the materials and take from the labour.
        cost: what it adds to the cost, in whole cents, either sign; None when it is not known.
        special_order_cost: what it adds to the cost of special orders, in whole cents, either sign.

    Raises:
        PricingError: a bad key, or an amount with a part of a cent.

    Source: own rule.

    >>> PricedOption("oak-cap", "Cap rail in oak", Decimal("480.00"), Decimal("480.00")).group
    ''
    """

    key: str
    title: str
    price: Decimal
    taxed: Decimal
    group: str = ""
    text: str = ""
    cost: Decimal | None = None
    special_order_cost: Decimal = Decimal("0.00")

    def __post_init__(self) -> None:
        check_key(self.key)
        label = f"Option {self.key}"
        check_cents(abs(self.price), f"{label}: the price")
        check_cents(abs(self.taxed), f"{label}: the taxed part")
        check_cents(abs(self.special_order_cost), f"{label}: the cost of special orders")


@dataclass(frozen=True)
class Offer:
    """All that the total depends on, the client's choice apart.

    Args:
        lines: the client's lines of the base, at least one.
        tax: the tax, the certificate of an exempt client in it.
        options: what may be ticked; keys differ, and no choice brings the price or the taxed part under 0.
        instalments: the parts the total is paid in; empty for none.
        deposit: how the deposit is set; None for no deposit.
        special_order_cost: what the special orders of the base cost, in whole cents, 0 or more.

    Raises:
        PricingError: no line, a key that stands twice, or options that could bring the price under 0.

    Source: own rule.

    >>> line = PriceLine("Screen", Decimal("100.00"), Decimal("100.00"), Decimal("0.00"))
    >>> Offer((line,), TaxRule("Sales tax", Decimal("0.13"))).options
    ()
    """

    lines: tuple[PriceLine, ...]
    tax: TaxRule
    options: tuple[PricedOption, ...] = ()
    instalments: tuple[Instalment, ...] = ()
    deposit: DepositRule | None = None
    special_order_cost: Decimal = Decimal("0.00")

    def __post_init__(self) -> None:
        if not self.lines:
            raise PricingError("Offer: it has no line; at least one is priced.")
        refuse_doubled(option.key for option in self.options)
        check_cents(self.special_order_cost, "Offer: the cost of special orders")
        price, taxed = _sum(line.price for line in self.lines), _sum(line.taxed for line in self.lines)
        prices, taxes = (
            [Fraction(option.price) for option in self.options],
            [Fraction(option.taxed) for option in self.options],
        )
        untaxed = [Fraction(option.price - option.taxed) for option in self.options]
        for whole, parts, message in (
            (price, prices, "the price under 0"),
            (taxed, taxes, "the taxed part under 0"),
            (price - taxed, untaxed, "the taxed part over the price"),
        ):
            if Fraction(whole) + least_of_any_choice(self.options, parts) < 0:
                raise PricingError(
                    f"Options: some choice of them brings {message}; look at their prices and materials."
                )


@dataclass(frozen=True)
class OptionLine:
    """A chosen option as a line of the price.

    Args:
        key: of the option.
        title: what the client reads.
        price: before tax, in whole cents; negative for less.
        taxed: the part of it the tax applies to.
        tax: the tax rounded on the line, in whole cents; 0 when the tax is rounded on the document.

    Source: own rule.

    >>> OptionLine("oak-cap", "Cap rail in oak", Decimal("480.00"), Decimal("480.00"), Decimal("0.00")).key
    'oak-cap'
    """

    key: str
    title: str
    price: Decimal
    taxed: Decimal
    tax: Decimal


@dataclass(frozen=True)
class OfferTotal:
    """What the quote comes to with the options chosen; everything that must add up is checked when it is made.

    Args:
        chosen: keys of the options chosen, in the order of the offer.
        lines: the lines of the base.
        options: the chosen options as lines.
        price: before tax, in whole cents.
        taxed: the part of it the tax applies to.
        tax: the tax.
        tax_words: how the tax came about, for the client.
        total: price and tax.
        instalments: the amounts due, adding up to the total; empty when none are asked for.
        deposit: the deposit, None when none is asked for.

    Raises:
        PricingError: sums that do not add up.

    Source: own rule (totals are sums of rounded lines).

    >>> line = PriceLine("Screen", Decimal("100.00"), Decimal("100.00"), Decimal("0.00"))
    >>> total_with(Offer((line,), TaxRule("Sales tax", Decimal("0.13"))), ()).total
    Decimal('113.00')
    """

    chosen: tuple[str, ...]
    lines: tuple[PriceLine, ...]
    options: tuple[OptionLine, ...]
    price: Decimal
    taxed: Decimal
    tax: Decimal
    tax_words: str
    total: Decimal
    instalments: tuple[InstalmentDue, ...]
    deposit: Deposit | None

    def __post_init__(self) -> None:
        both: tuple[PriceLine | OptionLine, ...] = (*self.lines, *self.options)
        check_sum("lines", (line.price for line in both), "price", self.price)
        check_sum("taxed parts", (line.taxed for line in both), "taxed part", self.taxed)
        check_sum("price and tax", (self.price, self.tax), "total", self.total)
        if self.instalments:
            check_sum("instalments", (due.amount for due in self.instalments), "total", self.total)


def total_with(offer: Offer, chosen: Collection[str]) -> OfferTotal:
    """Work out what the client pays with these options.

    Args:
        offer: what is offered.
        chosen: keys of the options ticked, in any order; none for the base alone.

    Returns:
        Lines, price, tax, total, instalments and deposit of that choice.

    Raises:
        OptionError: a key the offer does not have, one given twice, or two alternates of one group.

    Source: own rule; the tax is rounded as `quoting.core.prices.tax` says, the instalments as
    `quoting.core.prices.payments`.

    >>> line = PriceLine("Screen", Decimal("100.00"), Decimal("100.00"), Decimal("0.00"))
    >>> oak = PricedOption("oak-cap", "Cap rail in oak", Decimal("20.00"), Decimal("20.00"))
    >>> offer = Offer((line,), TaxRule("Sales tax", Decimal("0.13")), (oak,))
    >>> total_with(offer, ["oak-cap"]).total
    Decimal('135.60')
    """
    taken = _taken(offer, chosen)
    ticked = tuple(_option_line(option, offer.tax) for option in taken)
    both: tuple[PriceLine | OptionLine, ...] = (*offer.lines, *ticked)
    price, taxed = _sum(line.price for line in both), _sum(line.taxed for line in both)
    try:
        tax, words = tax_of([line.tax for line in both], taxed, offer.tax)
        due = instalments_due(price + tax, offer.instalments)
    except MoneyError as problem:
        raise PricingError(f"The total cannot be worked out: {problem}") from None
    wanted = None
    if offer.deposit is not None:
        special = offer.special_order_cost + _sum(option.special_order_cost for option in taken)
        wanted = deposit(price, max(special, Decimal("0.00")), offer.deposit)
        due = credit_deposit(due, wanted.amount)
    keys = tuple(option.key for option in taken)
    return OfferTotal(keys, offer.lines, ticked, price, taxed, tax, words, price + tax, due, wanted)


def check_key(key: str) -> None:
    """Refuse a key that could not stand in an address or a form.

    Args:
        key: the key of an option.

    Raises:
        PricingError: anything but small letters, digits and single hyphens, 1 to 40 of them.

    Source: own rule.

    >>> check_key("oak-cap")
    """
    if len(key) > MAX_KEY or not KEY.fullmatch(key):
        raise PricingError(
            f"Option: its key is small letters, digits and hyphens, at most {MAX_KEY}, not {key[:60]!r}."
        )


def refuse_doubled(keys: Iterable[str]) -> None:
    """Refuse a key that stands twice.

    Args:
        keys: keys of options.

    Raises:
        OptionError: one of them stands twice, named.

    Source: own rule.

    >>> refuse_doubled(["oak", "ash"])
    """
    seen: set[str] = set()
    for key in keys:
        if key in seen:
            raise OptionError(f"The option {key!r} is there twice; give each its own key.")
        seen.add(key)


def least_of_any_choice(options: Sequence[PricedOption], amounts: Sequence[Fraction]) -> Fraction:
    """The least that any choice of options can add up to.

    Args:
        options: what may be ticked.
        amounts: what each of them adds, either sign, in their order.

    Returns:
        0 or less: every independent option that takes something, and of each group the alternate that takes most.

    Source: own rule; exact, for the choices are independent but for the groups.

    >>> oak = PricedOption("oak", "Oak", Decimal("20.00"), Decimal("20.00"))
    >>> least_of_any_choice([oak], [Fraction(-3)])
    Fraction(-3, 1)
    """
    nothing = Fraction(0)
    least, by_group = nothing, dict[str, Fraction]()
    for option, amount in zip(options, amounts, strict=True):
        if option.group:
            by_group[option.group] = min(by_group.get(option.group, nothing), amount)
        else:
            least += min(amount, nothing)
    return least + sum(by_group.values(), nothing)


def _taken(offer: Offer, chosen: Collection[str]) -> tuple[PricedOption, ...]:
    known = {option.key: option for option in offer.options}
    for key in chosen:
        if key not in known:
            raise OptionError(f"This quote has no option {key[:60]!r}; choose among those it lists.")
    refuse_doubled(chosen)
    by_group: dict[str, PricedOption] = {}
    for option in (entry for entry in offer.options if entry.key in chosen and entry.group):
        other = by_group.setdefault(option.group, option)
        if other is not option:
            raise OptionError(
                f'{option.group}: choose "{other.title}" or "{option.title}", not both; they stand for each other.'
            )
    return tuple(option for option in offer.options if option.key in chosen)


def _option_line(option: PricedOption, tax: TaxRule) -> OptionLine:
    exempt = bool(tax.exempt_certificate.strip())
    taxed = Decimal("0.00") if exempt else option.taxed
    return OptionLine(option.key, option.title, option.price, taxed, tax_on_line(taxed, tax))


def _sum(amounts: Iterable[Decimal]) -> Decimal:
    return sum(amounts, Decimal("0.00"))
