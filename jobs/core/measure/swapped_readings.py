"""A rise over half the chord: either more than half a circle, or two readings of the tape changed round."""

from __future__ import annotations

from collections.abc import Iterator

from catalog.core.ground.units import TOLERANCE_MM, System, format_degrees, format_length
from jobs.core.measure.bending import override_of
from jobs.core.measure.findings import Finding
from jobs.core.measure.survey import ArcPiece, ChordRise, MatchedCurve
from jobs.core.measure.wall_spec import WallSpec

RISE_OVER_CHORD = "rise-over-chord"
_SOURCE = "Plane geometry: more than half a circle"


def swapped_findings(wall: WallSpec, system: System) -> tuple[Finding, ...]:
    """Whether chord and rise of an arc may have been changed round, asked once of a wall.

    Args:
        wall: its pieces and decisions. system: the units to say it in.

    Returns:
        One caution for all arcs whose rise is over half the chord, both readings worked out; nothing once a named
        person has said that they are as measured, by an override of its key.

    Raises:
        nothing of its own.

    Source: R = c^2/(8h) + h/2, sweep = 4 atan(2h/c); Machinery's Handbook 31, p. 79.

    >>> from jobs.core.measure.dimension_holds import _example
    >>> swapped_findings(_example(), "imperial")
    ()
    """
    key = f"{wall.key}/{RISE_OVER_CHORD}"
    sentences = list(_asked(wall, system))
    if not sentences or override_of(wall.overrides, key) is not None:
        return ()
    return (Finding(key, "caution", f"{' '.join(sentences)} Which was read?", _SOURCE),)


def _asked(wall: WallSpec, system: System) -> Iterator[str]:
    for number, piece in enumerate(wall.pieces, start=1):
        given = piece.given if isinstance(piece, ArcPiece) else None
        if isinstance(given, ChordRise | MatchedCurve) and given.rise_mm > given.chord_mm / 2 + TOLERANCE_MM:
            as_given = _worked_out(ChordRise(given.chord_mm, given.rise_mm), system)
            swapped = _worked_out(ChordRise(given.rise_mm, given.chord_mm), system)
            yield f"Piece {number}: {as_given}. Changed round, {swapped}."


def _worked_out(given: ChordRise, system: System) -> str:
    solved = given.solve()
    chord, rise, radius = (
        format_length(figure, system) for figure in (given.chord_mm, given.rise_mm, solved.radius_mm)
    )
    return f"a rise of {rise} on a chord of {chord} turns {format_degrees(solved.sweep_rad, 0)} degrees at R {radius}"
