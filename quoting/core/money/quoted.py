"""The quoted side: what was agreed, line by line, and what notes added; frozen when they were."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Literal

from catalog.core.ground.declared import Custom, Exact, Words
from catalog.core.ground.money import to_cents

ItemKind = Literal["", "allowance", "overhead", "contingency"]
NOTHING = Decimal("0.00")
FREIGHT = "freight"
CATEGORIES = ("materials", "labour", "subcontract", "other", FREIGHT)
LUMP_CATEGORIES = ("subcontract", "other")


_FRACTION = Custom(
    lambda reader, name: Fraction(reader.raw(name)), lambda value: str(Fraction(value)), {"type": "string"}
)


@dataclass(frozen=True)
class QuotedCost:
    """One line of cost as quoted or as signed.

    category: one of `CATEGORIES`. item: key of a step, code of a material or name of a lump. quantity: of either sign,
    hours for labour. unit_cost: of one. takes_rest: one sum for its category, or for its note: it takes every row that
    has no line of its own. is_assumed: nobody said the cost of a note or option; it is its price x (1 - quoted margin).

    Raises ValueError for another category; freight is one item, named so.
    """

    category: str
    item: Annotated[str, Words()]
    what: Annotated[str, Words()]
    quantity: Annotated[Decimal, Exact()]
    unit_cost: Annotated[Decimal | Fraction, _FRACTION]
    kind: ItemKind = ""
    takes_rest: bool = False
    is_assumed: bool = False

    def __post_init__(self) -> None:
        if self.category not in CATEGORIES:
            raise ValueError(f"The category is one of {', '.join(CATEGORIES)}, not {self.category!r}.")
        if self.category == FREIGHT and self.item != FREIGHT:
            raise ValueError(f"Freight is one item, not {self.item!r}.")

    @property
    def cost(self) -> Decimal:
        """Quantity x unit cost, in whole cents.

        >>> QuotedCost("labour", "framing", "Framing", Decimal(46), Decimal("48.00")).cost
        Decimal('2208.00')
        """
        return to_cents(Fraction(self.quantity) * Fraction(self.unit_cost))


@dataclass(frozen=True)
class NoteCosts:
    """A change note with its price before tax and its cost. is_signed: else it waits, and stands outside."""

    number: int
    title: str
    price: Decimal
    is_signed: bool
    lines: tuple[QuotedCost, ...] = ()


@dataclass(frozen=True)
class AgreedItem:
    """What is agreed of one item, quote and signed notes together.

    quoted: of the accepted quote alone, in whole cents. quantity, cost: with the notes. unit_cost: of one, exact; 0
    where the quantity is 0.
    """

    category: str
    item: str
    what: str
    quoted: Decimal
    quantity: Fraction
    cost: Decimal
    unit_cost: Fraction
    kind: ItemKind
    is_lump: bool

    @property
    def key(self) -> tuple[str, str]:
        return (self.category, self.item)


Agreed = Mapping[tuple[str, str], AgreedItem]


def agreed_items(quoted: Iterable[QuotedCost], notes: Iterable[NoteCosts]) -> Agreed:
    """Add the agreed cost up by item.

    quoted: of the accepted quote. notes: signed or not. Returns each item by category and key, the quote's first, in
    their order. Lumps are what is quoted in one piece, and all of subcontract and other.
    Source: own rule.
    """
    signed = [line for note in notes if note.is_signed for line in note.lines]
    base = list(quoted)
    lines: dict[tuple[str, str], list[QuotedCost]] = {}
    for line in (*base, *signed):
        lines.setdefault((line.category, line.item), []).append(line)
    own = {id(line) for line in base}
    return {key: _item(group, own) for key, group in lines.items()}


class ItemNames:
    """Finds what a row is coded to: by its key, else by its name, capitals aside."""

    def __init__(self, agreed: Agreed) -> None:
        self._agreed = agreed
        self._named = {
            (category, name.casefold()): item.item
            for (category, _), item in agreed.items()
            for name in (item.what, item.item)
        }

    def item(self, category: str, item: str, name: str = "") -> str:
        """The item of a row; as it is coded where nothing agreed is called so.

        >>> painter = QuotedCost("subcontract", "Painter", "Painter", Decimal(1), Decimal("1850.00"))
        >>> ItemNames(agreed_items([painter], [])).item("subcontract", "PAINTER")
        'Painter'
        """
        if (category, item) in self._agreed:
            return item
        named = (self._named.get((category, text.casefold())) for text in (item, name) if text)
        return next((text for text in named if text is not None), item)


def _item(group: list[QuotedCost], own: set[int]) -> AgreedItem:
    first = group[0]
    quantity = sum((Fraction(line.quantity) for line in group), Fraction(0))
    unit_costs = {Fraction(line.unit_cost) for line in group}
    exact = sum((Fraction(line.quantity) * Fraction(line.unit_cost) for line in group), Fraction(0))
    return AgreedItem(
        first.category,
        first.item,
        first.what,
        sum((line.cost for line in group if id(line) in own), NOTHING),
        quantity,
        sum((line.cost for line in group), NOTHING),
        next(iter(unit_costs)) if len(unit_costs) == 1 else (exact / quantity if quantity else Fraction(0)),
        first.kind,
        _is_lump(group),
    )


def _is_lump(group: list[QuotedCost]) -> bool:
    first = group[0]
    if first.category == "labour":
        return False
    return first.category in LUMP_CATEGORIES or bool(first.kind) or all(abs(line.quantity) == 1 for line in group)
