"""How goods came, as it is entered: piece by piece where a line has pieces, else by count."""

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from decimal import Decimal

from catalog.core.ground.document_reader import Reader
from jobs.core.ordering.line_pieces import PIECE_STATES
from jobs.deliveries.services.order_events import MAX_QUANTITY
from jobs.orders.services.pieces import PieceCame
from quoting.platform.models.columns import quantized

STATES = PIECE_STATES


def read_pieces(reader: Reader, known: Sequence[PieceCame], free: Collection[int] = ()) -> dict[int, str]:
    """pieces: number and state of each that came. Where all that is still to come came good, its count will do.

    known: of the line; none for goods that are counted. free: numbers of those whose entry this one replaces.
    """
    if not reader.has("pieces"):
        return _by_count(reader, known, free)
    if not known:
        raise reader.error("pieces", "has no pieces to name here; say how much came good, damaged and wrong")
    given = reader.items(
        "pieces", lambda entry: (entry.whole("number", 1, 10_000), entry.choice("state", STATES)), 10_000
    )
    numbers = {came.piece.number for came in known}
    for number, times in Counter(number for number, _ in given).items():
        if number not in numbers:
            raise reader.error("pieces", f"{number} is no piece of this line; its pieces are 1 to {len(numbers)}")
        if times > 1:
            raise reader.error("pieces", f"piece {number} is named twice; say once how it came")
    here = [came.piece.number for came in known if came.is_here and came.piece.number in dict(given).keys() - set(free)]
    if here:
        raise reader.error("pieces", f"piece {here[0]} has come good already; correct that delivery if it has not")
    return dict(given)


def _by_count(reader: Reader, known: Sequence[PieceCame], free: Collection[int]) -> dict[int, str]:
    if not known or not any(reader.has(name) for name in STATES):
        return {}
    to_come = sorted(free) or [came.piece.number for came in known if not came.is_here]
    amounts = [reader.decimal(name, "0", MAX_QUANTITY, "0") for name in STATES]
    if amounts != [len(to_come), 0, 0]:
        named = ", ".join(map(str, to_come)) or "none is to come"
        raise reader.error("pieces", f"is missing; say of each piece that came how it came ({named})")
    return dict.fromkeys(to_come, "good")


def read_amounts(reader: Reader, pieces: Mapping[int, str]) -> dict[str, Decimal]:
    """How much came in each state; of pieces it follows from them. more: good ones beyond the pieces of the line."""
    if not pieces:
        return {name: quantized(reader.decimal(name, "0", MAX_QUANTITY, "0")) for name in STATES}
    counted = Counter(pieces.values())
    for name in STATES:
        if reader.has(name) and reader.decimal(name, "0", MAX_QUANTITY, "0") != counted[name]:
            raise reader.error(name, f"must be {counted[name]}, as many as the pieces say; leave it out")
    more = reader.decimal("more", "0", MAX_QUANTITY, "0")
    return {name: quantized(counted[name] + (more if name == "good" else 0)) for name in STATES}
