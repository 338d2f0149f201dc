"""Pricing: from cost lines to the price, the tax, the total, and the instalments the client pays.

A price is made once, by a target margin or by a markup on each category, and rounded to cents. It is then
shared back: over the categories of cost, from there over the client's lines (a wall or a section each), so
that the lines add up to the price exactly. No figure of cost reaches a client's line.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType
from typing import Annotated, Any, Literal, get_args

from catalog.core.ground.declared import As, Kind, Refs, Schema, Writing
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.money import MoneyError, share_out, to_cents
from quoting.core.prices.allowances import Allowance
from quoting.core.prices.costs import CATEGORIES, Category, CostLine
from quoting.core.prices.figures import (
    PricingError,
    check_between,
    check_cents,
    check_margin,
    check_sum,
    percent_words,
    ratio,
)
from quoting.core.prices.payments import Instalment, InstalmentDue, instalments_due
from quoting.core.prices.stated_figures import Stated
from quoting.core.prices.tax import PriceLine, TaxRule, price_line, tax_of

PricingMode = Literal["margin", "markup"]
MODES: tuple[PricingMode, ...] = get_args(PricingMode)

MAX_MARKUP = Decimal(10)


class Markups(Kind):
    """Markups by category, those that are said; nothing is written for none."""

    def read(self, reader: Reader, name: str) -> dict[Category, Decimal]:
        inner = reader.object(name)
        markups = {category: inner.decimal(category, "0", "10") for category in CATEGORIES if inner.has(category)}
        for category in CATEGORIES:
            inner.pass_over(category)
        inner.finish()
        return markups

    def write(self, value: Mapping[Category, Decimal], how: Writing) -> Any:
        return {category: format(value[category], "f") for category in CATEGORIES if category in value} or None

    def schema(self, refs: Refs) -> Schema:
        share = Stated("0", "10").optional_schema(refs)
        words = 'a share of cost, 0 to 10: "0.25" is 25 %.'
        markups = {category: {"description": f"Markup on {category}, {words}", **share} for category in CATEGORIES}
        return {"type": "object", "properties": markups, "additionalProperties": False}


@dataclass(frozen=True)
class PricingPolicy:
    """How the price is made of the cost.

    Raises:
        PricingError: a figure missing for the mode, given for the other mode, or out of range.

    Source: trade rules, money (own rule).

    >>> PricingPolicy("margin", target_margin=Decimal("0.38")).mode
    'margin'
    """

    document_name = "policy"

    mode: Annotated[
        PricingMode,
        "margin: one target margin on the price; markup: a markup on each category of cost.",
        As(label="Way of pricing", words=(("margin", "One target margin"), ("markup", "A markup on each category"))),
    ]
    target_margin: Annotated[
        Decimal | None,
        Stated("0", "0.99"),
        "Margin as a share of the price, 0 to 0.99; with mode margin.",
        As(label="Target margin, %", in_percent=True),
    ] = None
    minimum_margin: Annotated[
        Decimal | None,
        Stated("0", "0.99"),
        "The margin below which a second person must agree, 0 to 0.99; null for none.",
        As(label="Least margin, %", hint="Below it a second person approves.", in_percent=True),
    ] = field(default=None, kw_only=True)
    markup_by_category: Annotated[
        Mapping[Category, Decimal], Markups(), "Markups by category; with mode markup.", As(name="markup")
    ] = field(default_factory=dict)

    @classmethod
    def document_schema(cls, schema: Schema, refs: Refs) -> Schema:
        margin = {"required": ["target_margin"], "properties": {"target_margin": {"not": {"type": "null"}}}}
        return {**schema, "if": {"properties": {"mode": {"const": "margin"}}}, "then": margin}

    def __post_init__(self) -> None:
        if self.mode not in ("margin", "markup"):
            raise PricingError(f"Pricing policy: the mode is margin or markup, not {self.mode!r}.")
        if self.mode == "margin" and self.target_margin is None:
            raise PricingError("Pricing policy: the target margin is missing; give it, or price by markups.")
        if self.mode == "markup" and self.target_margin is not None:
            raise PricingError("Pricing policy: a target margin is given where one prices by margin, not by markups.")
        if self.mode == "margin" and self.markup_by_category:
            raise PricingError("Pricing policy: markups are given in mode markup only.")
        for share, what in (
            (self.target_margin, "target margin"),
            (self.minimum_margin, "minimum margin"),
        ):
            if share is not None:
                check_margin(share, f"Pricing policy: the {what}")
        for category, markup in self.markup_by_category.items():
            if category not in CATEGORIES:
                raise PricingError(f"Pricing policy: there is no category {category!r}.")
            check_between(markup, f"Pricing policy: the markup on {category}", Decimal(0), MAX_MARKUP)
        object.__setattr__(self, "markup_by_category", MappingProxyType(dict(self.markup_by_category)))


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

    >>> from quoting.core.prices.costs import cost_line
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
            check_cents(amount, f"Quote: the {what}")
        if self.cost == 0:
            raise PricingError("Quote: the cost must be over 0.")
        check_sum("costs by category", self.cost_by_category.values(), "cost", self.cost)
        check_sum("prices by category", self.price_by_category.values(), "price", self.price)
        check_sum("lines", (line.price for line in self.lines), "price", self.price)
        check_sum("taxed parts", (line.taxed for line in self.lines), "taxed part", self.taxed)
        check_sum("price and tax", (self.price, self.tax), "total", self.total)
        if self.instalments:
            check_sum("instalments", (due.amount for due in self.instalments), "total", self.total)

    @property
    def markup(self) -> Decimal:
        """The blended markup.

        Returns:
            (price - cost) / cost as a share, unrounded.

        Source: trade rules, money.

        >>> from quoting.core.prices.costs import cost_line
        >>> policy = PricingPolicy("margin", target_margin=Decimal("0.20"))
        >>> costs = [cost_line("other", "permit", Decimal(1), "each", Decimal("80.00"))]
        >>> price_quote(costs, policy, TaxRule("Sales tax", Decimal(0))).markup
        Decimal('0.25')
        """
        return ratio(self.price - self.cost, self.cost)


def price_quote(
    costs: Sequence[CostLine],
    policy: PricingPolicy,
    tax: TaxRule,
    *,
    sections: Sequence[str] = (),
    instalments: Sequence[Instalment] = (),
    whole_job: str = "The work as described",
    apart: Sequence[str] = (),
    allowances: Sequence[Allowance] = (),
) -> PricedQuote:
    """Price a job.

    Args:
        costs: the cost lines, at least one with a cost over 0.
        policy: how a price is made of the cost.
        tax: the tax on it.
        sections: the client's lines in the order to show; empty to take those of the costs as they come.
        instalments: the parts the total is paid in, shares adding up to 1; empty for none.
        whole_job: the one client's line when no cost belongs to a section.
        apart: sections that take no part of the costs of the whole job, such as a contingency the client sees.
        allowances: sums in the price as they are, each a line of the client's; the policy does not touch them.

    Returns:
        The price, its lines, tax, total, margin, instalments and explanations. Costs of the whole job are
        spread over the sections in proportion to the sections' own costs.

    Raises:
        PricingError: nothing to price, a category without a markup, a section not listed, listed twice or
            without a cost, or instalments that do not add up.

    Source: price = cost / (1 - margin), or the sum over categories of cost x (1 + markup); each rounded once,
        half up (trade rules, money).

    >>> from quoting.core.prices.costs import cost_line
    >>> costs = [
    ...     cost_line("materials", "boards", Decimal(10), "sheet", Decimal("30.00"), "Wall A"),
    ...     cost_line("materials", "boards", Decimal(5), "sheet", Decimal("30.00"), "Wall B"),
    ... ]
    >>> policy = PricingPolicy("markup", markup_by_category={"materials": Decimal("0.5")})
    >>> quote = price_quote(costs, policy, TaxRule("Sales tax", Decimal("0.13")))
    >>> [(line.section, str(line.price)) for line in quote.lines]
    [('Wall A', '450.00'), ('Wall B', '225.00')]
    """
    names = _section_names([line for line in costs if line.section not in apart], sections, whole_job)
    beside = tuple(name for name in apart if any(line.section == name and line.cost for line in costs))
    _refuse_doubled((*names, *beside, *(allowance_name(allowance) for allowance in allowances)))
    worked = _sums((line.category, line.cost) for line in costs)
    worked_cost = sum(worked.values(), Decimal("0.00"))
    if worked_cost == 0:
        raise PricingError("There is nothing to price: at least one cost line must have a cost over 0.")
    try:
        priced, how = _price_by_category(worked, worked_cost, policy)
        cells = _cells(costs, names, beside, priced)
        cells |= {
            allowance_name(allowance): _sums([(allowance.category, allowance.amount)]) for allowance in allowances
        }
        lines = tuple(price_line(name, cells[name], tax) for name in cells)
        price_by_category = _sums(
            [*priced.items(), *((allowance.category, allowance.amount) for allowance in allowances)]
        )
        price = sum(price_by_category.values(), Decimal("0.00"))
        taxed = sum((line.taxed for line in lines), Decimal("0.00"))
        tax_amount, tax_how = tax_of([line.tax for line in lines], taxed, tax)
        due = instalments_due(price + tax_amount, instalments)
    except MoneyError as problem:
        raise PricingError(f"The price cannot be worked out: {problem}") from None
    cost_by_category = _sums([*worked.items(), *((allowance.category, allowance.own_cost) for allowance in allowances)])
    cost = sum(cost_by_category.values(), Decimal("0.00"))
    how += [
        f"{allowance_name(allowance)}: {allowance.amount:,} in the price as it is, cost {allowance.own_cost:,}."
        for allowance in allowances
    ]
    margin = ratio(price - cost, price)
    # To the cent: what rounding a price leaves is no margin given away.
    below = policy.minimum_margin is not None and price < to_cents(
        Fraction(cost) / (1 - Fraction(policy.minimum_margin))
    )
    notes = [*how, f"Margin {percent_words(margin)} of the price.", tax_how]
    if below and policy.minimum_margin is not None:
        notes.append(f"The margin is below the firm's least of {percent_words(policy.minimum_margin)}.")
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


def allowance_name(allowance: Allowance) -> str:
    """The client's line of an allowance.

    Args:
        allowance: the sum in the price.

    Returns:
        The name of its line.

    Source: own rule.

    >>> allowance_name(Allowance("Pendant lamp", Decimal("500.00")))
    'Allowance: Pendant lamp'
    """
    return f"Allowance: {allowance.what}"


def _sums(parts: Iterable[tuple[Category, Decimal]]) -> dict[Category, Decimal]:
    sums: dict[Category, Decimal] = dict.fromkeys(CATEGORIES, Decimal("0.00"))
    for category, amount in parts:
        sums[category] += amount
    return sums


def _refuse_doubled(names: Sequence[str]) -> None:
    for place, name in enumerate(names):
        if name in names[:place]:
            raise PricingError(f"Two lines of the price are named {name!r}; give each a name of its own.")


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
        how = f"Cost {cost:,} at a target margin of {percent_words(policy.target_margin)}: price {price:,}."
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
                f"{category.capitalize()}: cost {its_cost:,} with a markup of {percent_words(markup)}: "
                f"{prices[category]:,}."
            )
    return prices, notes


def _cells(
    costs: Sequence[CostLine],
    names: Sequence[str],
    apart: Sequence[str],
    price_by_category: Mapping[Category, Decimal],
) -> dict[str, dict[Category, Decimal]]:
    """The price of each category in each section; each category adds up over the sections exactly.

    Costs of the whole job are spread over `names` alone, in proportion to their own.
    """
    own = {name: Fraction(sum((line.cost for line in costs if line.section == name), Decimal(0))) for name in names}
    all_own = sum(own.values(), Fraction(0))
    cells: dict[str, dict[Category, Decimal]] = {name: {} for name in (*names, *apart)}
    for category in CATEGORIES:
        of_category = [line for line in costs if line.category == category]
        common = Fraction(sum((line.cost for line in of_category if not line.section), Decimal(0)))
        weights = []
        for name in cells:
            direct = sum((line.cost for line in of_category if line.section == name), Decimal(0))
            part = own.get(name, Fraction(0)) / all_own if all_own else Fraction(1, len(names)) if name in own else 0
            weights.append(Fraction(direct) + common * part)
        priced = price_by_category[category]
        shared = share_out(priced, weights) if priced else tuple(Decimal("0.00") for _ in cells)
        for name, amount in zip(cells, shared, strict=True):
            cells[name][category] = amount
    return cells
