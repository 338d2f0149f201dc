"""The figures and words around a wall in plan. One piece carries its figures beside it; more have a table elsewhere."""

from __future__ import annotations

import math
from collections.abc import Iterator

from catalog.core.ground.units import System, format_length
from catalog.drawings.canvas import Block, Canvas, Place, block, places_around, upright
from catalog.drawings.dimensions import arrow_head, dimension, scale_bar
from catalog.drawings.lettering import fitted
from catalog.drawings.scales import Scale
from jobs.core.measure.curve import Curve, CurvePiece, Face, OpeningOnCurve, resolve_line
from jobs.drawings.plan.plan_names import (
    FACE_LINES,
    chord_and_rise,
    face_name,
    opening_size,
)
from jobs.drawings.plan.plan_radius import differing_arcs, draw_radius
from jobs.drawings.plan.plan_view import PlanView

MAX_NAMED = 12


def draw_figures(canvas: Canvas, view: PlanView, scale: Scale) -> None:
    curve, system = view.curve, scale.system
    single = len(curve.pieces) == 1
    _draw_start(canvas, view)
    if single and curve.pieces[0].is_arc:
        draw_chord(canvas, view, curve.pieces[0], system)
    for laid in curve.openings:
        name_opening(canvas, view, laid, system)
    for piece in curve.pieces:
        name_faces(canvas, view, piece, system, single)
    if len(curve.pieces) <= MAX_NAMED:
        for piece in differing_arcs(view):
            draw_radius(canvas, view, piece, system)


def _draw_start(canvas: Canvas, view: PlanView) -> None:
    """An arrow in the direction of walking: into the start, or beside it on a column."""
    curve, first = view.curve, view.curve.pieces[0]
    heading = view.heading(first, 0.0)
    c, s = math.cos(heading), math.sin(heading)
    tip = view.at(first, 0.0, 0.0)
    has_room = canvas.sides is None or canvas.sides[0] < tip[0] - 8.2 * c < canvas.sides[1]
    if curve.is_closed or not has_room:
        out = curve.offset_mm("right_finished" if first.turn > 0 else "left_finished")
        edge = view.at(first, 0.0, out)
        away = math.copysign(3.2, out)
        tip = (edge[0] + s * away + c * 7, edge[1] - c * away + s * 7)
    else:
        tip = (tip[0] - 1.2 * c, tip[1] - 1.2 * s)
    tail = (tip[0] - 7 * c, tip[1] - 7 * s)
    canvas.line(tail, (tip[0] - c, tip[1] - s), "ink")
    arrow_head(canvas, tip, heading, 2.6)
    label = block(("Start", "small-text"))
    reach = label.width / 2 + 1.0
    places = [(-reach * abs(c) * math.copysign(1, c), -1.8 * s), (0, -2.2), (0, 2.2), (reach, 0), (-reach, 0)]
    canvas.put(label, [Place((tail[0] + dx, tail[1] + dy)) for dx, dy in places])
    if not curve.is_closed:
        draw_end(canvas, view)


def draw_end(canvas: Canvas, view: PlanView) -> None:
    last = view.curve.pieces[-1]
    heading = view.heading(last, 1.0)
    x, y = view.at(last, 1.0, 0.0)
    label = block(("End", "small-text"))
    dx, dy = math.cos(heading), math.sin(heading)
    reach = abs(dx) * label.width / 2 + abs(dy) * label.height / 2
    canvas.put(label, [Place((x + dx * (reach + gap), y + dy * (reach + gap))) for gap in (1.4, 3.0, 6.0)])


def draw_chord(canvas: Canvas, view: PlanView, piece: CurvePiece, system: System) -> None:
    """Chord and rise on the line the tape followed: the string line of the setting-out."""
    curve = view.curve
    offset = curve.offset_mm(resolve_line(curve.measured_on, piece.turn))
    a, b = view.at(piece, 0.0, offset), view.at(piece, 1.0, offset)
    chord_mm, rise_mm = chord_and_rise(curve, piece)
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    top = view.at(piece, 0.5, offset)
    # The words of the chord stand on its far side from the arc, clear of the rise.
    out = 0.01 if piece.turn > 0 else -0.01
    if piece.sweep_rad > math.pi:
        out = -out
    dimension(canvas, a, b, f"Chord {format_length(chord_mm, system)}", out, shares=(0.7, 0.3, 0.8, 0.2, 0.5))
    if math.dist(middle, top) >= 3:
        dimension(canvas, middle, top, f"Rise {format_length(rise_mm, system)}", 0.01)
    else:
        label = block((f"Rise {format_length(rise_mm, system)}", "dim-text"))
        canvas.put(
            label, [Place((middle[0] + dx, middle[1] + dy)) for dy in (-4.0, 4.0, -7.0, 7.0) for dx in (0.0, 20.0)]
        )


