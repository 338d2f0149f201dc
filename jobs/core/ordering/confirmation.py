"""A supplier's confirmation beside what was ordered, line by line: what differs, and what it does not say."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Annotated, Literal

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import As, Choice, Items, Length, Money, Number
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.money import to_cents
from catalog.core.ground.refusal import EntryError
from catalog.core.ground.units import TOLERANCE_MM, System, format_length, format_measure
from catalog.core.materials.standards import Standards
from jobs.core.measure.curve import CurvePiece
from jobs.core.measure.survey import Line
from jobs.core.ordering.order_lines import OrderStatement

MAX_PIECES = 500
Compared = Literal["quantity", "lengths", "radius", "face", "price", "date"]
LINE_WORDS: Mapping[Line, str] = {
    "left_framing": "left framing face",
    "right_framing": "right framing face",
    "centre": "centreline of the wall",
    "left_finished": "left finished face",
    "right_finished": "right finished face",
}
FACES: Mapping[str, str] = {
    "left_finished": "back of the piece, on the left finished face",
    "right_finished": "back of the piece, on the right finished face",
    "left_framing": LINE_WORDS["left_framing"],
    "right_framing": LINE_WORDS["right_framing"],
    "centre": LINE_WORDS["centre"],
    "front": "front of the piece",
    "another": "another face",
}
"""Where a supplier may say that a radius is measured."""


class ConfirmationError(EntryError):
    """A confirmation that cannot be."""


@dataclass(frozen=True)
class ConfirmedLength(Length):
    """More than zero, to a thousandth of a millimetre."""

    def read(self, reader: Reader, name: str) -> float:
        length_mm = float(super().read(reader, name))
        if not length_mm > 0:
            raise reader.error(name, f"{reader.raw(name)} is not a length; it is more than zero")
        return round(length_mm, 3)


Lengths = Annotated[tuple[float, ...], Items(ConfirmedLength(), MAX_PIECES)]


@dataclass(frozen=True)
class Tolerances:
    """How far a confirmed figure may be off and still be as ordered; of what is not stated nothing may be.

    length_mm, radius_mm: either way. price_share: of the ordered amount, either way. days: calendar days after the
    quoted day, while it is in time.
    """

    length_mm: float = 0.0
    radius_mm: float = 0.0
    price_share: Decimal = Decimal(0)
    days: int = 0


def tolerances_of(standards: Standards) -> Tolerances:
    """The firm's tolerances of confirmations.

    standards: of the firm. Returns them, strict where the firm stated none. Source: the firm's standards.

    >>> tolerances_of(Standards({}, ())).radius_mm
    0.0
    """
    length, radius, price, days = (
        fact.value if (fact := standards.fact(name)) else Decimal(0)
        for name in (
            "confirmed_length_tolerance_mm",
            "confirmed_radius_tolerance_mm",
            "confirmed_price_tolerance",
            "confirmed_days_tolerance",
        )
    )
    return Tolerances(float(length), float(radius), price, int(days))


@dataclass(frozen=True)
class Asked:
    """What was ordered on one line.

    statement: as it was sent. amount: of the whole line in money, None where no price was known. dock_by: the day it
    must be at the dock to be in time, None where no day is known. quoted_on: the day it should be at the dock by the
    term it was ordered by, None where there was none.
    """

    statement: OrderStatement
    amount: Decimal | None
    dock_by: date | None
    quoted_on: date | None = None


@dataclass(frozen=True)
class Confirmed:
    """A line as the supplier confirmed it; None and empty where nothing is said of it.

    Args:
        quantity: more than zero. lengths_mm: of the pieces, each more than zero. radii_mm: likewise, in the order the
            order states them. radius_face: the face the radii are measured at, of `FACES`; words typed before there was
            a list stand as they are. amount: of the whole line in money, zero or more. promised_on: the day it should
            be at the dock. radius_lines: of each radius the other line of its wall that has it, empty where none has.

    Raises:
        ConfirmationError: naming the figure that cannot be.

    Source: own rule.

    >>> Confirmed(quantity=Decimal(9)).lengths_mm
    ()
    """

    quantity: Annotated[Decimal | None, Number()] = None
    lengths_mm: Lengths = ()
    radii_mm: Lengths = ()
    radius_face: Annotated[str, Choice(tuple(FACES))] = ""
    amount: Annotated[Decimal | None, Money()] = None
    promised_on: date | None = None
    radius_lines: Annotated[tuple[str, ...], As(aside=True)] = ()

    def __post_init__(self) -> None:
        if self.quantity is not None and not (self.quantity.is_finite() and self.quantity > 0):
            reason = f"{self.quantity} is not a quantity; leave it out where it is not confirmed"
            raise ConfirmationError("quantity", reason)
        if self.amount is not None and not (self.amount.is_finite() and self.amount >= 0):
            raise ConfirmationError("amount", f"what is charged is zero or more, not {self.amount}")
        for name in ("lengths_mm", "radii_mm"):
            for number, figure in enumerate(getattr(self, name), start=1):
                if not (math.isfinite(figure) and figure > 0):
                    raise ConfirmationError(name, f"figure {number} must be more than zero, not {figure}")


@dataclass(frozen=True)
class Difference:
    """One thing confirmed otherwise than it was ordered. asked, confirmed: in words. extra: money charged more,
    negative when less, None where it is no price or the ordered one is not known. is_late: of a day after the one it
    is needed.
    """

    compared: Compared
    asked: str
    confirmed: str
    sentence: str
    extra: Decimal | None = None
    is_late: bool = False


@dataclass(frozen=True)
class Comparison:
    """A confirmed line beside the ordered one. not_said: what was ordered and is not confirmed, as sentences."""

    differences: tuple[Difference, ...]
    not_said: tuple[str, ...]

    @property
    def agrees(self) -> bool:
        """Whether nothing differs; that nothing is left unsaid is another matter."""
        return not self.differences


def compare(request: Asked, confirmed: Confirmed, system: System, tolerances: Tolerances) -> Comparison:
    """Set a confirmed line beside the ordered one.

    Args:
        request: what was ordered. confirmed: what came back. system: of the words. tolerances: of the firm.

    Returns:
        The differences in quantity, lengths, radius, face, price and day, in this order, and what is not said. A day
        at or before both the one it must be at the dock and the one that was quoted is no difference, nor what lies
        within the tolerances; a day after the one it must be at the dock is one whatever they say.
        Lengths are compared as a whole, longest first: which of two equal pieces comes first is no difference.

    Raises:
        Nothing.

    Source: feature list, confirmation compared line by line; the tolerances are the firm's.

    >>> from jobs.core.ordering.order_lines import OrderStatement
    >>> asked = Asked(OrderStatement("GB", "Board", Decimal(9), "sheet"), Decimal("90.00"), date(2027, 8, 6))
    >>> result = compare(asked, Confirmed(quantity=Decimal(8), amount=Decimal("90.00")), "metric", Tolerances())
    >>> [entry.sentence for entry in result.differences], result.not_said
    (['Quantity (sheet): 9 ordered, 8 confirmed.'], ('No day is promised.',))
    """
    differences: list[Difference] = []
    not_said: list[str] = []
    for difference in (
        _quantity(request.statement, confirmed),
        _lengths(request.statement, confirmed, system, tolerances.length_mm),
        _radii(request.statement, confirmed, system, tolerances.radius_mm),
        _face(request.statement, confirmed),
        _price(request, confirmed, tolerances.price_share),
        _day(request, confirmed, tolerances.days),
    ):
        if isinstance(difference, str):
            not_said.append(difference)
        elif difference is not None:
            differences.append(difference)
    return Comparison(tuple(differences), tuple(not_said))


def _difference(compared: Compared, label: str, wanted: str, confirmed: str, more: str = "") -> Difference:
    return Difference(compared, wanted, confirmed, f"{label}: {wanted} ordered, {confirmed} confirmed{more}.")


def _quantity(statement: OrderStatement, confirmed: Confirmed) -> Difference | str | None:
    if confirmed.quantity is None:
        return "No quantity is confirmed."
    if confirmed.quantity == statement.quantity:
        return None
    wanted = "none" if statement.quantity is None else _number(statement.quantity)
    return _difference("quantity", f"Quantity ({statement.unit})", wanted, _number(confirmed.quantity))


def _lengths(
    statement: OrderStatement, confirmed: Confirmed, system: System, within_mm: float
) -> Difference | str | None:
    values = statement.piece_lengths_mm
    if not values:
        return None
    if not confirmed.lengths_mm:
        return "No lengths are confirmed."
    if _same(sorted(values), sorted(confirmed.lengths_mm), within_mm):
        return None
    sentences = [
        _listed(format_length(value, system) for value in sorted(every, reverse=True))
        for every in (values, confirmed.lengths_mm)
    ]
    return _difference("lengths", "Lengths", *sentences)


def _radii(
    statement: OrderStatement, confirmed: Confirmed, system: System, within_mm: float
) -> Difference | str | None:
    values = tuple(radius.radius_mm for radius in statement.radii)
    if not values:
        return None
    if not confirmed.radii_mm:
        return "No radius is confirmed."
    if _same(values, confirmed.radii_mm, within_mm):
        return None
    ordered, text = (
        _listed(format_measure(value, system) for value in every) for every in (values, confirmed.radii_mm)
    )
    known = dict.fromkeys(
        f"{format_measure(radius, system)} is the radius of the {LINE_WORDS[line]}"  # type: ignore[index]
        for radius, line in zip(confirmed.radii_mm, confirmed.radius_lines, strict=False)
        if line in LINE_WORDS
    )
    return _difference("radius", "Radius", ordered, text, "".join(f"; {entry}" for entry in known))


def line_of_radius(
    piece: CurvePiece, offsets_mm: Mapping[Line, float], radius_mm: float, within_mm: float
) -> Line | None:
    """The line of a wall that has a radius at one of its pieces.

    piece: of the wall. offsets_mm: of its lines from the centreline. radius_mm: to look for. within_mm: as near as.
    Returns the nearest such line, the framing first; None where none has it.

    Source: own rule; radii of parallel lines differ by the distance between them.
    """
    if not piece.is_arc:
        return None
    off = {line: abs(piece.radius_at(offsets_mm[line]) - radius_mm) for line in LINE_WORDS}
    near = [line for line in LINE_WORDS if off[line] <= within_mm + TOLERANCE_MM]
    return min(near, key=lambda line: off[line], default=None)


def _face(statement: OrderStatement, confirmed: Confirmed) -> Difference | str | None:
    wanted = tuple(dict.fromkeys(radius.measured_at for radius in statement.radii))
    if not wanted:
        return None
    if not confirmed.radius_face.strip():
        return "The face the radius is measured at is not confirmed."
    text = face_words(confirmed.radius_face)
    if _plain(text) in {_plain(entry) for entry in wanted}:
        return None
    return _difference("face", "Radius measured at", "; ".join(wanted), text)


def face_words(face: str) -> str:
    """A face in words: of `FACES`, else as it was typed.

    >>> face_words("centre"), face_words(" its back ")
    ('centreline of the wall', 'its back')
    """
    return FACES.get(face, face.strip())


def _price(request: Asked, confirmed: Confirmed, share: Decimal) -> Difference | str | None:
    if confirmed.amount is None:
        return "No price is confirmed."
    charged = to_cents(confirmed.amount)
    if request.amount is None:
        return _difference("price", "Price", "no price known", f"{charged:,.2f}")
    expected = to_cents(request.amount)
    if abs(charged - expected) <= expected * share:
        return None
    more = f", {abs(charged - expected):,.2f} {'more' if charged > expected else 'less'}"
    difference = _difference("price", "Price", f"{expected:,.2f}", f"{charged:,.2f}", more)
    return replace(difference, extra=charged - expected)


def _day(request: Asked, confirmed: Confirmed, days: int) -> Difference | str | None:
    if confirmed.promised_on is None:
        return "No day is promised."
    promised = confirmed.promised_on
    is_late = request.dock_by is not None and promised > request.dock_by
    if not is_late and (request.quoted_on is None or (promised - request.quoted_on).days <= days):
        return None
    sentences = []
    if request.dock_by is not None:
        sentences.append(f"needed by {day_words(request.dock_by)}")
    if request.quoted_on is not None:
        sentences.append(f"quoted {day_words(request.quoted_on)}")
    words = ", ".join(sentences)
    sentence = f"At the dock: {words}, {day_words(promised)} confirmed, {_how_late(request, promised)}."
    return Difference("date", words, day_words(promised), sentence, is_late=is_late)


def _how_late(request: Asked, promised: date) -> str:
    if request.dock_by is not None and promised > request.dock_by:
        return f"{_days((promised - request.dock_by).days)} too late"
    assert request.quoted_on is not None, "it is later than one of the two"
    later = f"{_days((promised - request.quoted_on).days)} later than quoted"
    return later if request.dock_by is None else f"{later} and still in time"


def _days(count: int) -> str:
    return f"{count} calendar day{'' if count == 1 else 's'}"


def _same(values: Sequence[float], confirmed: Sequence[float], within_mm: float) -> bool:
    return len(values) == len(confirmed) and all(
        abs(value - other) <= within_mm + TOLERANCE_MM for value, other in zip(values, confirmed, strict=True)
    )


def _listed(figures: Iterable[str]) -> str:
    return ", ".join(figures)


def _number(value: Decimal) -> str:
    return format(value.normalize(), "f")


def _plain(text: str) -> str:
    return " ".join(text.casefold().replace(",", " ").split())
