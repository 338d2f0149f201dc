"""The dimensions the wall hangs on, as entered, with room for what is found on site."""

import math
from collections.abc import Iterable

from catalog.core.units import System
from jobs.core.build import WallSpec
from jobs.core.survey import (
    ArcLengthChord,
    ChordRise,
    Piece,
    RadiusAngle,
    RadiusArcLength,
    RadiusChord,
    StraightPiece,
    TemplatePiece,
    ThreePoints,
)
from quoting.papers.site_parts import SiteSection, SiteTable
from quoting.services.site.words import Say, lengths_in

SAYS = (
    "Read each again on the framed wall before anything made to a radius is ordered, and tell the office what differs.",
)


def field_check(spec: WallSpec, system: System) -> SiteSection:
    say = lengths_in(system)
    measured = spec.measured_on.replace("_", " ")
    rows = [
        (f"Piece {number}: {what}", value, "", "")
        for number, piece in enumerate(spec.pieces, start=1)
        for what, value in _figures_of(piece, say)
    ]
    rows += [
        ("Height" if spec.heights.is_level else f"Height at {say(along)}", say(height), "", "")
        for along, height in spec.heights.stations[: 1 if spec.heights.is_level else None]
    ]
    for opening in spec.openings:
        sizes = (
            ("middle from the start", opening.centre_at_mm),
            ("width", opening.width_mm),
            ("height", opening.height_mm),
            *((("rise of the arch", opening.arch_rise_mm),) if opening.arch_rise_mm is not None else ()),
        )
        rows += [(f"{opening.name}: {what}", say(value), "", "") for what, value in sizes]
    columns = ("Dimension", "As entered", "Found on site", "By, on")
    note = f"Lengths of pieces and places of openings are on the {measured} line unless the piece says otherwise."
    table = SiteTable("Dimensions", columns, tuple(rows), words=(0, 2, 3), notes=(note,), by_hand=(2, 3))
    return SiteSection("Field check", SAYS, (table,))


def _figures_of(piece: Piece, say: Say) -> Iterable[tuple[str, str]]:
    if isinstance(piece, StraightPiece):
        return [("length", say(piece.length_mm))]
    if isinstance(piece, TemplatePiece):
        turned = f"{math.degrees(piece.turned_rad):.2f}°"
        return [
            ("length", say(piece.length_mm)),
            ("chord", say(piece.chord_mm)),
            ("turns in all, left positive", turned),
        ]
    return _given(piece.given, say)


def _given(given: object, say: Say) -> Iterable[tuple[str, str]]:
    match given:
        case ChordRise(chord, rise):
            return [("chord", say(chord)), ("rise", say(rise))]
        case RadiusAngle(radius, sweep):
            return [("radius", say(radius)), ("angle", f"{math.degrees(sweep):.2f}°")]
        case RadiusArcLength(radius, arc):
            return [("radius", say(radius)), ("length along the arc", say(arc))]
        case RadiusChord(radius, chord, major):
            return [("radius", say(radius)), ("chord, over half a circle" if major else "chord", say(chord))]
        case ArcLengthChord(arc, chord):
            return [("length along the arc", say(arc)), ("chord", say(chord))]
        case ThreePoints(first, middle, last):
            named = zip(("first", "middle", "last"), (first, middle, last), strict=True)
            return [(f"{name} point, along and across", f"{say(x)}, {say(y)}") for name, (x, y) in named]
    raise TypeError(f"{type(given).__name__} is no way to give an arc.")
