"""The wall in plan for a phone with one dimension in red: what the tape is held to now."""

from __future__ import annotations

import re
from collections.abc import Sequence

from catalog.drawings.canvas import Canvas, Place, block
from catalog.drawings.lettering import PHONE_MM
from catalog.drawings.svg import Picture, Point, line_to, move
from jobs.core.measure.curve import Curve, CurvePiece, resolve_line
from jobs.drawings.plan.plan_view import PlanView, level_turn
from jobs.drawings.plan.plan_wall import draw_wall

PLACE = re.compile(r"(pieces|openings)\[(\d+)\]\.(\w+)")
ASIDE_MM, ABOVE_MM, MAX_MM = 6.0, 16.0, 60.0


def asked_svg(curve: Curve, place: str, *, words: str, title: str) -> Picture:
    """place: of the dimension in the wall's document, such as "pieces[0].rise"; what is not a length in plan, such as a
    height, is marked across the wall's start. words: its name beside it. No wall is refused."""
    turn = level_turn(curve)
    x0, y0, x1, y1 = PlanView(curve, 1.0, turn).extents()
    ratio = max((x1 - x0) / (PHONE_MM - 2 * ASIDE_MM), (y1 - y0) / (MAX_MM - ABOVE_MM), 0.1)
    middle = (x0 + x1) / 2 / ratio
    canvas = Canvas(sides=(middle - PHONE_MM / 2 + 0.6, middle + PHONE_MM / 2 - 0.6))
    view = PlanView(curve, ratio, turn)
    draw_wall(canvas, view, None, {})
    points = asked_points(view, place)
    canvas.path(" ".join([move(points[0]), *map(line_to, points[1:])]), "red", along=points)
    x, y = points[len(points) // 2]
    places = [Place((x + dx, y + dy)) for dy in (-4.0, 4.0, -8.0, 8.0, -12.0) for dx in (0.0, 12.0, -12.0, 24.0, -24.0)]
    canvas.put(block((words, "red-text")), places)
    canvas.reach((side, canvas.bounds[1]) for side in canvas.sides or ())
    picture = canvas.finished(title=title, desc=f"In plan, {words} in red.", scale=None, width_mm=PHONE_MM)
    return Picture(picture.svg, "", picture.width_mm, picture.height_mm, ratio)


def asked_points(view: PlanView, place: str) -> Sequence[Point]:
    """Where the dimension is taken, on the paper."""
    match, curve = PLACE.match(place), view.curve
    if match is None:
        return _across_the_start(view)
    kind, number, leaf = match[1], int(match[2]), match[3]
    if kind == "openings":
        if number >= len(curve.openings):
            return _across_the_start(view)
        laid = curve.openings[number]
        piece = curve.pieces[laid.piece_index]
        return view.sampled(piece, view.share_span(piece, laid, "centre"), 0.0)
    if number >= len(curve.pieces):
        return _across_the_start(view)
    return _of_piece(view, curve.pieces[number], leaf)


def _of_piece(view: PlanView, piece: CurvePiece, leaf: str) -> Sequence[Point]:
    offset = view.curve.offset_mm(resolve_line(view.curve.measured_on, piece.turn))
    first, last = (view.at(piece, share, offset) for share in (0.0, 1.0))
    if leaf == "chord":
        return (first, ((first[0] + last[0]) / 2, (first[1] + last[1]) / 2), last)
    if leaf == "rise":
        return (((first[0] + last[0]) / 2, (first[1] + last[1]) / 2), view.at(piece, 0.5, offset))
    return view.sampled(piece, (0.0, 1.0), offset)


def _across_the_start(view: PlanView) -> Sequence[Point]:
    piece, curve = view.curve.pieces[0], view.curve
    return tuple(view.at(piece, 0.0, curve.offset_mm(line)) for line in ("left_finished", "centre", "right_finished"))
