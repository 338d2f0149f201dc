"""The radius of an arc in plan: whole with its centre mark where that is on the drawing, else broken off."""

from __future__ import annotations

import math

from catalog.core.ground.units import System
from catalog.drawings.canvas import Block, Canvas, Place, block, places_around, upright
from catalog.drawings.dimensions import arrow_head
from catalog.drawings.svg import Point
from jobs.core.measure.curve import CurvePiece, resolve_line
from jobs.drawings.plan.plan_names import measured_radius
from jobs.drawings.plan.plan_view import PlanView, joined


def differing_arcs(view: PlanView) -> list[CurvePiece]:
    """Arcs, those about one centre with one radius taken once."""
    pieces: list[CurvePiece] = []
    for piece in view.curve.pieces:
        centre = view.centre_of(piece)
        same = any(
            math.dist(centre, view.centre_of(other)) < 0.5 and abs(piece.radius_mm - other.radius_mm) < 0.1
            for other in pieces
        )
        if piece.is_arc and not same:
            pieces.append(piece)
    return pieces


def draw_radius(canvas: Canvas, view: PlanView, piece: CurvePiece, system: System) -> None:
    curve = view.curve
    offset = curve.offset_mm(resolve_line(curve.measured_on, piece.turn))
    radius = piece.radius_at(offset) / view.ratio
    centre = view.centre_of(piece)
    label = block((measured_radius(curve, piece, system), "dim-text"))
    if radius < label.width + 4 and len(curve.pieces) > 1:
        # No room for its figure, and the table of pieces gives the radii of both faces.
        return
    share = _clear_share(canvas, view, piece, offset, min(radius, label.width + 9.0))
    tip = view.at(piece, share, offset)
    ux, uy = (centre[0] - tip[0]) / radius, (centre[1] - tip[1]) / radius
    # The whole radius with its centre mark when the centre lies on the wall's part of the sheet, else a broken line.
    whole = radius <= view.reach and _on_the_drawing(view, centre)
    shown = radius if whole else min(label.width + 9.0, 0.7 * radius)
    tail = (tip[0] + ux * shown, tip[1] + uy * shown)
    canvas.line(tail, tip, "dim")
    arrow_head(canvas, tip, math.atan2(-uy, -ux), 2.2)
    if whole:
        for dx, dy in ((2.2, 0.0), (0.0, 2.2)):
            canvas.line((centre[0] - dx, centre[1] - dy), (centre[0] + dx, centre[1] + dy), "dim")
    else:
        steps = ((0, 0), (0.8, 1.1), (1.6, -1.1), (2.4, 0), (4.4, 0))
        zig = [(tail[0] + ux * a - uy * b, tail[1] + uy * a + ux * b) for a, b in steps]
        canvas.path(joined(zig), "dim", zig)
    _write_radius(canvas, label, tip, centre, (ux, uy), shown)


def _write_radius(canvas: Canvas, label: Block, tip: Point, centre: Point, along: Point, shown: float) -> None:
    ux, uy = along
    if label.width + 4 > shown:
        canvas.leader(centre, label, places_around(canvas, centre, label.width))
        return
    angle = upright(math.degrees(math.atan2(uy, ux)))
    shares = (0.55, 0.45, 0.65, 0.35, 0.75)
    places = [
        Place((tip[0] + ux * shown * part - uy * side, tip[1] + uy * shown * part + ux * side), angle)
        for side in (label.height / 2 + 0.6, -label.height / 2 - 0.6)
        for part in shares
        if label.width / 2 + 2.4 <= shown * part <= shown - label.width / 2
    ]
    canvas.put(
        label, places or [Place((tip[0] + ux * shown / 2 - uy * 2.2, tip[1] + uy * shown / 2 + ux * 2.2), angle)]
    )


def _clear_share(canvas: Canvas, view: PlanView, piece: CurvePiece, offset: float, length: float) -> float:
    """Where along the arc its radius is drawn: not in an opening, and crossing as little as can be."""
    centre, best, least = view.centre_of(piece), 0.27, 1 << 30
    for share in (0.27, 0.73, 0.2, 0.8, 0.35, 0.65, 0.12, 0.88):
        x, y = view.at(piece, share, offset)
        reach = math.dist((x, y), centre)
        ux, uy = (centre[0] - x) / reach, (centre[1] - y) / reach
        cost = 0 if _stands(view, piece, share) else 150
        cost += 100 * canvas.placer.words_crossed((x, y), (x + ux * length, y + uy * length))
        for part in (0.4, 0.7):
            far = (x + ux * length * part, y + uy * length * part)
            cost += canvas.placer.cost(block(("MM", "dim-text")).box(far))
        if cost < least:
            best, least = share, cost
    return best


def _stands(view: PlanView, piece: CurvePiece, share: float) -> bool:
    reach = 4.0 * view.ratio / piece.length_mm
    spans = [view.share_span(piece, laid, "centre") for laid in view.openings_on(piece)]
    return all(not first - reach < share < last + reach for first, last in spans)


def _on_the_drawing(view: PlanView, point: Point) -> bool:
    x0, y0, x1, y1 = view.extents()
    return x0 - 1 <= point[0] <= x1 + 1 and y0 - 1 <= point[1] <= y1 + 1
