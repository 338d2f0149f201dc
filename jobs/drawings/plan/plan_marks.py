"""What of a wall needs a decision, in red pencil at its piece: the face drawn over, a number, the figures beside it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from catalog.drawings.canvas import Canvas, Place, block
from catalog.drawings.svg import Point
from jobs.core.measure.curve import CurvePiece, Face
from jobs.drawings.plan.plan_names import FACE_LINES
from jobs.drawings.plan.plan_view import PlanView

RING_MM = 2.6


@dataclass(frozen=True)
class PlanMark:
    """number: as it is called on the page. piece: by index. face: None for what is within the wall, such as its track.

    words: a line or two of figures; the first is what is there.
    """

    number: int
    piece: int
    face: Face | None = None
    words: tuple[str, ...] = ()


def draw_mark(canvas: Canvas, view: PlanView, mark: PlanMark, with_words: bool = True) -> None:
    piece = view.curve.pieces[mark.piece]
    line = FACE_LINES[mark.face] if mark.face else "centre"
    offset = view.curve.offset_mm(line)
    for span in view.solid_spans(piece, line):
        canvas.path(view.run(piece, span, offset), "red", view.sampled(piece, span, offset))
    number = block((str(mark.number), "red-text"))
    tip, centre = _free(canvas, view, piece, offset, -1.0 if mark.face == "right" else 1.0)
    canvas.circle(centre, RING_MM, "red")
    canvas.write(number, Place(centre))
    away = math.dist(tip, centre) or 1.0
    edge = tuple(c + (t - c) * RING_MM / away for c, t in zip(centre, tip, strict=True))
    canvas.line((edge[0], edge[1]), tip, "red")
    if with_words and mark.words:
        figures = block(*zip(mark.words, ("red-text", "red-small"), strict=False))
        reach = RING_MM + 1.5 + figures.width / 2
        beside = [(side * reach, 0.0) for side in (-1, 1)] + [
            (0.0, side * (RING_MM + figures.height)) for side in (1, -1)
        ]
        canvas.put(figures, [Place((centre[0] + dx, centre[1] + dy)) for dx, dy in beside])


def _free(canvas: Canvas, view: PlanView, piece: CurvePiece, offset: float, side: float) -> tuple[Point, Point]:
    """Where the number points, and where it stands: beside the face, clear of the wall and of words."""
    ring = block(("00", "label-strong"))
    best, least = None, math.inf
    for tip, centre in _places(view, piece, offset, side):
        cost = canvas.placer.cost(ring.box(centre, room=1.2))
        if cost < least:
            best, least = (tip, centre), cost
        if cost == 0:
            break
    assert best is not None
    return best


def _places(view: PlanView, piece: CurvePiece, offset: float, side: float) -> Iterator[tuple[Point, Point]]:
    for away in (7.0, 9.5, 12.0, 5.0):
        for share in (0.72, 0.28, 0.6, 0.4, 0.85, 0.15, 0.5):
            tip, heading = view.at(piece, share, offset), view.heading(piece, share)
            yield tip, (tip[0] + math.sin(heading) * away * side, tip[1] - math.cos(heading) * away * side)
