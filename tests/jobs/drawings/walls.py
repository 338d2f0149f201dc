"""Walls of the worked examples, and odd ones, as curves."""

import math
from decimal import Decimal

from catalog.core.materials.standards import starter_standards
from jobs.core.boards.boards import BoardLayer, FacePlan, Sheet, plan_face
from jobs.core.framing.framing import Framing, frame
from jobs.core.measure.curve import Curve, Face, curve_of
from jobs.core.measure.survey import (
    ArcPiece,
    ChordRise,
    HeightProfile,
    Opening,
    RadiusAngle,
    RadiusArcLength,
    StraightPiece,
    Survey,
)
from jobs.core.measure.wall_spec import FaceBuild, Layer, WallSpec

INCH = 25.4


def survey(pieces, heights, measured_on, openings=(), depth=3.625, left=0.5, right=0.5) -> Survey:
    if not isinstance(heights, HeightProfile):
        heights = HeightProfile(((0.0, heights * INCH),))
    return Survey(tuple(pieces), heights, measured_on, depth * INCH, left * INCH, right * INCH, tuple(openings))


def dental(name: str = "Doorway") -> Curve:
    arc = ArcPiece(ChordRise(168 * INCH, 30 * INCH), "left")
    opening = Opening(name, 90.97 * INCH, 38.5 * INCH, 83 * INCH)
    return curve_of(survey([arc], 108, "convex_framing", [opening]))


def boutique() -> Curve:
    pieces = [
        ArcPiece(RadiusAngle(96 * INCH, math.radians(70)), "left"),
        ArcPiece(RadiusAngle(72 * INCH, math.radians(55)), "right"),
        StraightPiece(44 * INCH),
    ]
    return curve_of(survey(pieces, 120, "centre"))


def library() -> Curve:
    """The ceiling rises from 96 to 114 in across the diameter."""
    around = 62.3125 * INCH * math.pi
    stations = tuple((around * i / 16, (96 + 9 * (1 - math.cos(math.pi * i / 16))) * INCH) for i in range(17))
    arc = ArcPiece(RadiusAngle(60 * INCH, math.pi), "left")
    return curve_of(survey([arc], HeightProfile(stations), "concave_finished"))


def straight_with_window() -> Curve:
    window = Opening("Window", 72 * INCH, 48 * INCH, 42 * INCH, 36 * INCH)
    return curve_of(survey([StraightPiece(144 * INCH)], 96, "left_finished", [window]))


def more_than_half() -> Curve:
    return curve_of(survey([ArcPiece(ChordRise(100 * INCH, 80 * INCH), "right")], 96, "convex_framing"))


def sixty_feet() -> Curve:
    pieces = [
        ArcPiece(RadiusArcLength(300 * INCH, 240 * INCH), "right"),
        StraightPiece(240 * INCH),
        ArcPiece(RadiusArcLength(200 * INCH, 240 * INCH), "left"),
    ]
    openings = [
        Opening("Entry", 100 * INCH, 72 * INCH, 84 * INCH),
        Opening("Borrowed light", 360 * INCH, 60 * INCH, 40 * INCH, 40 * INCH),
        Opening("Service door", 600 * INCH, 36 * INCH, 84 * INCH, frame="radial"),
    ]
    return curve_of(survey(pieces, 108, "centre", openings))


def column() -> Curve:
    half = ArcPiece(RadiusAngle(9 * INCH, math.pi), "left")
    return curve_of(survey([half, half], 96, "centre", depth=2.5, left=0.25, right=0.25))


def kinked() -> Curve:
    """A step in the ceiling and a kink at either end of the arc."""
    pieces = [
        StraightPiece(60 * INCH),
        ArcPiece(RadiusAngle(48 * INCH, math.radians(60)), "right", None, math.radians(30)),
        StraightPiece(40 * INCH, math.radians(-20)),
    ]
    heights = HeightProfile(((0.0, 2400.0), (60 * INCH, 2400.0), (60 * INCH, 2700.0)))
    return curve_of(survey(pieces, heights, "left_framing"))


WALLS = {
    wall.__name__: wall
    for wall in (dental, boutique, library, straight_with_window, more_than_half, sixty_feet, column, kinked)
}


def framing_of(curve: Curve, spacing_in: float = 8.0) -> Framing:
    board = FaceBuild((Layer("GB-1/4"),))
    wall = WallSpec(
        "wall", "Wall", "centre", (StraightPiece(1000.0),), curve.heights, "T", "S", board, board,
        stud_spacing_mm=spacing_in * INCH,
    )  # fmt: skip
    return frame(curve, wall, {}, starter_standards())


def boards_of(curve: Curve, face: Face, framing: Framing) -> FacePlan:
    sheets = tuple(Sheet(f"GB-{feet}", feet * 12 * INCH, 48 * INCH, Decimal(feet * 2)) for feet in (8, 10, 12))
    thickness = curve.left_build_up_mm if face == "left" else curve.right_build_up_mm
    layers = [BoardLayer("GB-1/4", 6.35, "lengthwise", sheets)] * round(thickness / 6.35)
    return plan_face(curve, face, layers, framing.stud_positions_mm, starter_standards())
