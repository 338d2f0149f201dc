"""The wall laid on the paper: turned, scaled and flipped, with its lines as true arcs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from catalog.drawings.lettering import Box
from catalog.drawings.svg import Point, arc_to, line_to, move
from jobs.core.measure.curve import Curve, CurvePiece, OpeningOnCurve
from jobs.core.measure.survey import Line

# An SVG arc must stay under half a circle to be drawn without doubt; longer ones are split.
MAX_ARC_RAD = math.pi * 0.9
SAMPLE_RAD = math.radians(6)
Span = tuple[float, float]


@dataclass(frozen=True)
class PlanView:
    """curve: the wall. ratio: mm of wall to 1 mm of paper. turn_rad: how the wall is turned, anticlockwise.

    origin: where the start of the wall's axes lies on the paper.
    """

    curve: Curve
    ratio: float
    turn_rad: float = 0.0
    origin: Point = (0.0, 0.0)

    @cached_property
    def _turned(self) -> tuple[float, float]:
        return math.cos(self.turn_rad) / self.ratio, math.sin(self.turn_rad) / self.ratio

    def on_paper(self, point: Point) -> Point:
        """Paper runs down where the wall's y runs up."""
        c, s = self._turned
        x, y = self.origin
        return (x + point[0] * c - point[1] * s, y - (point[0] * s + point[1] * c))

    def at(self, piece: CurvePiece, share: float, offset_mm: float) -> Point:
        return self.on_paper(piece.point_at(share, offset_mm))

    def heading(self, piece: CurvePiece, share: float) -> float:
        """Direction of walking on the paper, in radians clockwise from its right."""
        return -(piece.heading_rad + (piece.turn * piece.sweep_rad + piece.turned_rad) * share + self.turn_rad)

    def centre_of(self, piece: CurvePiece) -> Point:
        """Centre of an arc on the paper."""
        side = piece.turn * piece.radius_mm
        x, y = piece.start
        return self.on_paper((x - side * math.sin(piece.heading_rad), y + side * math.cos(piece.heading_rad)))

    def run(self, piece: CurvePiece, span: Span, offset_mm: float, onwards: bool = False) -> str:
        """Path of one parallel line over a span of shares; backwards when the span runs down."""
        first, last = span
        steps = [(line_to if onwards else move)(self.at(piece, first, offset_mm))]
        if not piece.is_arc:
            return f"{steps[0]} {line_to(self.at(piece, last, offset_mm))}"
        parts = max(1, math.ceil(piece.sweep_rad * abs(last - first) / MAX_ARC_RAD))
        radius = piece.radius_at(offset_mm) / self.ratio
        clockwise = (piece.turn < 0) == (last > first)
        for part in range(1, parts + 1):
            point = self.at(piece, first + (last - first) * part / parts, offset_mm)
            steps.append(arc_to(radius, clockwise, point))
        return " ".join(steps)

    def sampled(self, piece: CurvePiece, span: Span, offset_mm: float) -> list[Point]:
        first, last = span
        count = max(1, math.ceil(piece.sweep_rad * abs(last - first) / SAMPLE_RAD))
        return [self.at(piece, first + (last - first) * i / count, offset_mm) for i in range(count + 1)]

    def openings_on(self, piece: CurvePiece) -> list[OpeningOnCurve]:
        return [laid for laid in self.curve.openings if laid.piece_index == piece.index]

    def share_span(self, piece: CurvePiece, laid: OpeningOnCurve, line: Line) -> Span:
        """Shares of the piece where an opening begins and ends on one of the five lines."""
        middle = (laid.centre_mm - piece.start_mm) / piece.length_mm
        half = laid.taken_mm[line] / 2 / piece.length_at(self.curve.offset_mm(line))
        return (middle - half, middle + half)

    def solid_spans(self, piece: CurvePiece, line: Line) -> list[Span]:
        """Shares of the piece where the wall stands on that line, openings left out."""
        spans: list[Span] = []
        passed = 0.0
        for first, last in sorted(self.share_span(piece, laid, line) for laid in self.openings_on(piece)):
            if first > passed + 1e-9:
                spans.append((passed, first))
            passed = max(passed, last)
        if passed < 1 - 1e-9:
            spans.append((passed, 1.0))
        return spans

    def body(self) -> list[Box]:
        """The wall as short solid slices, for words to keep clear of."""
        left, right = (self.curve.offset_mm(line) for line in ("left_finished", "right_finished"))
        slices: list[Box] = []
        for piece in self.curve.pieces:
            points = self.sampled(piece, (0.0, 1.0), left)
            other = self.sampled(piece, (0.0, 1.0), right)
            slices += [Box((points[i], points[i + 1], other[i + 1], other[i])) for i in range(len(points) - 1)]
        return slices

    @property
    def reach(self) -> float:
        """The longer side of the wall on the paper."""
        x0, y0, x1, y1 = self.extents()
        return max(x1 - x0, y1 - y0)

    def extents(self) -> tuple[float, float, float, float]:
        """(least x, least y, greatest x, greatest y) of the two finished faces on the paper."""
        points: list[Point] = []
        for piece in self.curve.pieces:
            for line in ("left_finished", "right_finished"):
                points += self.sampled(piece, (0.0, 1.0), self.curve.offset_mm(line))
        xs, ys = [x for x, _ in points], [y for _, y in points]
        return min(xs), min(ys), max(xs), max(ys)


def level_turn(curve: Curve) -> float:
    """The turn that sets the start and the end of the wall level, start to the left; none for a column."""
    if curve.is_closed:
        return 0.0
    (x0, y0), (x1, y1) = curve.pieces[0].start, curve.end
    return -math.atan2(y1 - y0, x1 - x0)


def joined(points: Sequence[Point]) -> str:
    return " ".join([move(points[0]), *(line_to(point) for point in points[1:])])
