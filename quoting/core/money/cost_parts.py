"""Cost in parts: each cent of a job stands in one part, with where it is from and the one cause it has."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from jobs.core.costs.tags import note_number
from quoting.core.money.quoted import FREIGHT, Agreed, NoteCosts, QuotedCost

Stage = Literal["worked", "billed", "received", "overhead", "committed", "to_go"]
TO_DATE: tuple[Stage, ...] = ("worked", "billed", "received", "overhead")
Cause = Literal["", "unbilled", "rework", "late", "unforeseen"]
TAGGED: tuple[Cause, ...] = ("rework", "late", "unforeseen")


@dataclass(frozen=True)
class CostPart:
    """A piece of cost.

    stage: worked, billed, received and not billed, overhead on these; committed; else still to go. quantity: hours or
    units. row: names the stored row; empty where none stands behind it. source: where its price or quantity is from.
    cause: why it is apart from its item; empty where it is the item's own, and `item` then the item it counts for.
    replaces: goods in the place of bad ones: rework by their cost, and still what the item takes.
    """

    stage: Stage
    category: str
    item: str
    what: str
    quantity: Fraction
    amount: Decimal
    tag: str = ""
    row: str = ""
    day: date | None = None
    source: str = ""
    cause: Cause = ""
    replaces: bool = False

    @property
    def key(self) -> tuple[str, str]:
        return (self.category, self.item)


@dataclass(frozen=True)
class Gap:
    """What is missing beside the figure it flatters. item: the item it is of; row: the stored row, empty for none."""

    kind: Literal["no_price", "no_rate", "hours_left", "assumed", "allowance"]
    item: str
    sentence: str
    row: str = ""


class Placing:
    """Says where a part belongs: to an item, or apart under its cause. quoted: the accepted lines; notes: all."""

    def __init__(self, agreed: Agreed, quoted: Iterable[QuotedCost], notes: Iterable[NoteCosts]) -> None:
        self._agreed = agreed
        notes = tuple(notes)
        self._signed = {note.number: note for note in notes if note.is_signed}
        self._waiting = {(line.category, line.item) for note in notes if not note.is_signed for line in note.lines}
        self._rest: Mapping[str, str] = {cost.category: cost.item for cost in quoted if cost.takes_rest}

    def place(self, part: CostPart) -> CostPart:
        """Give a part its cause and its item.

        Source: own rule, in this order: an unsigned note; rework, late, unforeseen; else the item's own.
        """
        if part.category == FREIGHT:
            part = replace(part, item=FREIGHT)
        number = note_number(part.tag)
        if number is not None and number not in self._signed:
            return replace(part, cause="unbilled")
        if number is not None:
            return self._of_note(part, self._signed[number])
        for cause in TAGGED:
            if part.tag == cause:
                return replace(part, cause=cause)
        if part.category == FREIGHT or part.key in self._agreed:
            return part
        if part.key in self._waiting:
            return replace(part, cause="unbilled")
        return replace(part, item=self._rest.get(part.category, part.item))

    def _of_note(self, part: CostPart, note: NoteCosts) -> CostPart:
        """Once signed it joins the note's items: its own there, else the sum the note's cost stands in."""
        if part.key in self._agreed or part.category == FREIGHT:
            return part
        lump = next((line for line in note.lines if line.takes_rest), None)
        return replace(part, category=lump.category, item=lump.item) if lump else part
