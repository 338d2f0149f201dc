"""Quantities and purchases as tables show them, each with why it is what it is."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from catalog.core.ground.plain_text import half_up, plain
from catalog.pages.words import QUANTITY_UNITS
from jobs.core.measure.explanation import RULE_VERSION, Explanation
from jobs.core.measure.findings import Override
from jobs.core.takeoff.takeoff import Purchase, Takeoff, TakeoffLine
from quoting.platform.formatting import money_words


@dataclass(frozen=True)
class Why:
    rule: str
    inputs: tuple[tuple[str, str], ...]
    source: str
    rules: str = RULE_VERSION


@dataclass(frozen=True)
class QuantityRow:
    """A net quantity of one wall; computed and drift are said only beside a person's own figure."""

    key: str
    wall: str
    label: str
    material: str
    net: str
    why: Why
    override: Override | None
    computed: str
    drift: str


@dataclass(frozen=True)
class PurchaseRow:
    """What is bought of one material: net + waste + rounding = buy + from_stock.

    cost: None where it is not to be shown.
    """

    material: str
    name: str
    unit: str
    net: str
    waste: str
    rounding: str
    buy: str
    from_stock: str
    packs: tuple[str, ...]
    saved_packs: int
    shares: tuple[tuple[str, str, str], ...]
    cost: str | None
    cost_is_missing: bool
    why: Why


def quantity_rows(lines: tuple[TakeoffLine, ...]) -> tuple[QuantityRow, ...]:
    return tuple(_quantity(line) for line in lines)


def purchase_rows(takeoff: Takeoff, wall_names: Mapping[str, str], *, currency: str | None) -> tuple[PurchaseRow, ...]:
    """currency: None for those who see no money."""
    return tuple(_purchase(purchase, wall_names, currency) for purchase in takeoff.purchases)


def with_unit(value: Decimal, unit: str) -> str:
    return f"{rounded(value)} {QUANTITY_UNITS.get(unit, unit)}"


def rounded(value: Decimal) -> str:
    """To two places for the eye; the figure itself is kept to a millionth."""
    return plain(hundredths(value)) or "0"


def hundredths(value: Decimal) -> Decimal:
    return half_up(value, 2)


def why_of(explanation: Explanation) -> Why:
    return Why(explanation.rule, explanation.inputs, explanation.source)


def _quantity(line: TakeoffLine) -> QuantityRow:
    drift = line.drift
    return QuantityRow(
        line.key,
        line.wall,
        line.label,
        line.material,
        with_unit(line.net, line.unit),
        why_of(line.explanation),
        line.override,
        with_unit(line.computed, line.unit),
        with_unit(drift, line.unit) if drift else "",
    )


def _purchase(purchase: Purchase, wall_names: Mapping[str, str], currency: str | None) -> PurchaseRow:
    count = sum(pack.count for pack in purchase.packs if pack.quantity)
    net, waste, buy = (hundredths(value) for value in (purchase.net, purchase.waste, purchase.buy))
    return PurchaseRow(
        purchase.material,
        purchase.name,
        QUANTITY_UNITS.get(purchase.unit, purchase.unit),
        rounded(net),
        rounded(waste),
        # What is left, so that the figures shown add up as the exact ones do.
        rounded(buy + hundredths(purchase.on_hand) - net - waste),
        rounded(buy),
        with_unit(purchase.on_hand, purchase.unit) if purchase.on_hand else "",
        tuple(f"{pack.count} × {pack.label}" for pack in purchase.packs),
        purchase.apart_packs - count if purchase.apart_packs is not None and purchase.apart_packs > count else 0,
        tuple(
            (
                wall_names.get(share.wall, share.wall) or "the whole job",
                with_unit(share.net, purchase.unit),
                money_words(share.cost, currency) if currency and share.cost is not None else "",
            )
            for share in purchase.shares
        ),
        money_words(purchase.cost_in_all, currency) if currency and purchase.cost_in_all is not None else None,
        currency is not None and purchase.cost is None,
        why_of(purchase.explanation),
    )
