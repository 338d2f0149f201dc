"""The way from the quoted margin to the one a job makes: each cent has one cause, and the points add up."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Literal, get_args

from catalog.core.ground.money import to_cents
from catalog.core.ground.refusal import InvalidValue
from quoting.core.money.cost_parts import CostPart
from quoting.core.money.job_costs import ItemCost, JobCosts, margin_of
from quoting.core.money.quoted import FREIGHT, NOTHING, AgreedItem

BridgeCause = Literal[
    "hours",
    "wage",
    "quantity",
    "price",
    "freight",
    "rework",
    "late",
    "unforeseen",
    "unbilled",
    "overhead",
    "contingency",
]
CAUSES: tuple[BridgeCause, ...] = get_args(BridgeCause)
CENT = Decimal("0.01")


class BridgeError(InvalidValue):
    """A margin that cannot be worked out; the message names the figure."""


@dataclass(frozen=True)
class BridgePart:
    """What one item adds to a cause. quantity: hours or units over what is agreed. is_coded: something is quoted."""

    category: str
    item: str
    what: str
    amount: Decimal
    quantity: Fraction
    rows: tuple[CostPart, ...]
    is_coded: bool = True


@dataclass(frozen=True)
class BridgeStep:
    """One cause: cost over what is agreed, in whole cents, and points of margin it took; both under 0 for a gain."""

    cause: BridgeCause
    amount: Decimal
    points: Decimal
    parts: tuple[BridgePart, ...]


@dataclass(frozen=True)
class Bridge:
    """From the accepted quote by the signed notes to the cost at completion.

    quoted_margin, agreed_margin, margin: in percent as shown, two places: of the quote, with the notes, in the end.
    Raises BridgeError where amounts or points do not add up.
    """

    quoted_price: Decimal
    quoted_cost: Decimal
    contract: Decimal
    agreed_cost: Decimal
    cost: Decimal
    quoted_margin: Decimal
    agreed_margin: Decimal
    margin: Decimal
    steps: tuple[BridgeStep, ...]

    def __post_init__(self) -> None:
        if sum((step.amount for step in self.steps), self.agreed_cost) != self.cost:
            raise BridgeError("The causes do not add up from the agreed cost to the cost at completion.")
        if self.changes + sum((step.points for step in self.steps), NOTHING) != self.lost:
            raise BridgeError("The points of the causes do not add up to the points lost.")

    @property
    def lost(self) -> Decimal:
        """Points lost as shown; under 0 for a gain."""
        return self.quoted_margin - self.margin

    @property
    def changes(self) -> Decimal:
        """Points the signed notes took, price and cost together."""
        return self.quoted_margin - self.agreed_margin


def bridge_of(costs: JobCosts) -> Bridge:
    """Lead a job's quoted margin over to the one it makes.

    costs: of the job. Returns the bridge, largest loss first; raises BridgeError where a price is not over 0.
    Source: the usual split of a variance into quantity at the quoted price and the rest, own order of causes.
    """
    bridge: dict[BridgeCause, list[BridgePart]] = {}
    for cause, part in _all_parts(costs):
        bridge.setdefault(cause, []).append(part)
    amounts = {cause: sum((part.amount for part in parts), NOTHING) for cause, parts in bridge.items()}
    amounts = {cause: amounts[cause] for cause in CAUSES if amounts.get(cause)}
    shown0 = _shown(costs.facts.price, costs.quoted, "accepted price")
    shown1 = _shown(costs.contract, costs.agreed, "contract")
    shown = _shown(costs.contract, costs.at_completion, "contract")
    points = points_of(amounts, costs.contract, shown1 - shown)
    steps = [BridgeStep(cause, amount, points[cause], _sorted(bridge[cause])) for cause, amount in amounts.items()]
    steps.sort(key=lambda step: -step.amount)
    return Bridge(
        costs.facts.price,
        costs.quoted,
        costs.contract,
        costs.agreed,
        costs.at_completion,
        shown0,
        shown1,
        shown,
        tuple(steps),
    )


def points_of(amounts: dict[BridgeCause, Decimal], contract: Decimal, lost: Decimal) -> dict[BridgeCause, Decimal]:
    """Points of margin by cause.

    amounts: whole cents by cause. contract: over 0. lost: points to add up to, two places. Returns each floored to
    0.01, the missing hundredths at the largest remainders; ties: the larger amount, then the order of `CAUSES`.
    Source: own rule (largest remainders).

    >>> larkmoor = {"hours": Decimal("799.00"), "price": Decimal("162.50"), "freight": Decimal("185.00")}
    >>> [str(one) for one in points_of(larkmoor, Decimal("13841.94"), Decimal("8.28")).values()]
    ['5.77', '1.17', '1.34']
    """
    exact = {cause: Fraction(amount) * 10000 / Fraction(contract) for cause, amount in amounts.items()}
    floors = {cause: value.numerator // value.denominator for cause, value in exact.items()}
    missing = int(lost / CENT) - sum(floors.values())
    order = sorted(exact, key=lambda cause: (-(exact[cause] - floors[cause]), -amounts[cause], CAUSES.index(cause)))
    for cause in order[:missing]:
        floors[cause] += 1
    return {cause: Decimal(value).scaleb(-2) for cause, value in floors.items()}


def _all_parts(costs: JobCosts) -> Iterable[tuple[BridgeCause, BridgePart]]:
    for item in costs.items:
        agreed = costs.agreed_by_item.get((item.category, item.item))
        own = [part for part in item.parts if not part.cause]
        for cause in ("unbilled", "rework", "late", "unforeseen"):
            apart = [part for part in item.parts if part.cause == cause]
            if apart:
                yield cause, _part(item, apart, NOTHING, Fraction(0))
        if agreed is None and item.category != FREIGHT:
            if own:
                yield "unforeseen", _part(item, own, NOTHING, Fraction(0), is_coded=False)
        else:
            yield from _of_item(item, own, agreed)


def _of_item(
    item: ItemCost, own: Sequence[CostPart], agreed: AgreedItem | None
) -> Iterable[tuple[BridgeCause, BridgePart]]:
    if item.category == FREIGHT:
        yield "freight", _part(item, own, item.agreed, Fraction(0))
        return
    if agreed is None:
        return
    if agreed.kind in ("overhead", "contingency"):
        yield ("overhead" if agreed.kind == "overhead" else "contingency"), _part(item, own, item.agreed, Fraction(0))
        return
    whole = _part(item, own, item.agreed, Fraction(0) if agreed.is_lump else agreed.quantity)
    by_quantity = NOTHING if agreed.is_lump else to_cents(whole.quantity * agreed.unit_cost)
    labour = item.category == "labour"
    more = BridgePart(item.category, item.item, item.what, by_quantity, whole.quantity, whole.rows)
    rest = BridgePart(item.category, item.item, item.what, whole.amount - by_quantity, Fraction(0), whole.rows)
    yield ("hours" if labour else "quantity"), more
    yield ("wage" if labour else "price"), rest


def _part(
    item: ItemCost, rows: Sequence[CostPart], agreed: Decimal, quantity: Fraction, is_coded: bool = True
) -> BridgePart:
    amount = sum((row.amount for row in rows), -agreed)
    more = sum((row.quantity for row in rows), -quantity)
    return BridgePart(item.category, item.item, item.what, amount, more, tuple(rows), is_coded)


def _sorted(parts: list[BridgePart]) -> tuple[BridgePart, ...]:
    return tuple(sorted((part for part in parts if part.amount), key=lambda part: (-part.amount, part.item)))


def _shown(price: Decimal, cost: Decimal, what: str) -> Decimal:
    margin = margin_of(price, cost)
    if margin is None:
        raise BridgeError(f"The {what} must be over 0, not {price}; without it there is no margin.")
    return to_cents(margin * 100)
