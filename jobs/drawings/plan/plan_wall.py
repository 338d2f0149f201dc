"""The wall itself in plan: boards, faces, studs, openings broken out, ends."""

from __future__ import annotations

import math
from collections.abc import Sequence

from catalog.drawings.canvas import Canvas
from catalog.drawings.svg import polyline
from jobs.core.framing.framing import Framing
from jobs.core.measure.curve import Curve, CurvePiece, Face
from jobs.core.measure.survey import Line
from jobs.drawings.plan.plan_view import PlanView, joined

FACE_LINES: dict[Face, Line] = {"left": "left_finished", "right": "right_finished"}
FRAMING_LINES: dict[Face, Line] = {"left": "left_framing", "right": "right_framing"}
# Lines closer than this on the paper would run together; the inner ones are left out.
CLOSEST_LINES_MM = 0.45
THIN_WALL_MM = 1.6


def draw_wall(
    canvas: Canvas, view: PlanView, framing: Framing | None, layers_mm: dict[Face, tuple[float, ...]]
) -> None:
    for box in view.body():
        canvas.placer.add(box)
    for piece in view.curve.pieces:
        for face in FACE_LINES:
            _draw_board(canvas, view, piece, face)
            _draw_face(canvas, view, piece, face, layers_mm.get(face, ()))
        _draw_openings(canvas, view, piece)
    _draw_ends(canvas, view)
    if framing:
        _draw_studs(canvas, view, framing)


def _build_up(curve: Curve, face: Face) -> float:
    return abs(curve.offset_mm(FACE_LINES[face]) - curve.offset_mm(FRAMING_LINES[face]))


def _draw_board(canvas: Canvas, view: PlanView, piece: CurvePiece, face: Face) -> None:
    curve, finished, framing = view.curve, FACE_LINES[face], FRAMING_LINES[face]
    if piece.is_template or _build_up(curve, face) / view.ratio < CLOSEST_LINES_MM:
        return
    # A flat frame takes a different share out of each line, so the two edges of the boards are paired.
    pairs = zip(view.solid_spans(piece, finished), view.solid_spans(piece, framing), strict=True)
    for outer, (first, last) in pairs:
        there = view.run(piece, outer, curve.offset_mm(finished))
        back = view.run(piece, (last, first), curve.offset_mm(framing), onwards=True)
        canvas.path(f"{there} {back} Z", "fill-tint")


def _draw_face(canvas: Canvas, view: PlanView, piece: CurvePiece, face: Face, layers_mm: Sequence[float]) -> None:
    curve, finished, framing = view.curve, FACE_LINES[face], FRAMING_LINES[face]
    thick = curve.stud_depth_mm + _build_up(curve, "left") + _build_up(curve, "right")
    css = "ink" if thick / view.ratio > THIN_WALL_MM else "thin"
    if piece.is_template:
        css = "hidden"  # where it runs between its ends only the template knows
    for span in view.solid_spans(piece, finished):
        offset = curve.offset_mm(finished)
        canvas.path(view.run(piece, span, offset), css, view.sampled(piece, span, offset))
    if piece.is_template or _build_up(curve, face) / view.ratio < CLOSEST_LINES_MM:
        return
    for span in view.solid_spans(piece, framing):
        canvas.path(view.run(piece, span, curve.offset_mm(framing)), "thin")
    outward = 1 if face == "left" else -1
    for depth in _between(layers_mm):
        if min(layers_mm) / view.ratio >= CLOSEST_LINES_MM:
            for span in view.solid_spans(piece, finished):
                offset = curve.offset_mm(framing) + outward * depth
                canvas.path(view.run(piece, span, offset), "hatch")


def _between(layers: Sequence[float]) -> list[float]:
    return [sum(layers[: index + 1]) for index in range(len(layers) - 1)]


