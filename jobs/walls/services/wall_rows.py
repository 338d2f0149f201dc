"""A wall's specification as the figures of its rows."""

import math
from collections.abc import Iterable
from datetime import date

from catalog.services.row_sync import Figures
from jobs.core.measure.findings import Override
from jobs.core.measure.room_tie import LENGTHS, RoomTie
from jobs.core.measure.survey import (
    ArcGiven,
    ArcLengthChord,
    ChordRise,
    MatchedCurve,
    Opening,
    OpeningCasing,
    Piece,
    RadiusAngle,
    RadiusArcLength,
    RadiusChord,
    StraightPiece,
    TemplatePiece,
    ThreePoints,
)
from jobs.core.measure.wall_spec import TrimRun, WallSpec
from jobs.walls import models
from jobs.walls.models.pieces import COLUMNS, POINTS
from quoting.platform.models.brought_in import confirmed_figures
from quoting.platform.models.columns import BILLIONTH, quantized, quantized_or_none
from quoting.platform.models.core_values import column_values


def wall_figures(spec: WallSpec) -> Figures:
    return {
        "key": spec.key,
        "name": spec.name,
        "measured_on": spec.measured_on,
        "track_id": spec.track,
        "stud_id": spec.stud,
        "stud_depth_mm": quantized_or_none(spec.stud_depth_mm),
        "stud_spacing_mm": quantized_or_none(spec.stud_spacing_mm),
        "insulated": spec.insulated,
        "left_level": spec.left.level,
        "right_level": spec.right.level,
        "left_painted": spec.left.painted,
        "right_painted": spec.right.painted,
        "top": spec.top,
        "start_end": spec.ends.start,
        "end_end": spec.ends.end,
        "end_studs": spec.ends.studs,
    }


def room_figures(tie: RoomTie | None) -> Iterable[Figures]:
    """One row, or none where nothing ties the wall to the building."""
    if tie is not None:
        lengths = {name: quantized(getattr(tie, name)) for name in LENGTHS}
        yield {"first": tie.first, "second": tie.second, **lengths, "joint": tie.joint, "side": tie.side}


def piece_figures(place: int, piece: Piece) -> Figures:
    figures = dict.fromkeys(COLUMNS) | {
        "order": place,
        "kink_deg": quantized(math.degrees(piece.kink_rad), BILLIONTH),
        "template": None,
    }
    if isinstance(piece, StraightPiece):
        straight = {"shape": "straight", "given_by": "length", "turn": "", "measured_on": ""}
        return figures | straight | {"length_mm": quantized(piece.length_mm)}
    if isinstance(piece, TemplatePiece):
        return figures | _to_template(piece)
    arc = {"shape": "arc", "turn": piece.turn or "", "measured_on": piece.measured_on or ""}
    return figures | arc | dict(_given(piece.given))


def _to_template(piece: TemplatePiece) -> Figures:
    return {
        "shape": "template",
        "given_by": "template",
        "turn": "",
        "measured_on": piece.measured_on or "",
        "length_mm": quantized(piece.length_mm),
        "chord_mm": quantized(piece.chord_mm),
        "turned_deg": quantized(math.degrees(piece.turned_rad), BILLIONTH),
        "template": piece.template,
    }


def _given(given: ArcGiven) -> Figures:
    match given:
        case RadiusAngle(radius, sweep):
            angle = quantized(math.degrees(sweep), BILLIONTH)
            return {"given_by": "radius_angle", "radius_mm": quantized(radius), "angle_deg": angle}
        case RadiusArcLength(radius, arc):
            return {"given_by": "radius_arc", "radius_mm": quantized(radius), "arc_mm": quantized(arc)}
        case ChordRise(chord, rise):
            return {"given_by": "chord_rise", "chord_mm": quantized(chord), "rise_mm": quantized(rise)}
        case RadiusChord(radius, chord, major):
            lengths = {"radius_mm": quantized(radius), "chord_mm": quantized(chord)}
            return {"given_by": "radius_chord", **lengths, "major": major}
        case ArcLengthChord(arc, chord):
            return {"given_by": "arc_chord", "arc_mm": quantized(arc), "chord_mm": quantized(chord)}
        case MatchedCurve(chord, rise, arc):
            lengths = {"chord_mm": quantized(chord), "rise_mm": quantized(rise), "arc_mm": quantized(arc)}
            return {"given_by": "matched", **lengths}
        case ThreePoints((first, middle, last)):
            figures = (quantized(value) for value in (*first, *middle, *last))
            return {"given_by": "points", **dict(zip(POINTS, figures, strict=True))}


def height_figures(spec: WallSpec) -> Iterable[Figures]:
    for place, (along_mm, height_mm) in enumerate(spec.heights.stations):
        yield {"order": place, "along_mm": quantized(along_mm), "height_mm": quantized(height_mm)}


def opening_figures(place: int, opening: Opening) -> Figures:
    return {
        "order": place,
        "name": opening.name,
        "centre_at_mm": quantized(opening.centre_at_mm),
        "width_mm": quantized(opening.width_mm),
        "height_mm": quantized(opening.height_mm),
        "sill_mm": quantized(opening.sill_mm),
        "frame": opening.frame,
        "measured_on": opening.measured_on or "",
        "arch_rise_mm": quantized_or_none(opening.arch_rise_mm),
        **_casing_figures(opening.casing),
    }


def _casing_figures(casing: OpeningCasing | None) -> Figures:
    if casing is None:
        return {
            "casing_legs_id": None,
            "casing_head_id": None,
            "casing_reveal_mm": quantized(0.0),
            "casing_faces": "both",
        }
    return {
        "casing_legs_id": casing.legs,
        "casing_head_id": casing.head,
        "casing_reveal_mm": quantized(casing.reveal_mm),
        "casing_faces": casing.faces,
    }


def layer_figures(spec: WallSpec) -> Iterable[Figures]:
    for face, build in (("left", spec.left), ("right", spec.right)):
        for place, layer in enumerate(build.layers):
            yield {
                "face": face,
                "order": place,
                "board_id": layer.board,
                "direction": layer.direction,
                "moisture": layer.moisture,
            }


def trim_figures(place: int, trim: TrimRun) -> Figures:
    return {
        "order": place,
        "name": trim.name,
        "face": trim.face,
        "position": trim.position,
        "material_id": trim.material,
        "form": trim.form,
        "grade": trim.grade or "",
        "application": trim.application,
        "foot_mm": quantized_or_none(trim.foot_mm),
        "returns_mm": quantized(trim.returns_mm),
        "splices_allowed": trim.splices_allowed,
        "template": trim.template,
        "needs_backing": trim.needs_backing,
        "need_by": trim.need_by,
        "bend": trim.bend or "",
    }


def override_figures(override: Override) -> Figures:
    confirmed = confirmed_figures(override.brought_in)
    return column_values(override, models.Override, on=date.fromisoformat(override.on), **confirmed)
