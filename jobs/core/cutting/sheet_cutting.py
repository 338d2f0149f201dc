"""Cutting rectangles from sheets by straight cuts from edge to edge, without turning them.

Board keeps its direction of bend, so a piece is never turned on its sheet. `across` is along the wall and
`up` is up the wall, as the sheet will hang. Weights are prices, or areas where a price is missing.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Literal

FIT_MM = 1e-6
"""Two lengths this near are the same length: rounding of sums, far below any saw."""

Order = Literal["tallest", "largest", "widest"]
Opens = Literal["cheapest", "best per area"]
ORDERS: tuple[Order, ...] = ("tallest", "largest", "widest")
OPENS: tuple[Opens, ...] = ("cheapest", "best per area")


@dataclass(frozen=True)
class Blank:
    """A rectangle that is needed: number to know it by, width_mm across and height_mm up, both > 0."""

    number: int
    width_mm: float
    height_mm: float


@dataclass(frozen=True)
class SheetKind:
    """A sheet that can be bought: code, extent across and up in mm (> 0), weight of one (>= 0)."""

    code: str
    across_mm: float
    up_mm: float
    weight: float

    def holds(self, width_mm: float, height_mm: float) -> bool:
        """Whether a rectangle (mm) can be cut from an untouched sheet.

        >>> SheetKind("4x8", 2438.4, 1219.2, 1.0).holds(2438.4, 1219.2)
        True
        """
        return width_mm <= self.across_mm + FIT_MM and height_mm <= self.up_mm + FIT_MM


@dataclass(frozen=True)
class Corner:
    """A rectangle on a sheet: its lower left corner, its width across and height up, all mm."""

    across_mm: float
    up_mm: float
    width_mm: float
    height_mm: float


@dataclass(frozen=True)
class Method:
    """One way of cutting: which blank goes first, which sheet is opened, and how the rest is cut in two.

    strips: True cuts the rest across the whole width first (long strips), False up the whole height.
    """

    order: Order
    opens: Opens
    strips: bool


METHODS: tuple[Method, ...] = tuple(
    Method(order, opens, strips) for order in ORDERS for opens in OPENS for strips in (True, False)
)


@dataclass
class CutSheet:
    """A sheet being cut: blanks by number with their places, and the rectangles still free."""

    kind: SheetKind
    cuts: list[tuple[int, Corner]] = field(default_factory=list)
    free: list[Corner] = field(default_factory=list)


def cut_sheets(blanks: Sequence[Blank], kinds: Sequence[SheetKind], method: Method) -> list[CutSheet]:
    """Cut blanks from as few and as cheap sheets as one greedy pass finds.

    Args:
        blanks: rectangles needed.
        kinds: sheets that can be bought; each blank must fit at least one.
        method: the order and rules of this pass.

    Returns:
        Sheets in the order they were opened; every blank is on exactly one, free rectangles never overlap.

    Raises:
        ValueError: a blank fits no sheet, naming its size.

    Source: best-area-fit on guillotine rectangles, a textbook heuristic; exchanging sheets is our own rule.

    >>> half = [Blank(1, 1219.2, 1219.2), Blank(2, 1219.2, 1219.2)]
    >>> len(cut_sheets(half, [SheetKind("4x8", 2438.4, 1219.2, 1.0)], METHODS[0]))
    1
    """
    sheets: list[CutSheet] = []
    free: list[_Free] = []
    cheapest_first = sorted(kinds, key=_cheapest)
    opening = cheapest_first if method.opens == "cheapest" else sorted(kinds, key=_cheapest_per_area)
    number = 0
    for blank in sorted(blanks, key=_sorting(method.order)):
        at = _best_free(free, blank)
        if at is None:
            kind = _opened(blank, opening)
            sheet = CutSheet(kind)
            sheets.append(sheet)
            room = Corner(0.0, 0.0, kind.across_mm, kind.up_mm)
        else:
            _, _, sheet, room = free.pop(at)
        sheet.cuts.append((blank.number, Corner(room.across_mm, room.up_mm, blank.width_mm, blank.height_mm)))
        for rest in _rests(room, blank, method.strips):
            number += 1
            insort(free, (rest.width_mm * rest.height_mm, number, sheet, rest))
    for _, _, sheet, rest in sorted(free, key=lambda entry: entry[1]):
        sheet.free.append(rest)
    for sheet in sheets:
        _exchange(sheet, cheapest_first)
    return sheets


def weight_of(sheets: Sequence[CutSheet]) -> float:
    """Total weight of sheets, in the unit of their kinds.

    >>> weight_of([CutSheet(SheetKind("4x8", 2438.4, 1219.2, 9.5))])
    9.5
    """
    return sum(sheet.kind.weight for sheet in sheets)


def _sorting(order: Order) -> Callable[[Blank], tuple[float, float, int]]:
    if order == "tallest":
        return lambda b: (-b.height_mm, -b.width_mm, b.number)
    if order == "widest":
        return lambda b: (-b.width_mm, -b.height_mm, b.number)
    return lambda b: (-b.width_mm * b.height_mm, -b.height_mm, b.number)


_Free = tuple[float, int, CutSheet, Corner]
"""A free rectangle behind its area and the number it was made with: the list is kept in that order."""


def _best_free(free: list[_Free], blank: Blank) -> int | None:
    """The smallest free rectangle that holds the blank, the oldest of those equal in area."""
    width, height = blank.width_mm - FIT_MM, blank.height_mm - FIT_MM
    for at in range(bisect_left(free, (width * height,)), len(free)):
        room = free[at][3]
        if room.width_mm >= width and room.height_mm >= height:
            return at
    return None


def _cheapest(kind: SheetKind) -> tuple[float, float, str]:
    return (kind.weight, kind.across_mm * kind.up_mm, kind.code)


def _cheapest_per_area(kind: SheetKind) -> tuple[float, float, str]:
    return (kind.weight / (kind.across_mm * kind.up_mm), kind.weight, kind.code)


def _opened(blank: Blank, opening: Sequence[SheetKind]) -> SheetKind:
    for kind in opening:
        if kind.holds(blank.width_mm, blank.height_mm):
            return kind
    raise ValueError(f"no sheet holds a piece {blank.width_mm:g} x {blank.height_mm:g} mm")


def _rests(room: Corner, blank: Blank, strips: bool) -> list[Corner]:
    beside, above = room.width_mm - blank.width_mm, room.height_mm - blank.height_mm
    right, top = room.across_mm + blank.width_mm, room.up_mm + blank.height_mm
    if strips:
        rests = [
            Corner(right, room.up_mm, beside, blank.height_mm),
            Corner(room.across_mm, top, room.width_mm, above),
        ]
    else:
        rests = [
            Corner(right, room.up_mm, beside, room.height_mm),
            Corner(room.across_mm, top, blank.width_mm, above),
        ]
    return [rest for rest in rests if rest.width_mm > FIT_MM and rest.height_mm > FIT_MM]


def _exchange(sheet: CutSheet, cheapest_first: Sequence[SheetKind]) -> None:
    """Take the cheapest kind that holds the cuts where they lie; free rectangles are clipped to it."""
    now = sheet.kind
    if cheapest_first[0].weight >= now.weight:
        return
    across = max(corner.across_mm + corner.width_mm for _, corner in sheet.cuts)
    up = max(corner.up_mm + corner.height_mm for _, corner in sheet.cuts)
    for kind in cheapest_first:
        if kind.weight >= now.weight:
            return
        if kind.holds(across, up) and now.holds(kind.across_mm, kind.up_mm):
            sheet.kind = kind
            sheet.free = [clipped for rest in sheet.free if (clipped := _clipped(rest, kind)) is not None]
            return


def _clipped(rest: Corner, kind: SheetKind) -> Corner | None:
    width = min(rest.across_mm + rest.width_mm, kind.across_mm) - rest.across_mm
    height = min(rest.up_mm + rest.height_mm, kind.up_mm) - rest.up_mm
    if width <= FIT_MM or height <= FIT_MM:
        return None
    return Corner(rest.across_mm, rest.up_mm, width, height)
