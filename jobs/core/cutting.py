"""Cutting straight stock: which sticks to buy and what to cut from each, in exact whole numbers.

Lengths are kept in eightieths of a millimetre, the coarsest unit in which a sixteenth of an inch (127), a
millimetre (80) and a tenth of one (8) are all whole. So pieces that add up to a stick on paper add up to it here.
A computed length between two marks is rounded up for a piece and down for a stick: a plan is never short.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

GRAINS_PER_MM = 80
Basis = Literal["price", "length"]


class CuttingError(ValueError):
    """Pieces or sticks that cannot be. `field` names the entry; the message says what would be right."""

    def __init__(self, field: str, reason: str) -> None:
        super().__init__(reason)
        self.field = field
        self.reason = reason


@dataclass(frozen=True)
class CutPiece:
    """A length that is needed. label: what it is for. length_mm: > 0. count: whole, >= 1."""

    label: str
    length_mm: float
    count: int = 1


@dataclass(frozen=True)
class Stock:
    """A stick to cut from. length_mm: > 0. price: money for one, None when not stated. count: at most so many
    (an off-cut on hand has price 0 and a count), None for as many as wanted."""

    code: str
    length_mm: float
    price: Decimal | None = None
    count: int | None = None


@dataclass(frozen=True)
class Cut:
    """One piece cut from a stick: label, start along the stick and length, mm."""

    label: str
    from_mm: float
    length_mm: float


@dataclass(frozen=True)
class Stick:
    """One stick and its cuts. leftover_mm: what remains after the last cut and its kerf, >= 0."""

    stock_code: str
    length_mm: float
    price: Decimal | None
    cuts: tuple[Cut, ...]
    leftover_mm: float


@dataclass(frozen=True)
class CutBound:
    """What no plan can beat: sticks (whole) and cost (money rounded down, None while a price is missing)."""

    sticks: int
    cost: Decimal | None
    method: str


@dataclass(frozen=True)
class CutPlan:
    """Sticks with their cuts.

    kerf_mm: lost at each cut. usable_offcut_mm: leftovers at least so long are worth keeping. basis: what was
    made least, the price or, while one is missing, the length bought. method: how it was found.
    working: the arithmetic in words, where there is any to show.
    """

    sticks: tuple[Stick, ...]
    kerf_mm: float
    usable_offcut_mm: float
    basis: Basis
    method: str
    bound: CutBound
    working: tuple[str, ...] = ()

    @property
    def cost(self) -> Decimal | None:
        """Money for all sticks, None while a price is missing."""
        prices = [stick.price for stick in self.sticks]
        return None if None in prices else sum((p for p in prices if p is not None), Decimal(0))

    @property
    def counts(self) -> tuple[tuple[str, int], ...]:
        """Stock code -> sticks used, in order of code."""
        codes = [stick.stock_code for stick in self.sticks]
        return tuple((code, codes.count(code)) for code in sorted(set(codes)))

    @property
    def leftovers(self) -> tuple[tuple[str, float], ...]:
        """(stock code, mm) of every leftover worth keeping, longest first."""
        kept = [
            (s.stock_code, s.leftover_mm) for s in self.sticks if 0 < s.leftover_mm >= self.usable_offcut_mm
        ]
        return tuple(sorted(kept, key=lambda one: (-one[1], one[0])))


def first_fit_decreasing(
    pieces: Sequence[CutPiece],
    stocks: Sequence[Stock],
    *,
    kerf_mm: float = 0.0,
    usable_offcut_mm: float = 0.0,
) -> CutPlan:
    """Longest piece first, each into the first stick with room."""
    raise NotImplementedError


def best_fit_decreasing(
    pieces: Sequence[CutPiece],
    stocks: Sequence[Stock],
    *,
    kerf_mm: float = 0.0,
    usable_offcut_mm: float = 0.0,
) -> CutPlan:
    """Longest piece first, each into the stick it fills best."""
    raise NotImplementedError


def plan_cuts(
    pieces: Sequence[CutPiece],
    stocks: Sequence[Stock],
    *,
    kerf_mm: float = 0.0,
    usable_offcut_mm: float = 0.0,
) -> CutPlan:
    """The cheaper of the first-fit and best-fit plans; no piece may be spliced."""
    raise NotImplementedError


def plan_spliced(
    runs: Sequence[CutPiece],
    stocks: Sequence[Stock],
    *,
    kerf_mm: float = 0.0,
    usable_offcut_mm: float = 0.0,
    splice_overlap_mm: float = 0.0,
    least_piece_mm: float = 0.0,
    share_offcuts: bool = True,
) -> CutPlan:
    """Runs made up of spliced lengths, the off-cut of one run starting the next when `share_offcuts`."""
    raise NotImplementedError
