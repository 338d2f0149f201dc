"""Pricing: from cost lines to the price, the tax, the total, and the instalments the client pays.

A price is made once, by a target margin or by a markup on each category, and rounded to cents. It is then
shared back: over the categories of cost, from there over the client's lines (a wall or a section each), so
that the lines add up to the price exactly. No figure of cost reaches a client's line.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction
from types import MappingProxyType
from typing import Literal

from catalog.core.money import MoneyError, share_out, split_by_shares, to_cents

Category = Literal["materials", "labour", "subcontract", "other"]
CATEGORIES: tuple[Category, ...] = ("materials", "labour", "subcontract", "other")

PricingMode = Literal["margin", "markup"]
TaxedPart = Literal["price", "materials"]
TaxBasis = Literal["document", "line"]

MAX_QUANTITY = Decimal(10_000_000)
MAX_MARKUP = Decimal(10)

_RATIO = Context(prec=28, rounding=ROUND_HALF_UP)


class PricingError(ValueError):
    """A price that cannot be worked out; the message names the figure and what would be right."""


@dataclass(frozen=True)
class CostLine:
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
    cost: Decimal
    section: str = ""

    def __post_init__(self) -> None:
        if self.category not in CATEGORIES:
            raise PricingError(f"Cost line: the category is {', '.join(CATEGORIES)}, not {self.category!r}.")
        if not self.what.strip() or not self.unit.strip():
            raise PricingError("Cost line: it must say what it is for and in which unit.")
        label = f"Cost line {self.what!r}"
        _check_between(self.quantity, f"{label}: the quantity", Decimal(0), MAX_QUANTITY)
        _check_between(self.unit_cost, f"{label}: the unit cost", Decimal(0), MAX_QUANTITY)
        right = _line_cost(label, self.quantity, self.unit_cost)
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
    _check_between(quantity, f"{label}: the quantity", Decimal(0), MAX_QUANTITY)
    _check_between(unit_cost, f"{label}: the unit cost", Decimal(0), MAX_QUANTITY)
    cost = _line_cost(label, quantity, unit_cost)
    return CostLine(category, what, quantity, unit, unit_cost, cost, section)


@dataclass(frozen=True)
class PricingPolicy:
    """How the firm makes a price of a cost.

    Args:
        mode: ``margin`` for one target margin, ``markup`` for a markup on each category.
        target_margin: margin on the price as a share, 0 to under 1; given in mode ``margin`` only.
        markup_by_category: markup on cost as a share, 0 to 10, for each category that has a cost; given in
            mode ``markup`` only.
        minimum_margin: the margin below which a price needs a second person, or None for no such gate.

    Raises:
        PricingError: a figure missing for the mode, given for the other mode, or out of range.

    Source: trade rules, money (own rule).

    >>> PricingPolicy("margin", target_margin=Decimal("0.38")).mode
    'margin'
    """

    mode: PricingMode
    target_margin: Decimal | None = None
    markup_by_category: Mapping[Category, Decimal] = field(default_factory=dict)
    minimum_margin: Decimal | None = None

    def __post_init__(self) -> None:
        if self.mode not in ("margin", "markup"):
            raise PricingError(f"Pricing policy: the mode is margin or markup, not {self.mode!r}.")
        if (self.mode == "margin") != (self.target_margin is not None):
            raise PricingError("Pricing policy: a target margin is given in mode margin, and only then.")
        if self.mode == "margin" and self.markup_by_category:
            raise PricingError("Pricing policy: markups are given in mode markup only.")
        for share, what in (
            (self.target_margin, "target margin"),
            (self.minimum_margin, "minimum margin"),
        ):
            if share is not None:
                _check_margin(share, f"Pricing policy: the {what}")
        for category, markup in self.markup_by_category.items():
            if category not in CATEGORIES:
                raise PricingError(f"Pricing policy: there is no category {category!r}.")
            _check_between(markup, f"Pricing policy: the markup on {category}", Decimal(0), MAX_MARKUP)
        object.__setattr__(self, "markup_by_category", MappingProxyType(dict(self.markup_by_category)))


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
        _check_between(self.rate, f"Tax {self.name!r}: the rate", Decimal(0), Decimal(1))
        if self.applies_to not in ("price", "materials"):
            raise PricingError(f"Tax {self.name!r}: it applies to price or materials, not {self.applies_to!r}.")
        if self.basis not in ("document", "line"):
            raise PricingError(f"Tax {self.name!r}: the basis is document or line, not {self.basis!r}.")


@dataclass(frozen=True)
class Instalment:
    """A part of the total that falls due at an event.

    Args:
        event: what it falls due at, such as ``boards up``; never empty.
        share: its share of the total, over 0 to 1.

    Raises:
        PricingError: no event, or a share out of range.

    Source: own rule.

    >>> Instalment("on signing", Decimal("0.10")).share
    Decimal('0.10')
    """

    event: str
    share: Decimal | Fraction

    def __post_init__(self) -> None:
        if not self.event.strip():
            raise PricingError("Instalment: it needs the event it falls due at.")
        _check_between(self.share, f"Instalment {self.event!r}: the share", Decimal(0), Decimal(1))
        if self.share == 0:
            raise PricingError(f"Instalment {self.event!r}: the share must be over 0.")


@dataclass(frozen=True)
class InstalmentDue:
    """An instalment with its amount.

    Args:
        event: what it falls due at.
        share: its share of the total, over 0 to 1.
        amount: the amount due, in whole cents, 0 or more.

    Raises:
        PricingError: an amount with a part of a cent, or under 0.

    Source: own rule.

    >>> InstalmentDue("on signing", Decimal("0.10"), Decimal("1564.14")).amount
    Decimal('1564.14')
    """

    event: str
    share: Decimal | Fraction
    amount: Decimal

    def __post_init__(self) -> None:
        _check_cents(self.amount, f"Instalment {self.event!r}: the amount")


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
            _check_cents(amount, f"Price line {self.section!r}: the {what}")
        if self.taxed > self.price:
            raise PricingError(f"Price line {self.section!r}: more is taxed than the price.")


@dataclass(frozen=True)
class PricedQuote:
    """A whole price; everything that must add up is checked when it is made.

    Args:
        cost: the sum of the cost lines, over 0.
        cost_by_category: the cost of every category, 0 where there is none.
        price: the price before tax.
        price_by_category: the price shared over the categories.
        lines: the client's lines, adding up to the price.
        taxed: the part of the price the tax applies to.
        tax: the tax.
        total: price and tax.
        instalments: the amounts due, adding up to the total; empty when none were asked for.
        margin: (price - cost) / price as a share, unrounded.
        below_minimum_margin: whether the margin is below the firm's gate.
        explanations: how the figures came about, for the office; they name costs and margins.

    Raises:
        PricingError: sums that do not add up, or amounts with a part of a cent.

    Source: own rule (totals are sums of rounded lines).

    >>> policy = PricingPolicy("margin", target_margin=Decimal("0.38"))
    >>> costs = [cost_line("labour", "all work", Decimal(100), "h", Decimal("85.82"))]
    >>> price_quote(costs, policy, TaxRule("Sales tax", Decimal("0.13"))).total
    Decimal('15641.39')
    """

    cost: Decimal
    cost_by_category: Mapping[Category, Decimal]
    price: Decimal
    price_by_category: Mapping[Category, Decimal]
    lines: tuple[PriceLine, ...]
    taxed: Decimal
    tax: Decimal
    total: Decimal
    instalments: tuple[InstalmentDue, ...]
    margin: Decimal
    below_minimum_margin: bool
    explanations: tuple[str, ...]

    def __post_init__(self) -> None:
        for amount, what in (
            (self.cost, "cost"),
            (self.price, "price"),
            (self.taxed, "taxed part"),
            (self.tax, "tax"),
            (self.total, "total"),
        ):
            _check_cents(amount, f"Quote: the {what}")
        if self.cost == 0:
            raise PricingError("Quote: the cost must be over 0.")
        _check_sum("costs by category", self.cost_by_category.values(), "cost", self.cost)
        _check_sum("prices by category", self.price_by_category.values(), "price", self.price)
        _check_sum("lines", (line.price for line in self.lines), "price", self.price)
        _check_sum("taxed parts", (line.taxed for line in self.lines), "taxed part", self.taxed)
        _check_sum("price and tax", (self.price, self.tax), "total", self.total)
        if self.instalments:
            _check_sum("instalments", (due.amount for due in self.instalments), "total", self.total)

    @property
    def markup(self) -> Decimal:
        """The blended markup.

        Returns:
            (price - cost) / cost as a share, unrounded.

        Source: trade rules, money.

        >>> policy = PricingPolicy("margin", target_margin=Decimal("0.20"))
        >>> costs = [cost_line("other", "permit", Decimal(1), "each", Decimal("80.00"))]
        >>> price_quote(costs, policy, TaxRule("Sales tax", Decimal(0))).markup
        Decimal('0.25')
        """
        return _ratio(self.price - self.cost, self.cost)


def markup_from_margin(margin: Decimal) -> Decimal:
    """Turn a margin into the markup that gives it.

    Args:
        margin: profit as a share of the price, 0 to under 1.

    Returns:
        Profit as a share of the cost, to 28 digits.

    Raises:
        PricingError: a margin out of range.

    Source: m = g / (1 - g) (trade rules, money; any text on business arithmetic).

    >>> round(markup_from_margin(Decimal("0.40")), 4)
    Decimal('0.6667')
    """
    _check_margin(margin, "The margin")
    return _ratio(margin, 1 - margin)


def margin_from_markup(markup: Decimal) -> Decimal:
    """Turn a markup into the margin it gives.

    Args:
        markup: profit as a share of the cost, 0 to 10.

    Returns:
        Profit as a share of the price, to 28 digits.

    Raises:
        PricingError: a markup out of range.

    Source: g = m / (1 + m) (trade rules, money; any text on business arithmetic).

    >>> round(margin_from_markup(Decimal("0.21")), 4)
    Decimal('0.1736')
    """
    _check_between(markup, "The markup", Decimal(0), MAX_MARKUP)
    return _ratio(markup, 1 + markup)


def stacked_markup(markups: Sequence[Decimal]) -> Decimal:
    """Join markups put on one after the other, such as overhead and then profit.

    Args:
        markups: each as a share of what came before, 0 to 10.

    Returns:
        The one markup that has the same effect.

    Raises:
        PricingError: a markup out of range.

    Source: (1 + m1)(1 + m2) - 1 (trade rules, money).

    >>> stacked_markup([Decimal("0.10"), Decimal("0.10")])
    Decimal('0.2100')
    """
    factor = Decimal(1)
    for markup in markups:
        _check_between(markup, "The markup", Decimal(0), MAX_MARKUP)
        factor *= 1 + markup
    return factor - 1


def price_quote(
    costs: Sequence[CostLine],
    policy: PricingPolicy,
    tax: TaxRule,
    *,
    sections: Sequence[str] = (),
    instalments: Sequence[Instalment] = (),
    whole_job: str = "The work as described",
) -> PricedQuote:
    """Price a job.

    Args:
        costs: the cost lines, at least one with a cost over 0.
        policy: how a price is made of the cost.
        tax: the tax on it.
        sections: the client's lines in the order to show; empty to take those of the costs as they come.
        instalments: the parts the total is paid in, shares adding up to 1; empty for none.
        whole_job: the one client's line when no cost belongs to a section.

    Returns:
        The price, its lines, tax, total, margin, instalments and explanations. Costs of the whole job are
        spread over the sections in proportion to the sections' own costs.

    Raises:
        PricingError: nothing to price, a category without a markup, a section not listed, listed twice or
            without a cost, or instalments that do not add up.

    Source: price = cost / (1 - margin), or the sum over categories of cost x (1 + markup); each rounded once,
        half up (trade rules, money).

    >>> costs = [
    ...     cost_line("materials", "boards", Decimal(10), "sheet", Decimal("30.00"), "Wall A"),
    ...     cost_line("materials", "boards", Decimal(5), "sheet", Decimal("30.00"), "Wall B"),
    ... ]
    >>> policy = PricingPolicy("markup", markup_by_category={"materials": Decimal("0.5")})
    >>> quote = price_quote(costs, policy, TaxRule("Sales tax", Decimal("0.13")))
    >>> [(line.section, str(line.price)) for line in quote.lines]
    [('Wall A', '450.00'), ('Wall B', '225.00')]
    """
    names = _section_names(costs, sections, whole_job)
    cost_by_category = {
        category: sum((line.cost for line in costs if line.category == category), Decimal("0.00"))
        for category in CATEGORIES
    }
    cost = sum(cost_by_category.values(), Decimal("0.00"))
    if cost == 0:
        raise PricingError("There is nothing to price: at least one cost line must have a cost over 0.")
    try:
        price_by_category, how = _price_by_category(cost_by_category, cost, policy)
        cells = _cells(costs, names, price_by_category)
        lines = tuple(_price_line(name, cells[name], tax) for name in names)
        price = sum(price_by_category.values(), Decimal("0.00"))
        taxed = sum((line.taxed for line in lines), Decimal("0.00"))
        tax_amount, tax_how = _tax(lines, taxed, tax)
        due = _instalments_due(price + tax_amount, instalments)
    except MoneyError as problem:
        raise PricingError(f"The price cannot be worked out: {problem}") from None
    margin = _ratio(price - cost, price)
    below = policy.minimum_margin is not None and margin < policy.minimum_margin
    notes = [*how, f"Margin {_percent(margin)} of the price.", tax_how]
    if below and policy.minimum_margin is not None:
        notes.append(f"The margin is below the firm's least of {_percent(policy.minimum_margin)}.")
    return PricedQuote(
        cost=cost,
        cost_by_category=MappingProxyType(cost_by_category),
        price=price,
        price_by_category=MappingProxyType(price_by_category),
        lines=lines,
        taxed=taxed,
        tax=tax_amount,
        total=price + tax_amount,
        instalments=due,
        margin=margin,
        below_minimum_margin=below,
        explanations=tuple(notes),
    )


@dataclass(frozen=True)
class DepositRule:
    """How the firm sets a deposit, and the limit of the law as the firm has entered it.

    Args:
        share: the deposit as a share of the contract price, 0 to 1; a third is ``Fraction(1, 3)``.
        at_most: the deposit is the lesser of the share and this amount, 0 or more; None for no such limit.
        covers_special_orders: the deposit is the greater of the share and the cost of special orders.
        legal_share: the law's greatest share of the price, 0 to 1, or None; only warned of.
        legal_amount: the law's greatest amount, 0 or more, or None; only warned of.

    Raises:
        PricingError: a figure out of range, or a rule that is both limited and raised.

    Source: firm data; the law on deposits differs by place and is entered on the firm's lawyer's word.

    >>> DepositRule(Decimal("0.10"), at_most=Decimal("1000.00")).at_most
    Decimal('1000.00')
    """

    share: Decimal | Fraction
    at_most: Decimal | None = None
    covers_special_orders: bool = False
    legal_share: Decimal | Fraction | None = None
    legal_amount: Decimal | None = None

    def __post_init__(self) -> None:
        _check_between(self.share, "Deposit: the share", Decimal(0), Decimal(1))
        if self.legal_share is not None:
            _check_between(self.legal_share, "Deposit: the law's share", Decimal(0), Decimal(1))
        for amount, what in ((self.at_most, "greatest amount"), (self.legal_amount, "law's amount")):
            if amount is not None:
                _check_cents(amount, f"Deposit: the {what}")
        if self.at_most is not None and self.covers_special_orders:
            raise PricingError("Deposit: it is either limited to an amount or raised to special orders, not both.")


@dataclass(frozen=True)
class Deposit:
    """A deposit with its reasons.

    Args:
        amount: the deposit, in whole cents, 0 or more.
        special_order_cost: what the special orders cost, in whole cents, 0 or more.
        explanation: how the amount came about.
        warnings: sentences for the office: over the law's limit, or less than the special orders cost.

    Raises:
        PricingError: an amount with a part of a cent, or under 0.

    Source: own rule.

    >>> Deposit(Decimal("1000.00"), Decimal("0.00"), "10 %", ()).warnings
    ()
    """

    amount: Decimal
    special_order_cost: Decimal
    explanation: str
    warnings: tuple[str, ...]

    def __post_init__(self) -> None:
        _check_cents(self.amount, "Deposit: the amount")
        _check_cents(self.special_order_cost, "Deposit: the cost of special orders")


def deposit(contract_price: Decimal, special_order_cost: Decimal, rule: DepositRule) -> Deposit:
    """Work out the deposit.

    Args:
        contract_price: the price the share is taken of, in whole cents, 0 or more.
        special_order_cost: what special orders cost the firm, in whole cents, 0 or more.
        rule: how the deposit is set.

    Returns:
        The deposit, never more than the contract price, with its reasons and warnings.

    Raises:
        PricingError: an amount with a part of a cent, or under 0.

    Source: own rule; defer to local law.

    >>> third = DepositRule(Fraction(1, 3), covers_special_orders=True)
    >>> deposit(Decimal("29593.75"), Decimal("4260.00"), third).amount
    Decimal('9864.58')
    """
    _check_cents(contract_price, "Deposit: the contract price")
    _check_cents(special_order_cost, "Deposit: the cost of special orders")
    by_share = to_cents(Fraction(contract_price) * Fraction(rule.share))
    amount, why = by_share, f"{_percent(rule.share)} of {contract_price:,}"
    if rule.at_most is not None:
        amount, why = min(by_share, rule.at_most), f"the lesser of {why} and {rule.at_most:,}"
    elif rule.covers_special_orders:
        amount = min(max(by_share, special_order_cost), contract_price)
        why = f"the greater of {why} and the special orders of {special_order_cost:,}"
    warnings = []
    limits = []
    if rule.legal_share is not None:
        limits.append(to_cents(Fraction(contract_price) * Fraction(rule.legal_share)))
    if rule.legal_amount is not None:
        limits.append(rule.legal_amount)
    if limits and amount > min(limits):
        warnings.append(
            f"The deposit of {amount:,} is over the limit of {min(limits):,} entered for this place; "
            "check local law before asking for it."
        )
    if amount < special_order_cost:
        warnings.append(f"The deposit of {amount:,} does not cover the special orders of {special_order_cost:,}.")
    return Deposit(amount, special_order_cost, f"Deposit {amount:,}: {why}.", tuple(warnings))


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
        _check_between(self.yearly_cost, "The yearly cost", Decimal(0), MAX_QUANTITY)
        _check_between(self.productive_hours, "The productive hours", Decimal(0), Decimal(8784))
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
        _check_between(amount, f"The {what}", Decimal(0), MAX_QUANTITY)
    for rate, what in ((payroll_tax_rate, "payroll tax rate"), (insurance_rate, "insurance rate")):
        _check_between(rate, f"The {what}", Decimal(0), Decimal(1))
    _check_between(paid_hours, "The paid hours", Decimal(0), Decimal(8784))
    _check_between(unproductive_hours, "The unproductive hours", Decimal(0), paid_hours)
    wages = wage_per_hour * paid_hours
    yearly = wages * (1 + payroll_tax_rate + insurance_rate) + health_per_year + other_per_year
    return LabourCost(yearly, paid_hours - unproductive_hours)


def _line_cost(label: str, quantity: Decimal, unit_cost: Decimal) -> Decimal:
    try:
        return to_cents(Fraction(quantity) * Fraction(unit_cost))
    except MoneyError as problem:
        raise PricingError(f"{label}: {problem}") from None


def _section_names(costs: Sequence[CostLine], sections: Sequence[str], whole_job: str) -> tuple[str, ...]:
    used = tuple(dict.fromkeys(line.section for line in costs if line.section))
    sections = sections or used or (whole_job,)
    if len(set(sections)) != len(sections):
        raise PricingError("A section is listed twice; each is listed once.")
    for section in used:
        if section not in sections:
            raise PricingError(f"Costs belong to the section {section!r}, which is not among the listed ones.")
    costed = {line.section for line in costs if line.section and line.cost}
    for section in sections:
        # Beside sections that have a cost, one without would be shown to the client at 0.00.
        if costed and section not in costed:
            raise PricingError(f"The section {section!r} has no cost; give it its costs or leave it out.")
    return tuple(sections)


def _price_by_category(
    cost_by_category: Mapping[Category, Decimal], cost: Decimal, policy: PricingPolicy
) -> tuple[dict[Category, Decimal], list[str]]:
    if policy.target_margin is not None:
        price = to_cents(Fraction(cost) / (1 - Fraction(policy.target_margin)))
        shared = share_out(price, [cost_by_category[category] for category in CATEGORIES])
        how = f"Cost {cost:,} at a target margin of {_percent(policy.target_margin)}: price {price:,}."
        return dict(zip(CATEGORIES, shared, strict=True)), [how]
    prices: dict[Category, Decimal] = {}
    notes = []
    for category in CATEGORIES:
        its_cost = cost_by_category[category]
        markup = policy.markup_by_category.get(category)
        if its_cost and markup is None:
            raise PricingError(f"Pricing policy: there is no markup on {category}, which cost {its_cost:,}.")
        prices[category] = to_cents(Fraction(its_cost) * (1 + Fraction(markup or 0)))
        if its_cost and markup is not None:
            notes.append(
                f"{category.capitalize()}: cost {its_cost:,} with a markup of {_percent(markup)}: {prices[category]:,}."
            )
    return prices, notes


def _cells(
    costs: Sequence[CostLine], names: Sequence[str], price_by_category: Mapping[Category, Decimal]
) -> dict[str, dict[Category, Decimal]]:
    """The price of each category in each section; each category adds up over the sections exactly."""
    own = {name: Fraction(sum((line.cost for line in costs if line.section == name), Decimal(0))) for name in names}
    all_own = sum(own.values(), Fraction(0))
    cells: dict[str, dict[Category, Decimal]] = {name: {} for name in names}
    for category in CATEGORIES:
        of_category = [line for line in costs if line.category == category]
        common = Fraction(sum((line.cost for line in of_category if not line.section), Decimal(0)))
        weights = []
        for name in names:
            direct = sum((line.cost for line in of_category if line.section == name), Decimal(0))
            part = own[name] / all_own if all_own else Fraction(1, len(names))
            weights.append(Fraction(direct) + common * part)
        priced = price_by_category[category]
        shared = share_out(priced, weights) if priced else tuple(Decimal("0.00") for _ in names)
        for name, amount in zip(names, shared, strict=True):
            cells[name][category] = amount
    return cells


def _price_line(name: str, cells: Mapping[Category, Decimal], tax: TaxRule) -> PriceLine:
    price = sum(cells.values(), Decimal("0.00"))
    taxed = price if tax.applies_to == "price" else cells["materials"]
    if tax.exempt_certificate.strip():
        taxed = Decimal("0.00")
    on_line = to_cents(Fraction(taxed) * Fraction(tax.rate)) if tax.basis == "line" else Decimal("0.00")
    return PriceLine(name, price, taxed, on_line)


def _tax(lines: Sequence[PriceLine], taxed: Decimal, tax: TaxRule) -> tuple[Decimal, str]:
    if tax.exempt_certificate.strip():
        return Decimal("0.00"), f"{tax.name}: none, exempt with certificate {tax.exempt_certificate.strip()}."
    part = "the price" if tax.applies_to == "price" else "the part of the price for materials"
    if tax.basis == "line":
        amount = sum((line.tax for line in lines), Decimal("0.00"))
        rounded = "rounded on each line"
    else:
        amount = to_cents(Fraction(taxed) * Fraction(tax.rate))
        rounded = "rounded once"
    return amount, f"{tax.name} {_percent(tax.rate)} on {part}, {taxed:,}, {rounded}: {amount:,}."


def _instalments_due(total: Decimal, instalments: Sequence[Instalment]) -> tuple[InstalmentDue, ...]:
    if not instalments:
        return ()
    amounts = split_by_shares(total, [each.share for each in instalments])
    return tuple(
        InstalmentDue(each.event, each.share, amount) for each, amount in zip(instalments, amounts, strict=True)
    )


def _check_between(value: Decimal | Fraction, what: str, least: Decimal, most: Decimal) -> None:
    if not isinstance(value, Decimal | Fraction):
        raise PricingError(f"{what} must be an exact decimal, not a {type(value).__name__}.")
    if isinstance(value, Decimal) and (not value.is_finite() or (value and value.adjusted() < -12)):
        raise PricingError(f"{what} must be an ordinary number, not {value}.")
    if not least <= value <= most:
        raise PricingError(f"{what} must be from {least:,} to {most:,}, not {value}.")


def _check_margin(margin: Decimal, what: str) -> None:
    _check_between(margin, what, Decimal(0), Decimal(1))
    if margin == 1:
        raise PricingError(f"{what} must be under 1 (100 %): no price leaves nothing for the cost.")


def _check_cents(amount: Decimal, what: str) -> None:
    try:
        exact = to_cents(amount) == amount
    except MoneyError as problem:
        raise PricingError(f"{what}: {problem}") from None
    if not exact or amount < 0:
        raise PricingError(f"{what} must be 0 or more and in whole cents, not {amount}.")


def _check_sum(parts_name: str, parts: Iterable[Decimal], whole_name: str, whole: Decimal) -> None:
    together = sum(parts, Decimal("0.00"))
    if together != whole:
        raise PricingError(f"The {parts_name} add up to {together}, but the {whole_name} is {whole}.")


def _ratio(upper: Decimal, lower: Decimal) -> Decimal:
    return _RATIO.divide(upper, lower)


def _percent(share: Decimal | Fraction) -> str:
    return f"{to_cents(Fraction(share) * 100).normalize():f} %"
