"""The invented walls of the worked examples as core values, and a catalog with the published figures."""

import math
from dataclasses import replace
from decimal import Decimal

from catalog.core.materials.specs import Fact, Material
from jobs.core.measure.curve import Curve, curve_of
from jobs.core.measure.survey import ArcPiece, ChordRise, HeightProfile, Opening, RadiusAngle, StraightPiece, Survey
from jobs.core.measure.wall_spec import FaceBuild, Layer, TrimRun, WallSpec

IN = 25.4
FT = 304.8
GA_TABLE = "Gypsum Association GA-226-08, Table 1"

# GA-226-08, Table 1, dry: board -> (thickness, least radius lengthwise, widthwise or None), inches.
GA_BOARDS = {
    "1/4": (0.25, 60, 180),
    "5/16": (0.3125, 75, 240),
    "3/8": (0.375, 90, 300),
    "1/2": (0.5, 120, None),
    "5/8": (0.625, 180, None),
}


def fact(value, sure="published", source=GA_TABLE):
    return Fact(Decimal(str(value)), source, sure)


def inches(value, sure="published", source=GA_TABLE):
    return fact(Decimal(str(value)) * Decimal("25.4"), sure, source)


def material(code, kind, unit="each", supply="stocked", **facts):
    return Material(code, f"{code} {kind}", kind, supply, unit, "pack", None, facts=facts)


def board(size, **more):
    thickness, lengthwise, widthwise = GA_BOARDS[size]
    facts = {
        "thickness_mm": inches(thickness),
        "lengthwise_dry_least_radius_mm": inches(lengthwise),
        "spacing_at_least_radius_mm": inches(6),
        "widthwise_dry_permitted": fact(1 if widthwise else 0),
    }
    if widthwise:
        facts["widthwise_dry_least_radius_mm"] = inches(widthwise)
    return material(f"GB-{size}", "board", "sqft", **(facts | more))


def catalog(*more):
    known = [board(size) for size in GA_BOARDS]
    known += [
        material("TRACK", "track", "ft", least_radius_mm=inches(20, "maker", "Its maker's sheet"), steel_mil=fact(18)),
        material("STUD", "stud", steel_mil=fact(18, "maker", "Its maker's sheet")),
    ]
    return {m.code: m for m in (*known, *more)}


TWO_THIN = (Layer("GB-1/4"), Layer("GB-1/4"))


def wall_of(pieces, measured_on, height, *, depth=3.625, build_up=0.5, layers=TWO_THIN, spacing=8, **more):
    """The curve and the build of a wall given in inches."""
    heights = height if isinstance(height, HeightProfile) else HeightProfile(((0.0, height * IN),))
    openings = more.pop("openings", ())
    survey = Survey(tuple(pieces), heights, measured_on, depth * IN, build_up * IN, build_up * IN, tuple(openings))
    wall = WallSpec(
        "wall",
        "Wall",
        measured_on,
        survey.pieces,
        heights,
        "TRACK",
        "STUD",
        more.pop("left", FaceBuild(layers)),
        more.pop("right", FaceBuild(layers)),
        openings=survey.openings,
        stud_spacing_mm=spacing * IN if spacing else None,
        **more,
    )
    return curve_of(survey), wall


def with_trims(wall, *trims):
    return replace(wall, trims=tuple(trims))


DENTAL_DOOR = Opening("Door", 91.0 * IN, 38.5 * IN, 83.0 * IN)


def dental(**more):
    """Chord 14'-0", rise 2'-6" on the convex framing line; height 9'-0"; a flat-framed door 38-1/2 x 83."""
    more.setdefault("openings", (DENTAL_DOOR,))
    return wall_of([ArcPiece(ChordRise(168 * IN, 30 * IN), "left")], "convex_framing", 108, **more)


def boutique(**more):
    """Centreline: arc R 96 left 70 degrees, arc R 72 right 55 degrees, straight 44; height 10'-0"."""
    pieces = [
        ArcPiece(RadiusAngle(96 * IN, math.radians(70)), "left"),
        ArcPiece(RadiusAngle(72 * IN, math.radians(55)), "right"),
        StraightPiece(44 * IN),
    ]
    return wall_of(pieces, "centre", 120, **more)


CHILDCARE = ((120, 18), (96, 24), (144, 20))


def childcare(number, **more):
    """Chord and rise on the convex framing line, studs 2-1/2, height 8'-0"."""
    chord, rise = CHILDCARE[number]
    piece = ArcPiece(ChordRise(chord * IN, rise * IN), "left")
    return wall_of([piece], "convex_framing", 96, depth=2.5, **more)


def library(**more):
    """Half circle, concave finished radius 60; ceiling from 8'-0" to 9'-6"."""
    centre_in = math.pi * (60 + 0.5 + 3.625 / 2)
    heights = HeightProfile(((0.0, 96 * IN), (centre_in * IN, 114 * IN)))
    return wall_of([ArcPiece(RadiusAngle(60 * IN, math.pi), "left")], "concave_finished", heights, **more)


def column(radius=30.0, **more):
    """A closed round column of two half circles, centreline radius in inches."""
    half = ArcPiece(RadiusAngle(radius * IN, math.pi), "left")
    return wall_of([half, half], "centre", 96, **more)


def base(code="BASE", supply="custom_made", **facts):
    facts = {
        "least_radius_mm": inches(40, "maker", "Its maker's sheet"),
        "greatest_piece_mm": inches(108, "maker", "Its maker's sheet"),
        "width_mm": inches(5.25, "maker", "Its maker's sheet"),
        "thickness_mm": inches(0.5, "maker", "Its maker's sheet"),
    } | facts
    return material(code, "trim", "ft", supply, **{name: f for name, f in facts.items() if f is not None})


def run(face="right", position="base", form="bendable", **more):
    more.setdefault("name", f"{position} {face}")
    more.setdefault("material", "BASE")
    return TrimRun(face=face, position=position, form=form, **more)


def on_line(curve: Curve, line) -> float:
    return curve.length_mm(line) / IN