def name_faces(canvas: Canvas, view: PlanView, piece: CurvePiece, system: System, single: bool) -> None:
    for face, line in FACE_LINES.items():
        offset = view.curve.offset_mm(line)
        name = face_name(face, piece)
        if single:
            figures = f"{format_length(piece.length_at(offset), system)} long"
            if piece.is_template:
                figures = f"to a template, {figures}"
            if piece.is_arc:
                figures = f"R {format_length(piece.radius_at(offset), system)}, {figures}"
            tried = [block((name, "label"), (figures, "dim-text"))]
        else:
            number = piece.index + 1
            short = name.replace(" face", "")
            # In a crowd the number alone stands for the piece.
            tried = [block((str(number), "small-text"))]
            if len(view.curve.pieces) <= MAX_NAMED:
                tried[:0] = [block((f"{number} {name}", "label")), block((f"{number} {short}", "dim-text"))]
        placed = any(canvas.put(label, _beside(view, piece, face, label), most=3) for label in tried)
        if single and not placed:
            tip = view.at(piece, 0.5, offset)
            canvas.leader(tip, tried[0], places_around(canvas, tip, tried[0].width))


def _beside(view: PlanView, piece: CurvePiece, face: Face, label: Block) -> Iterator[Place]:
    offset = view.curve.offset_mm(FACE_LINES[face])
    concave = piece.is_arc and (face == "left") == (piece.turn > 0)
    # Beyond the centre the words would stand nearer the other side of the arc.
    farthest = piece.radius_at(offset) / view.ratio * 0.95 if concave else math.inf
    side = 1.0 if face == "left" else -1.0
    for rise in (1.2, 2.6, 4.0, 5.5, 7.5, 10.0):
        away = rise + label.height / 2
        if away > farthest:
            return
        for share in (0.5, 0.42, 0.58, 0.34, 0.66, 0.25, 0.75):
            at, heading = view.at(piece, share, offset), view.heading(piece, share)
            centre = (at[0] + math.sin(heading) * away * side, at[1] - math.cos(heading) * away * side)
            yield Place(centre, upright(math.degrees(heading)))


def name_opening(canvas: Canvas, view: PlanView, laid: OpeningOnCurve, system: System) -> None:
    piece = view.curve.pieces[laid.piece_index]
    label = block(
        (fitted(laid.opening.name, "label-strong", 48.0), "label-strong"), (opening_size(laid, system), "dim-text")
    )
    first, last = view.share_span(piece, laid, "centre")
    share = first + 0.3 * (last - first)
    tip, heading = view.at(piece, share, 0.0), view.heading(piece, share)
    thick = view.curve.offset_mm("left_finished") - view.curve.offset_mm("right_finished")
    places = []
    for rise in (4.0, 6.0, 8.0, 11.0, 14.0, 18.0, 23.0, 28.0):
        away = thick / 2 / view.ratio + rise + label.height / 2
        for side in (-piece.turn or 1, piece.turn or -1):
            for slide in (0.0, 8.0, -8.0, 16.0, -16.0, 26.0, -26.0):
                x = tip[0] + math.sin(heading) * away * side + math.cos(heading) * slide
                y = tip[1] - math.cos(heading) * away * side + math.sin(heading) * slide
                places.append(Place((x, y)))
    canvas.leader(tip, label, places)


def draw_foot(canvas: Canvas, curve: Curve, scale: Scale) -> None:
    left, _, right, low = canvas.bounds
    middle, y = (left + right) / 2, low + 5.0
    lengths = " · ".join(
        f"{face.capitalize()} finished face {format_length(curve.length_mm(line), scale.system)}"
        for face, line in FACE_LINES.items()
    )
    canvas.write(block((f"Overall length: {lengths}", "dim-text")), Place((middle, y)))
    scale_bar(canvas, scale, middle, y + 4.5)
