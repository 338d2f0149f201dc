"""How much of an item is still to be ordered: what the job wants, less what its order lines carry."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from catalog.core.ground.refusal import InvalidValue


class LeftToOrderError(InvalidValue):
    """A quantity that cannot be; the message names the figure and what would be right."""


@dataclass(frozen=True)
class CarriedLine:
    """One order line of an item, with the lines that replace goods of it.

    Args:
        quantity: ordered, more than zero. good: of that here and fit for use, zero or more. unit: what all count, in
            words. ended: whether no more of it is expected. replaced_by: lines ordered in the place of what came
            damaged or wrong, without those of orders called off. bad: came damaged or wrong and is not used, zero or
            more. returned: went back to the supplier, zero or more; what is bad goes back first.

    Raises:
        LeftToOrderError: naming the figure that cannot be.

    Source: own rule.

    >>> bad = CarriedLine(Decimal(9), Decimal(7), "pieces", bad=Decimal(2))
    >>> bad.expected, bad.carries
    (Decimal('0'), Decimal('7'))
    >>> again = CarriedLine(Decimal(2), Decimal(0), "pieces")
    >>> CarriedLine(Decimal(9), Decimal(7), "pieces", replaced_by=(again,), bad=Decimal(2)).carries
    Decimal('9')
    >>> CarriedLine(Decimal(9), Decimal(9), "pieces", returned=Decimal(3)).carries
    Decimal('6')
    """

    quantity: Decimal
    good: Decimal
    unit: str
    ended: bool = False
    replaced_by: tuple[CarriedLine, ...] = ()
    bad: Decimal = Decimal(0)
    returned: Decimal = Decimal(0)

    def __post_init__(self) -> None:
        if not self.quantity.is_finite() or self.quantity <= 0:
            raise LeftToOrderError(f"quantity: a line is of more than zero, not {self.quantity}")
        for name in ("good", "bad", "returned"):
            figure = getattr(self, name)
            if not figure.is_finite() or figure < 0:
                raise LeftToOrderError(f"{name}: is zero or more, not {figure}")

    @property
    def expected(self) -> Decimal:
        """Still to come of the line itself: what came damaged or wrong is not waited for any more."""
        return Decimal(0) if self.ended else max(Decimal(0), self.quantity - self.good - self.bad)

    @property
    def short(self) -> Decimal:
        """Came damaged or wrong, and nothing good of the line itself came in its place."""
        return max(Decimal(0), min(self.bad, self.quantity - self.good))

    @property
    def good_returned(self) -> Decimal:
        return min(self.good, max(Decimal(0), self.returned - self.bad))

    @property
    def carries(self) -> Decimal:
        """What it stands for: what is here and good, what is still to come, and what replaces the rest."""
        return (
            self.good
            - self.good_returned
            + self.expected
            + sum((line.carries for line in self.replaced_by), Decimal(0))
        )

    @property
    def missing(self) -> Missing:
        """How much of what was ordered it does not stand for, by why."""
        left = max(Decimal(0), self.quantity - self.carries)
        bad = min(left, self.bad)
        returned = min(left - bad, self.good_returned)
        return Missing(bad, returned, left - bad - returned)


@dataclass(frozen=True)
class Missing:
    """bad: came damaged or wrong. returned: good ones sent back. ended: given up."""

    bad: Decimal = Decimal(0)
    returned: Decimal = Decimal(0)
    ended: Decimal = Decimal(0)

    @property
    def all(self) -> Decimal:
        return self.bad + self.returned + self.ended

    def __add__(self, other: Missing) -> Missing:
        return Missing(self.bad + other.bad, self.returned + other.returned, self.ended + other.ended)

    @property
    def words(self) -> str:
        """Why so much of it is missing; empty when nothing is."""
        result = [f"{_number(self.bad)} came damaged or wrong"] if self.bad else []
        result += [f"{_number(self.returned)} went back"] if self.returned else []
        result += [f"{_number(self.ended)} of what was ordered before will not come"] if self.ended else []
        return ", ".join(result)


@dataclass(frozen=True)
class LeftToOrder:
    """What of an item is on order or here and what is not.

    wanted, left: in `unit`; None where they cannot be compared. carried: by the lines, in `unit`. missing: what was
    ordered and the lines do not stand for. is_whole: whether a line stands for all of it because amounts cannot be set
    side by side.
    """

    wanted: Decimal | None
    carried: Decimal
    left: Decimal | None
    unit: str
    missing: Missing
    is_whole: bool

    @property
    def is_covered(self) -> bool:
        """Whether nothing of it is still to be ordered."""
        return self.is_whole or self.left == 0

    @property
    def so_far(self) -> str:
        """So much of so much ordered; empty while nothing is."""
        if self.is_whole and self.wanted is None:
            return "Ordered as a whole: how much the job needs is not known."
        if self.is_whole:
            return "Ordered as a whole: what the job needs and what was ordered are counted in different units."
        if self.wanted is None or not self.carried:
            return ""
        return f"{_number(self.carried)} of {_number(self.wanted)} {self.unit} here or on order."

    @property
    def sentence(self) -> str:
        """Why something is still to be ordered though there are lines of it; empty where there is nothing to say."""
        if self.is_covered or self.left is None or not (self.carried or self.missing.all):
            return "" if not self.is_whole else self.so_far
        message = f"{_number(self.carried)} of {_number(self.wanted or Decimal(0))} {self.unit} here or on order, "
        message += f"{_number(self.left)} still to be ordered: "
        if not self.missing.all:
            return f"{message}the job needs more now than was ordered."
        return f"{message}{self.missing.words}{', and the job needs more now' if self.left > self.missing.all else ''}."


def left_to_order(wanted: Decimal | None, unit: str, lines: Iterable[CarriedLine]) -> LeftToOrder:
    """Set what a job wants of an item beside the lines that order it.

    Args:
        wanted: zero or more in `unit`, None while the takeoff does not know it. unit: what it counts, in words. lines:
            of the item, without those that replace others and those of orders called off, in any order.

    Returns:
        What is left. A line that counts something else than the need stands for all of the item while it is open, and
        for nothing once it is ended; so does any open line where nobody knows how much is wanted.

    Raises:
        LeftToOrderError: a wanted quantity that is not zero or more.

    Source: own rule; the check is the worked example of nine lengths of which two came damaged.

    >>> ended = CarriedLine(Decimal(9), Decimal(7), "pieces", ended=True)
    >>> result = left_to_order(Decimal(9), "pieces", [ended])
    >>> result.left, result.sentence
    (Decimal('2'), '7 of 9 pieces here or on order, 2 still to be ordered: 2 of what was ordered before will not come.')
    >>> left_to_order(Decimal(9), "sheets", [CarriedLine(Decimal(3), Decimal(0), "pieces")]).is_whole
    True
    """
    if wanted is not None and not (wanted.is_finite() and wanted >= 0):
        raise LeftToOrderError(f"needed: what a job needs is zero or more, not {wanted}")
    every = list(lines)
    alike = [line for line in every if line.unit == unit and wanted is not None]
    carried = sum((line.carries for line in alike), Decimal(0))
    missing = sum((line.missing for line in alike), Missing())
    is_whole = any(_is_open(line) for line in every if line not in alike)
    left = None if wanted is None or is_whole else max(Decimal(0), wanted - carried)
    return LeftToOrder(wanted, carried, left, unit, missing, is_whole)


def _is_open(line: CarriedLine) -> bool:
    return not line.ended or any(_is_open(entry) for entry in line.replaced_by)


def _number(value: Decimal) -> str:
    return format(value.normalize(), "f")
