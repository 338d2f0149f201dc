"""How goods came, as it is entered: piece by piece where a line has pieces, else by count."""

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated

from catalog.core.ground.declared import Declared, Items, Number, Whole
from catalog.core.ground.refusal import EntryError
from jobs.core.ordering.line_pieces import PIECE_STATES, PieceState
from jobs.deliveries.services.order_events import MAX_QUANTITY
from jobs.orders.services.pieces import PieceCame
from quoting.platform.models.columns import quantized

STATES = PIECE_STATES
MAX_PIECES = 10_000
PieceNumber = Annotated[int, Whole(1, MAX_PIECES), "Of the line, from 1."]
SomeCame = Annotated[Decimal | None, Number(high=MAX_QUANTITY)]


@dataclass(frozen=True)
class PieceEntered:
    """How one piece came."""

    number: PieceNumber
    state: PieceState


@dataclass(frozen=True)
class CameEntered:
    """What came of a line: by count, or piece by piece; where all that was to come is good, its count will do."""

    good: SomeCame = None
    damaged: SomeCame = None
    wrong: SomeCame = None
    more: Annotated[SomeCame, "Good pieces beyond those of the line."] = None
    pieces: Annotated[tuple[PieceEntered, ...] | None, Items(Declared(PieceEntered), MAX_PIECES)] = None

    @property
    def amounts(self) -> dict[str, Decimal | None]:
        return {name: getattr(self, name) for name in STATES}


def pieces_come(entry: CameEntered, known: Sequence[PieceCame], free: Collection[int] = ()) -> dict[int, str]:
    """How each piece came, by number. Where all that is still to come came good, its count will do.

    known: of the line; none for goods that are counted. free: numbers of those whose entry this one replaces. Raises
    EntryError.
    """
    if entry.pieces is None:
        return _by_count(entry, known, free)
    if not known:
        raise EntryError("pieces", "has no pieces to name here; say how much came good, damaged and wrong")
    states = {piece.number: piece.state for piece in entry.pieces}
    numbers = {came.piece.number for came in known}
    for number, times in Counter(piece.number for piece in entry.pieces).items():
        if number not in numbers:
            raise EntryError("pieces", f"{number} is not a piece of this line; its pieces are 1 to {len(numbers)}")
        if times > 1:
            raise EntryError("pieces", f"piece {number} is named twice; say once how it came")
    here = [came.piece.number for came in known if came.is_here and came.piece.number in states.keys() - set(free)]
    if here:
        raise EntryError("pieces", f"piece {here[0]} has come good already; correct that delivery if it has not")
    return dict(states)


def _by_count(entry: CameEntered, known: Sequence[PieceCame], free: Collection[int]) -> dict[int, str]:
    amounts = entry.amounts.values()
    if not known or all(amount is None for amount in amounts):
        return {}
    to_come = sorted(free) or [came.piece.number for came in known if not came.is_here]
    if [amount or 0 for amount in amounts] != [len(to_come), 0, 0]:
        named = ", ".join(map(str, to_come)) or "none is to come"
        raise EntryError("pieces", f"is missing; say of each piece that came how it came ({named})")
    return dict.fromkeys(to_come, "good")


def amounts_come(entry: CameEntered, pieces: Mapping[int, str]) -> dict[str, Decimal]:
    """How much came in each state; of pieces it follows from them. Raises EntryError."""
    if not pieces:
        if entry.more is not None:
            raise EntryError("more", "is not a name known here")
        return {name: quantized(amount or Decimal(0)) for name, amount in entry.amounts.items()}
    counted = Counter(pieces.values())
    for name, amount in entry.amounts.items():
        if amount is not None and amount != counted[name]:
            raise EntryError(name, f"must be {counted[name]}, as many as the pieces say; leave it out")
    return {name: quantized(counted[name] + (entry.more or 0 if name == "good" else 0)) for name in STATES}
