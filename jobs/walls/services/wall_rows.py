"""A wall's specification as the figures of its rows."""

import math
from collections.abc import Iterable
from datetime import date

from catalog.services.row_sync import Figures
from jobs.core.measure.findings import Override
from jobs.core.measure.room_tie import RoomTie
from jobs.core.measure.survey import (
    ArcGiven,
    Opening,
    OpeningCasing,
    Piece,
    RadiusAngle,
    StraightPiece,
    TemplatePiece,
    ThreePoints,
)
from jobs.core.measure.wall_spec import TrimRun, WallSpec
from jobs.walls import models
from jobs.walls.models.pieces import COLUMNS, GIVEN, POINTS
from quoting.platform.models.brought_in import confirmed_figures
from quoting.platform.models.columns import BILLIONTH, quantized
from quoting.platform.models.core_values import column_values

GIVEN_BY = {kind: given_by for given_by, kind in GIVEN.items()}


def wall_figures(spec: WallSpec) -> Figures:
    return column_values(
        spec,
        models.Wall,
        left_level=spec.left.level,
        right_level=spec.right.level,
        left_painted=spec.left.painted,
        right_painted=spec.right.painted,
        start_end=spec.ends.start,
        end_end=spec.ends.end,
        end_studs=spec.ends.studs,
    )


def room_figures(tie: RoomTie | None) -> Iterable[Figures]:
    """One row, or none where nothing ties the wall to the building."""
    if tie is not None:
        yield column_values(tie, models.RoomTie)


def piece_figures(place: int, piece: Piece) -> Figures:
    empty = dict.fromkeys(COLUMNS) | {"turn": "", "measured_on": "", "template": None}
    kink = quantized(math.degrees(piece.kink_rad), BILLIONTH)
    return empty | {"order": place, "shape": piece.shape, "kink_deg": kink} | dict(_own_figures(piece))


def _own_figures(piece: Piece) -> Figures:
    if isinstance(piece, StraightPiece):
        return column_values(piece, models.WallPiece, given_by="length")
    line = piece.measured_on or ""
    if isinstance(piece, TemplatePiece):
        turned = quantized(math.degrees(piece.turned_rad), BILLIONTH)
        return column_values(piece, models.WallPiece, given_by="template", measured_on=line, turned_deg=turned)
    return {"turn": piece.turn or "", "measured_on": line, **_given(piece.given)}


def _given(given: ArcGiven) -> Figures:
    figures = column_values(given, models.WallPiece, given_by=GIVEN_BY[type(given)])
    if isinstance(given, RadiusAngle):
        figures["angle_deg"] = quantized(math.degrees(given.sweep_rad), BILLIONTH)
    if isinstance(given, ThreePoints):
        flat = (quantized(value) for point in given.points for value in point)
        figures |= zip(POINTS, flat, strict=True)
    return figures


def height_figures(spec: WallSpec) -> Iterable[Figures]:
    for place, (along_mm, height_mm) in enumerate(spec.heights.stations):
        yield {"order": place, "along_mm": quantized(along_mm), "height_mm": quantized(height_mm)}


def opening_figures(place: int, opening: Opening) -> Figures:
    own = column_values(opening, models.Opening, order=place, measured_on=opening.measured_on or "")
    casing = opening.casing or OpeningCasing("")
    return own | {
        "casing_legs_id": casing.legs or None,
        "casing_head_id": casing.head,
        "casing_reveal_mm": quantized(casing.reveal_mm),
        "casing_faces": casing.faces,
    }


def layer_figures(spec: WallSpec) -> Iterable[Figures]:
    for face, build in (("left", spec.left), ("right", spec.right)):
        for place, layer in enumerate(build.layers):
            yield column_values(layer, models.Layer, face=face, order=place)


def trim_figures(place: int, trim: TrimRun) -> Figures:
    return column_values(trim, models.TrimRun, order=place, grade=trim.grade or "", bend=trim.bend or "")


def override_figures(override: Override) -> Figures:
    confirmed = confirmed_figures(override.brought_in)
    return column_values(override, models.Override, on=date.fromisoformat(override.on), **confirmed)
