"""Walls standing side by side at one scale, as the first page of a quotation shows them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from catalog.core.ground.units import System
from catalog.drawings.svg import DrawingInputError, Picture
from jobs.drawings.solid.sheet import Sheet
from jobs.drawings.solid.stood import StandingWall, seen_from, stood
from jobs.drawings.standing import ASIDE_MM, BELOW_MM, standing_svg

# Between one ratio tried and the next, and of the least picture the figures still have room under.
STEP, NARROWEST_MM = 1.04, 40.0
CAPTION_MM = 7.0
# Figures at the ends of a height may reach farther than the line.
SPARE_MM = 4.0


@dataclass(frozen=True)
class _Standing:
    """width_mm, height_mm: of the wall as it is seen, without figures."""

    wall: StandingWall
    title: str
    width_mm: float
    height_mm: float

    def across(self, ratio: float) -> float:
        return round(max(self.width_mm / ratio + 2 * ASIDE_MM, NARROWEST_MM) + SPARE_MM, 1)

    def up(self, ratio: float) -> float:
        return self.height_mm / ratio + BELOW_MM + CAPTION_MM


def standing_together(
    walls: Iterable[tuple[StandingWall, str]], *, system: System, width_mm: float, max_height_mm: float
) -> tuple[tuple[str, Picture], ...]:
    """Each wall under its title, all at the largest ratio at which they stand in rows on width and height.

    A wall that runs into itself cannot stand and is left out.
    """
    stands = tuple(_stands(walls))
    if not stands:
        return ()
    ratio = max(stand.height_mm / (max_height_mm - BELOW_MM - CAPTION_MM) for stand in stands)
    while _height(stands, ratio, width_mm) > max_height_mm:
        ratio *= STEP
    return tuple(
        (
            stand.title,
            standing_svg(
                stand.wall,
                title=f"{stand.title}, standing",
                system=system,
                ratio=ratio,
                width_mm=stand.across(ratio),
                max_height_mm=max_height_mm + CAPTION_MM,
            ),
        )
        for stand in stands
    )


def _stands(walls: Iterable[tuple[StandingWall, str]]) -> Iterable[_Standing]:
    for wall, title in walls:
        try:
            corners = [Sheet(1.0).at(place) for place in stood(wall, seen_from(wall)).corners]
        except DrawingInputError:
            continue
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        yield _Standing(wall, title, max(xs) - min(xs), max(ys) - min(ys))


def _height(stands: Sequence[_Standing], ratio: float, width_mm: float) -> float:
    """Of the rows the walls stand in, one after the other; without end where one is wider than the sheet."""
    rows: list[list[_Standing]] = [[]]
    for stand in stands:
        if stand.across(ratio) > width_mm:
            return float("inf")
        if sum(other.across(ratio) for other in rows[-1]) + stand.across(ratio) > width_mm:
            rows.append([])
        rows[-1].append(stand)
    return sum(max(stand.up(ratio) for stand in row) for row in rows)
