"""How each dimension of a wall is known: measured, assumed or confirmed, by whom and when.

A custom piece is made to the dimensions that feed it. While one of them is only assumed, or nobody has said how it
is known, its line is not released to order.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal, get_args

from jobs.core.build import AT_THE_CEILING, TrimRun, WallSpec
from jobs.core.findings import Finding
from jobs.core.survey import (
    ArcLengthChord,
    ArcPiece,
    ChordRise,
    RadiusAngle,
    RadiusArcLength,
    RadiusChord,
    StraightPiece,
    SurveyError,
)

HowKnown = Literal["measured", "assumed", "confirmed"]
HOW_KNOWN: tuple[HowKnown, ...] = get_args(HowKnown)
_SOURCE = "Own rule: what cannot be returned is made to dimensions somebody stands for"


@dataclass(frozen=True)
class Mark:
    """How a dimension is known.

    Args:
        how: "measured" on the bare site, "assumed" from a drawing or a word, "confirmed" on the framed wall.
        by: who says so, not empty. on: the day.

    Raises:
        SurveyError: an unknown word, or nobody named.

    >>> Mark("measured", "Ines", date(2026, 11, 2)).how
    'measured'
    """

    how: HowKnown
    by: str
    on: date

    def __post_init__(self) -> None:
        if self.how not in HOW_KNOWN:
            raise SurveyError("how", f"a dimension is one of {', '.join(HOW_KNOWN)}; {self.how!r} was given")
        if not self.by.strip():
            raise SurveyError("by", "a mark must name who measured, assumed or confirmed the dimension")


@dataclass(frozen=True)
class MarkedDimension:
    """One dimension of a wall, by its place in the wall such as "pieces[0].rise", with its mark."""

    dimension: str
    mark: Mark


def dimensions_of(wall: WallSpec) -> tuple[str, ...]:
    """Every dimension of a wall that somebody read or assumed, by its place in the wall's document.

    Args:
        wall: as measured.

    Returns:
        Figures of the pieces, then heights, then openings.

    Raises:
        nothing.

    >>> from jobs.core.build import FaceBuild
    >>> from jobs.core.survey import HeightProfile
    >>> bare = FaceBuild(())
    >>> wall = WallSpec("w", "Wall", (StraightPiece(1000.0),), HeightProfile(((0.0, 2400.0),)), "centre", "T", "S",
    ...     bare, bare)
    >>> dimensions_of(wall)
    ('pieces[0].length', 'height')
    """
    return (*_of_pieces(wall), *_of_heights(wall), *_of_openings(wall, range(len(wall.openings))))


def dimensions_feeding(wall: WallSpec, run: TrimRun) -> tuple[str, ...]:
    """The dimensions a run of trim is made to.

    Args:
        wall: the wall it runs on. run: the trim.

    Returns:
        Every figure of the pieces, and the openings; with the heights as well for trim that follows the ceiling.

    Raises:
        nothing.

    Source: own rule: an opening may cut any run, so all of them count.

    >>> from jobs.core.build import FaceBuild
    >>> from jobs.core.survey import HeightProfile
    >>> bare = FaceBuild(())
    >>> wall = WallSpec("w", "Wall", (ArcPiece(ChordRise(1000.0, 50.0), "left"),), HeightProfile(((0.0, 2400.0),)),
    ...     "centre", "T", "S", bare, bare)
    >>> dimensions_feeding(wall, TrimRun("Base", "left", "base", "BASE"))
    ('pieces[0].chord', 'pieces[0].rise')
    """
    heights = _of_heights(wall) if run.position in AT_THE_CEILING else []
    return (*_of_pieces(wall), *heights, *_of_openings(wall, range(len(wall.openings))))


def holds_on_release(
    line: str, feeding: Sequence[str], marks: Iterable[MarkedDimension], *, custom: bool
) -> tuple[Finding, ...]:
    """What keeps a line from being released to order on account of how its dimensions are known.

    Args:
        line: key of the line, such as "screen/trim-1". feeding: the dimensions it is made to. marks: of the wall; the
            last of a dimension counts. custom: whether it is made to order and cannot be returned.

    Returns:
        A finding for each dimension assumed ("decide": confirm it, or a named person releases it) or not marked
        ("gap"); none for a stocked line.

    Raises:
        nothing.

    Source: own rule.

    >>> assumed = MarkedDimension("pieces[0].rise", Mark("assumed", "Ines", date(2026, 11, 2)))
    >>> [hold.weight for hold in holds_on_release("w/trim-1", ["pieces[0].rise"], [assumed], custom=True)]
    ['decide']
    """
    if not custom:
        return ()
    known: Mapping[str, Mark] = {one.dimension: one.mark for one in marks}
    found = []
    for dimension in feeding:
        mark = known.get(dimension)
        key = f"{line}/release/{dimension}"
        if mark is None:
            told = f"Nobody has said how {dimension} is known; mark it measured or confirmed before this is ordered."
            found.append(Finding(key, "gap", told, _SOURCE))
        elif mark.how == "assumed":
            told = (
                f"{dimension} is only assumed ({mark.by}, {mark.on.isoformat()}) and this is made to it: measure or "
                "confirm it before it is ordered, or a named person releases it with a reason."
            )
            found.append(Finding(key, "decide", told, _SOURCE))
    return tuple(found)


def _of_pieces(wall: WallSpec) -> list[str]:
    return [f"pieces[{index}].{figure}" for index, piece in enumerate(wall.pieces) for figure in _figures_of(piece)]


def _figures_of(piece: StraightPiece | ArcPiece) -> tuple[str, ...]:
    if isinstance(piece, StraightPiece):
        figures: tuple[str, ...] = ("length",)
    else:
        match piece.given:
            case RadiusAngle():
                figures = ("radius", "angle")
            case RadiusArcLength():
                figures = ("radius", "arc")
            case ChordRise():
                figures = ("chord", "rise")
            case RadiusChord():
                figures = ("radius", "chord")
            case ArcLengthChord():
                figures = ("arc", "chord")
            case _:
                figures = ("points",)
    return (*figures, "kink") if piece.kink_rad else figures


def _of_heights(wall: WallSpec) -> list[str]:
    stations = wall.heights.stations
    if len(stations) == 1 and stations[0][0] == 0:
        return ["height"]
    return [f"height[{index}].{figure}" for index in range(len(stations)) for figure in ("along", "height")]


def _of_openings(wall: WallSpec, indexes: Iterable[int]) -> list[str]:
    figures = ("centre_at", "width", "height", "sill")
    return [f"openings[{index}].{figure}" for index in indexes for figure in figures]