def _draw_openings(canvas: Canvas, view: PlanView, piece: CurvePiece) -> None:
    for laid in view.openings_on(piece):
        for end in (0, 1):
            jamb = [
                view.at(piece, view.share_span(piece, laid, line)[end], view.curve.offset_mm(line))
                for line in FACE_LINES.values()
            ]
            canvas.path(joined(jamb), "ink", jamb)
        for line in FACE_LINES.values():
            span, offset = view.share_span(piece, laid, line), view.curve.offset_mm(line)
            # What crosses the opening is the sill below (seen) or the head above (not seen).
            css = "hidden" if laid.opening.reaches_floor else "thin"
            if laid.opening.frame == "radial":
                canvas.path(view.run(piece, span, offset), css)
            else:
                canvas.path(joined([view.at(piece, share, offset) for share in span]), css)


def _draw_ends(canvas: Canvas, view: PlanView) -> None:
    curve = view.curve
    left, right = curve.offset_mm("left_finished"), curve.offset_mm("right_finished")
    for piece in curve.pieces:
        if piece.index == 0 or abs(piece.kink_rad) > 1e-9:
            ends = [view.at(piece, 0.0, left), view.at(piece, 0.0, right)]
            canvas.path(joined(ends), "ink" if piece.index == 0 else "thin", ends)
        else:
            canvas.path(joined([view.at(piece, 0.0, left), view.at(piece, 0.0, right)]), "hatch")
        if piece.index and abs(piece.kink_rad) > 1e-9:
            before = curve.pieces[piece.index - 1]
            canvas.path(joined([view.at(before, 1.0, left), view.at(before, 1.0, right)]), "thin")
            for offset in (left, right):
                canvas.path(joined([view.at(before, 1.0, offset), view.at(piece, 0.0, offset)]), "ink")
    if not curve.is_closed:
        last = curve.pieces[-1]
        ends = [view.at(last, 1.0, left), view.at(last, 1.0, right)]
        canvas.path(joined(ends), "ink", ends)


def _draw_studs(canvas: Canvas, view: PlanView, framing: Framing) -> None:
    curve = view.curve
    depth = curve.stud_depth_mm
    length = curve.centre_length_mm
    small = depth / view.ratio < 1.6
    for station in framing.stations:
        if station.kind in ("cripple_over", "cripple_under"):
            continue
        piece, share = curve.piece_at(station.along_mm)
        if piece.is_template and 1e-6 < share < 1 - 1e-6:
            continue
        heading = piece.heading_rad + (piece.turn * piece.sweep_rad + piece.turned_rad) * share
        flange = min(0.34 * depth, 32.0) * (-1 if station.along_mm > length - depth else 1)
        if station.kind == "sheet_end" and not small:
            _draw_flat_stud(canvas, view, piece, share, station.face)
            continue
        # A stud stands square to the wall: its web across, its flanges along the tangent.
        along = (0.0,) if small else (flange, 0.0)
        # Drawn a little narrow, so that its flanges stand clear of the framing faces.
        half = depth * (0.5 if small else 0.42)
        shape = [(ahead, half) for ahead in along] + [(ahead, -half) for ahead in reversed(along)]
        foot = piece.point_at(share)
        c, s = math.cos(heading), math.sin(heading)
        points = [view.on_paper((foot[0] + a * c - b * s, foot[1] + a * s + b * c)) for a, b in shape]
        canvas.path(polyline(points), "thin")


def _draw_flat_stud(canvas: Canvas, view: PlanView, piece: CurvePiece, share: float, face: Face | None) -> None:
    depth = view.curve.stud_depth_mm
    near = depth / 2 if face != "right" else -depth / 2
    reach = min(depth * 0.3, 30.0) / piece.length_mm
    span = (max(0.0, share - reach), min(1.0, share + reach))
    inner = near * 0.72
    path = f"{view.run(piece, span, near)} {view.run(piece, (span[1], span[0]), inner, onwards=True)} Z"
    canvas.path(path, "stud")
