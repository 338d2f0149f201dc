"""The cost of one job: quoted, until now, committed, still to go and in the end, each figure with its parts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from functools import cached_property

from catalog.core.ground.money import to_cents
from jobs.core.costs.bills import BillRow
from jobs.core.costs.hours import HourRow, StepHoursLeft
from jobs.core.costs.received_goods import OrderedFreight, OrderedRow
from quoting.core.money.completion import SaidToGo, ToGoFacts, ordered_items, still_to_go
from quoting.core.money.cost_parts import TO_DATE, CostPart, Gap, Placing, Stage
from quoting.core.money.cost_to_date import billed, freight_on_order, on_order, worked
from quoting.core.money.quoted import NOTHING, Agreed, AgreedItem, ItemNames, NoteCosts, QuotedCost, agreed_items
from quoting.core.prices.overhead import OverheadRule


@dataclass(frozen=True)
class JobFacts:
    """All rows of one job that its cost is worked out from.

    price: accepted, before tax, with the options taken. quoted: its cost lines; overhead's and contingency's bear
    their kind. rates: cost of an hour today by step, "" for all others. overhead: the rule it was quoted by.
    fitted_by: the step that fits a material, where one does.
    """

    price: Decimal
    quoted: tuple[QuotedCost, ...]
    notes: tuple[NoteCosts, ...] = ()
    hours: tuple[HourRow, ...] = ()
    hours_left: tuple[StepHoursLeft, ...] = ()
    bills: tuple[BillRow, ...] = ()
    ordered: tuple[OrderedRow, ...] = ()
    freight: tuple[OrderedFreight, ...] = ()
    said: tuple[SaidToGo, ...] = ()
    rates: Mapping[str, Decimal] = field(default_factory=dict)
    overhead: OverheadRule | None = None
    fitted_by: Mapping[str, str] = field(default_factory=dict)
    is_closed: bool = False


@dataclass(frozen=True)
class CostSum:
    """What a group of parts comes to, beside what was quoted and agreed; all in whole cents."""

    quoted: Decimal
    agreed: Decimal
    parts: tuple[CostPart, ...]

    @cached_property
    def to_date(self) -> Decimal:
        return _sum(part.amount for part in self.parts if part.stage in TO_DATE)

    @cached_property
    def committed(self) -> Decimal:
        return self.of("committed")

    @cached_property
    def to_complete(self) -> Decimal:
        """Commitments included."""
        return self.at_completion - self.to_date

    @cached_property
    def at_completion(self) -> Decimal:
        return _sum(part.amount for part in self.parts)

    def of(self, *stages: Stage) -> Decimal:
        return _sum(part.amount for part in self.parts if part.stage in stages)


@dataclass(frozen=True)
class ItemCost(CostSum):
    """One step, material or lump. is_coded: something is quoted for it."""

    category: str
    item: str
    what: str
    is_coded: bool


@dataclass(frozen=True)
class JobCosts(CostSum):
    """The cost of a job against its contract, before tax. gaps: what is missing beside the figures."""

    facts: JobFacts
    agreed_by_item: Agreed
    gaps: tuple[Gap, ...]

    @property
    def contract(self) -> Decimal:
        """Accepted and signed."""
        return self.facts.price + _sum(note.price for note in self.facts.notes if note.is_signed)

    @property
    def exposure(self) -> Decimal:
        """What waiting notes would add; what they would take off never hides it."""
        return _sum(max(note.price, NOTHING) for note in self.facts.notes if not note.is_signed)

    @property
    def received_not_billed(self) -> Decimal:
        return self.of("received")

    @property
    def margin(self) -> Fraction | None:
        """(contract - cost at completion) / contract, exact; None where the contract is not over 0."""
        return margin_of(self.contract, self.at_completion)

    @property
    def margin_of_bills_alone(self) -> Fraction | None:
        """What the margin would look like if goods here without a bill were forgotten."""
        return margin_of(self.contract, self.at_completion - self.received_not_billed)

    @cached_property
    def items(self) -> tuple[ItemCost, ...]:
        """By step, material and lump, the agreed ones first, in their order; rows apart stand with their item."""
        by_key: dict[tuple[str, str], list[CostPart]] = {key: [] for key in self.agreed_by_item}
        for part in self.parts:
            by_key.setdefault(part.key, []).append(part)
        return tuple(_item_cost(key, parts, self.agreed_by_item.get(key)) for key, parts in by_key.items())

    @cached_property
    def by_category(self) -> dict[str, CostSum]:
        """By category, in the order of the items."""
        groups: dict[str, list[ItemCost]] = {}
        for item in self.items:
            groups.setdefault(item.category, []).append(item)
        return {category: _together(items) for category, items in groups.items()}


def job_costs(facts: JobFacts) -> JobCosts:
    """Work out what a job costs.

    facts: its rows. Returns the cost, every part placed; the order of the rows moves no figure.
    Source: own rule: until now = labour + billed less credits + received not billed + overhead on these.
    """
    agreed = agreed_items(facts.quoted, facts.notes)
    names, placing = ItemNames(agreed), Placing(agreed, facts.quoted, facts.notes)
    costs = [
        *worked(facts.hours),
        *billed(facts.bills, facts.ordered, names),
        *on_order(facts.ordered, agreed, names),
        *freight_on_order(facts.freight),
    ]
    parts = [placing.place(part) for part in costs if isinstance(part, CostPart)]
    gaps = [gap for gap in costs if isinstance(gap, Gap)] + _assumed(facts)
    ordered = ordered_items(facts.ordered, names)
    to_go = list(
        still_to_go(ToGoFacts(agreed, parts, ordered, facts.hours_left, facts.said, facts.rates, facts.is_closed))
    )
    parts += [part for part in to_go if isinstance(part, CostPart) and (part.amount or part.quantity)]
    gaps += [gap for gap in to_go if isinstance(gap, Gap)]
    parts += _overhead(facts.overhead, parts, agreed)
    every = tuple(sorted(parts, key=_order))
    quoted, cost = _sum(item.quoted for item in agreed.values()), _sum(item.cost for item in agreed.values())
    return JobCosts(
        quoted,
        cost,
        every,
        facts,
        agreed,
        tuple(sorted(gaps, key=lambda gap: (gap.kind, gap.item, gap.row, gap.sentence))),
    )


def margin_of(price: Decimal, cost: Decimal) -> Fraction | None:
    """(price - cost) / price, exact; None where the price is not over 0.

    >>> margin_of(Decimal("100.00"), Decimal("62.00"))
    Fraction(19, 50)
    """
    return (Fraction(price) - Fraction(cost)) / Fraction(price) if price > 0 else None


def _overhead(rule: OverheadRule | None, parts: list[CostPart], agreed: Agreed) -> list[CostPart]:
    """By the quoted rule on what the job really takes, until now and in the end."""
    quoted = next((item for item in agreed.values() if item.kind == "overhead"), None)
    if rule is None or quoted is None:
        return []
    now, whole = _on_base(rule, [part for part in parts if part.stage in TO_DATE]), _on_base(rule, parts)
    stages: tuple[tuple[Stage, Decimal], ...] = (("overhead", now), ("to_go", whole - now))
    return [
        CostPart(stage, *quoted.key, quoted.what, Fraction(0), amount, source="the rule of the quote")
        for stage, amount in stages
        if amount
    ]


def _on_base(rule: OverheadRule, parts: list[CostPart]) -> Decimal:
    if rule.per_labour_hour is not None:
        hours = sum((part.quantity for part in parts if part.category == "labour"), Fraction(0))
        return to_cents(hours * Fraction(rule.per_labour_hour))
    return to_cents(Fraction(_sum(part.amount for part in parts)) * Fraction(rule.share_of_cost or 0))


def _assumed(facts: JobFacts) -> list[Gap]:
    lines = [(line.what, line) for line in facts.quoted]
    lines += [(f"Change note {note.number}", line) for note in facts.notes if note.is_signed for line in note.lines]
    return [
        Gap("assumed", line.item, f"{of}: its cost is not entered; {line.cost:,} is assumed.")
        for of, line in lines
        if line.is_assumed
    ]


def _item_cost(key: tuple[str, str], parts: list[CostPart], agreed: AgreedItem | None) -> ItemCost:
    category, item = key
    if agreed is None:
        return ItemCost(NOTHING, NOTHING, tuple(parts), category, item, parts[0].what if item else "", False)
    return ItemCost(agreed.quoted, agreed.cost, tuple(parts), category, item, agreed.what, True)


def _together(items: list[ItemCost]) -> CostSum:
    parts = tuple(part for item in items for part in item.parts)
    return CostSum(_sum(item.quoted for item in items), _sum(item.agreed for item in items), parts)


def _order(part: CostPart) -> tuple[str, ...]:
    day = part.day.isoformat() if part.day else ""
    return (
        part.category,
        part.item,
        part.stage,
        day,
        part.row,
        part.what,
        part.tag,
        str(part.amount),
        str(part.quantity),
    )


def _sum(amounts: Iterable[Decimal]) -> Decimal:
    return sum(amounts, NOTHING)
