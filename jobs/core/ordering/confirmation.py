"""A supplier's confirmation beside what was ordered, line by line: what differs, and what it does not say."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from catalog.core.ground.day_words import day_words
from catalog.core.ground.money import to_cents
from catalog.core.ground.units import System, format_length, format_measure
from jobs.core.ordering.order_lines import OrderStatement

Compared = Literal["quantity", "lengths", "radius", "face", "price", "date"]
DIFFERS_FROM_MM = 0.5
"""Lengths and radii this near are the same: suppliers write sixteenths of an inch or whole millimetres."""


class ConfirmationError(ValueError):
    """A confirmation that cannot be; the message names the figure and what would be right."""


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
    """One line as the supplier confirmed it; None and empty where nothing is said of it.

    Args:
        quantity: more than zero. lengths_mm: of the pieces, each more than zero. radii_mm: likewise, in the order the
            order states them. radius_face: the face the radii are measured at, in the supplier's words. amount: of the
            whole line in money, zero or more. promised_on: the day it should be at the dock.

    Raises:
        ConfirmationError: naming the figure that cannot be.

    Source: own rule.

    >>> Confirmed(quantity=Decimal(9)).lengths_mm
    ()
    """

    quantity: Decimal | None = None
    lengths_mm: tuple[float, ...] = ()
    radii_mm: tuple[float, ...] = ()
    radius_face: str = ""
    amount: Decimal | None = None
    promised_on: date | None = None

    def __post_init__(self) -> None:
        if self.quantity is not None and not (self.quantity.is_finite() and self.quantity > 0):
            raise ConfirmationError(f"quantity: what is confirmed is more than zero, not {self.quantity}")
        if self.amount is not None and not (self.amount.is_finite() and self.amount >= 0):
            raise ConfirmationError(f"amount: what is charged is zero or more, not {self.amount}")
        for name in ("lengths_mm", "radii_mm"):
            for number, figure in enumerate(getattr(self, name), start=1):
                if not (math.isfinite(figure) and figure > 0):
                    raise ConfirmationError(f"{name}: figure {number} must be more than zero, not {figure}")


@dataclass(frozen=True)
class Difference:
    """One thing confirmed otherwise than it was ordered. asked, confirmed: in words."""

    compared: Compared
    asked: str
    confirmed: str
    sentence: str


@dataclass(frozen=True)
class Comparison:
    """A confirmed line beside the ordered one. not_said: what was ordered and is not confirmed, as sentences."""

    differences: tuple[Difference, ...]
    not_said: tuple[str, ...]

    @property
    def agrees(self) -> bool:
        """Whether nothing differs; that nothing is left unsaid is another matter."""
        return not self.differences


def compare(asked: Asked, confirmed: Confirmed, system: System) -> Comparison:
    """Set a confirmed line beside the ordered one.

    Args:
        asked: what was ordered. confirmed: what came back. system: of the words.

    Returns:
        The differences in quantity, lengths, radius, face, price and day, in this order, and what is not said. A day
        at or before both the one it must be at the dock and the one that was quoted is no difference, nor a radius or
        length within half a millimetre.
        Lengths are compared as a whole, longest first: which of two equal pieces comes first is no difference.

    Raises:
        Nothing.

    Source: feature list, confirmation compared line by line; the tolerance is our own.

    >>> from jobs.core.ordering.order_lines import OrderStatement
    >>> asked = Asked(OrderStatement("GB", "Board", Decimal(9), "sheet"), Decimal("90.00"), date(2027, 8, 6))
    >>> found = compare(asked, Confirmed(quantity=Decimal(8), amount=Decimal("90.00")), "metric")
    >>> [one.sentence for one in found.differences], found.not_said
    (['Quantity (sheet): 9 ordered, 8 confirmed.'], ('No day is promised.',))
    """
    differences: list[Difference] = []
    not_said: list[str] = []
    for found in (
        _quantity(asked.statement, confirmed),
        _lengths(asked.statement, confirmed, system),
        _radii(asked.statement, confirmed, system),
        _face(asked.statement, confirmed),
        _price(asked, confirmed),
        _day(asked, confirmed),
    ):
        if isinstance(found, str):
            not_said.append(found)
        elif found is not None:
            differences.append(found)
    return Comparison(tuple(differences), tuple(not_said))


def _difference(compared: Compared, label: str, asked: str, confirmed: str, more: str = "") -> Difference:
    return Difference(compared, asked, confirmed, f"{label}: {asked} ordered, {confirmed} confirmed{more}.")


def _quantity(statement: OrderStatement, confirmed: Confirmed) -> Difference | str | None:
    if confirmed.quantity is None:
        return "No quantity is confirmed."
    if confirmed.quantity == statement.quantity:
        return None
    asked = "none" if statement.quantity is None else _number(statement.quantity)
    return _difference("quantity", f"Quantity ({statement.unit})", asked, _number(confirmed.quantity))


def _lengths(statement: OrderStatement, confirmed: Confirmed, system: System) -> Difference | str | None:
    asked = statement.piece_lengths_mm
    if not asked:
        return None
    if not confirmed.lengths_mm:
        return "No lengths are confirmed."
    if _same(sorted(asked), sorted(confirmed.lengths_mm)):
        return None
    told = [
        _told(format_length(one, system) for one in sorted(every, reverse=True))
        for every in (asked, confirmed.lengths_mm)
    ]
    return _difference("lengths", "Lengths", *told)


def _radii(statement: OrderStatement, confirmed: Confirmed, system: System) -> Difference | str | None:
    asked = tuple(one.radius_mm for one in statement.radii)
    if not asked:
        return None
    if not confirmed.radii_mm:
        return "No radius is confirmed."
    if _same(asked, confirmed.radii_mm):
        return None
    told = [_told(format_measure(one, system) for one in every) for every in (asked, confirmed.radii_mm)]
    return _difference("radius", "Radius", *told)


def _face(statement: OrderStatement, confirmed: Confirmed) -> Difference | str | None:
    asked = tuple(dict.fromkeys(one.measured_at for one in statement.radii))
    if not asked:
        return None
    if not confirmed.radius_face.strip():
        return "The face the radius is measured at is not confirmed."
    said = _plain(confirmed.radius_face)
    if said in {_plain(one) for one in asked}:
        return None
    return _difference("face", "Radius measured at", "; ".join(asked), confirmed.radius_face.strip())


def _price(asked: Asked, confirmed: Confirmed) -> Difference | str | None:
    if confirmed.amount is None:
        return "No price is confirmed."
    charged = to_cents(confirmed.amount)
    if asked.amount is None:
        return _difference("price", "Price", "no price known", f"{charged:,.2f}")
    expected = to_cents(asked.amount)
    if charged == expected:
        return None
    more = f", {abs(charged - expected):,.2f} {'more' if charged > expected else 'less'}"
    return _difference("price", "Price", f"{expected:,.2f}", f"{charged:,.2f}", more)


def _day(asked: Asked, confirmed: Confirmed) -> Difference | str | None:
    if confirmed.promised_on is None:
        return "No day is promised."
    promised, asked_for = confirmed.promised_on, [one for one in (asked.dock_by, asked.quoted_on) if one is not None]
    if not asked_for or promised <= min(asked_for):
        return None
    told = []
    if asked.dock_by is not None:
        told.append(f"needed by {day_words(asked.dock_by)}")
    if asked.quoted_on is not None:
        told.append(f"quoted {day_words(asked.quoted_on)}")
    words = ", ".join(told)
    sentence = f"At the dock: {words}, {day_words(promised)} confirmed, {_how_late(asked, promised)}."
    return Difference("date", words, day_words(promised), sentence)


def _how_late(asked: Asked, promised: date) -> str:
    if asked.dock_by is not None and promised > asked.dock_by:
        return f"{_days((promised - asked.dock_by).days)} too late"
    assert asked.quoted_on is not None, "it is later than one of the two"
    later = f"{_days((promised - asked.quoted_on).days)} later than quoted"
    return later if asked.dock_by is None else f"{later} and still in time"


def _days(count: int) -> str:
    return f"{count} calendar day{'' if count == 1 else 's'}"


def _same(asked: Sequence[float], confirmed: Sequence[float]) -> bool:
    return len(asked) == len(confirmed) and all(
        abs(one - other) <= DIFFERS_FROM_MM for one, other in zip(asked, confirmed, strict=True)
    )


def _told(figures: Iterable[str]) -> str:
    return ", ".join(figures)


def _number(value: Decimal) -> str:
    return format(value.normalize(), "f")


def _plain(text: str) -> str:
    return " ".join(text.casefold().replace(",", " ").split())
