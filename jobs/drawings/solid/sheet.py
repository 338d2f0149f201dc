"""A standing wall laid on the paper: lines along its runs as true ellipses, its faces with a little shade."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from catalog.drawings.svg import Point, line_to, move, number
from jobs.drawings.solid.edges import Along, Edge
from jobs.drawings.solid.run import Run
from jobs.drawings.solid.sides import RISE, Line, Place3, Side, Span, level, without

# Less off its place than this nobody sees, mm of paper.
SEEN_MM = 0.06
# The most of an arc that one cubic stands for.
MAX_RAD = math.radians(46)
# Of ink, where a face looks to the right; the light comes from the left.
DARKEST = 0.1


@dataclass(frozen=True)
class Sheet:
    """ratio: mm of wall to 1 mm of paper. Places are on hundredths of a mm, a fifth of the finest line and less."""

    ratio: float

    def at(self, place: Place3) -> Point:
        x, y, z = place
        return round(x / self.ratio, 2), round(-(z + RISE * y) / self.ratio, 2)

    def along(self, side: Side, span: Span, line: Line) -> str:
        """The steps after the first point of a line along a side; backwards when the span runs down."""
        first, last = span
        if line.is_level:
            end = self.at((*side.point(last), line.at(last)))
            if side.centre is None:
                return line_to(end)
            radius = side.radius / self.ratio
            clockwise = int((side.turned_rad < 0) == (last > first))
            return f"A {number(radius)} {number(radius * RISE)} 0 0 {clockwise} {number(end[0])} {number(end[1])}"
        inside = self._bending(line, sorted(share for share in line.cuts if min(span) < share < max(span)), span)
        turned = abs(side.turned_rad / (side.last - side.first))
        steps = []
        for start, other in pairwise((first, *(inside if first < last else inside[::-1]), last)):
            count = max(1, math.ceil(turned * abs(other - start) / MAX_RAD)) if side.centre else 1
            shares = [start + (other - start) * n / count for n in range(count + 1)]
            steps += [self._bent(side, pair, line.at) for pair in pairwise(shares)]
        return " ".join(steps)

    def _bending(self, line: Line, cuts: list[float], span: Span) -> list[float]:
        """The cuts at which the height bends by what can be seen."""
        parts, before = [], min(span)
        for share, after in pairwise((*cuts, max(span))):
            part = (share - before) / (after - before)
            even = line.at(before) + (line.at(after) - line.at(before)) * part
            if abs(line.at(share) - even) / self.ratio > SEEN_MM:
                parts.append(share)
                before = share
        return parts

    def _bent(self, side: Side, span: Span, height: Callable[[float], float]) -> str:
        """A rising stretch along an arc as one cubic, as an arc of a circle is drawn by one; else a straight."""
        first, last = span
        end = self.at((*side.point(last), height(last)))
        if side.centre is None:
            return line_to(end)
        angle = side.turned_rad * (last - first) / (side.last - side.first)
        reach = 4 / 3 * math.tan(abs(angle) / 4) * side.radius
        way = 1.0 if last > first else -1.0
        rise = (height(last) - height(first)) * reach / (side.radius * abs(angle))
        controls = []
        for share, onwards in ((first, 1.0), (last, -1.0)):
            (x, y), heading = side.point(share), side.heading(share)
            ahead = reach * way * onwards
            place = x + ahead * math.cos(heading), y + ahead * math.sin(heading), height(share) + rise * onwards
            controls.append(self.at(place))
        return "C " + " ".join(f"{number(x)} {number(y)}" for x, y in (*controls, end))

    def edge(self, edge: Edge, part: Span) -> str:
        start = move(self.at(edge.at(part[0])))
        if not isinstance(edge, Along):
            return f"{start} {line_to(self.at(edge.at(part[1])))}"
        first, last = (edge.span[0] + (edge.span[1] - edge.span[0]) * share for share in part)
        return f"{start} {self.along(edge.side, (first, last), edge.line)}"

    def band(self, run: Run, side: Side, span: Span) -> str:
        """The outline of a side over a span of shares, with the openings in it as holes."""
        paths = []
        for first, last in without(span, [hole.span(side) for hole in run.holes if hole.is_open]):
            paths.append(self._closed(side, (first, last), run.foot_line, run.top_line))
        for hole in run.holes:
            first, last = hole.span(side)
            within = max(first, span[0]), min(last, span[1])
            if not hole.is_open and within[1] - within[0] > 1e-9:
                head = hole.head_line((first, last))
                paths.append(self._closed(side, within, level(max(hole.sill, run.lowest)), head))
        return " ".join(paths)

    def _closed(self, side: Side, span: Span, foot: Line, top: Line) -> str:
        first, last = span
        start, corner = ((*side.point(share), line.at(share)) for share, line in ((first, foot), (last, top)))
        there, back = self.along(side, (first, last), foot), self.along(side, (last, first), top)
        return f"{move(self.at(start))} {there} {line_to(self.at(corner))} {back} Z"

    def top(self, run: Run, left: Span, right: Span) -> str:
        """The top of a run between two places on each side."""
        start, corner = (*run.left.point(left[0]), run.top(left[0])), (*run.right.point(right[1]), run.top(right[1]))
        there, back = self.along(run.left, left, run.top_line), self.along(run.right, right[::-1], run.top_line)
        return f"{move(self.at(start))} {there} {line_to(self.at(corner))} {back} Z"

    def quad(self, places: Sequence[Place3]) -> str:
        points = [self.at(place) for place in places]
        return " ".join([move(points[0]), *(line_to(point) for point in points[1:]), "Z"])


def shaded(side: Side, levels: int) -> Iterable[Span]:
    """Spans of a side one upon another, each a shade darker: wherever it looks more to the right than a level."""
    for number_of in range(1, levels + 1):
        limit = 2 * number_of / (levels + 1) - 1
        span = _turned_past(side, limit)
        if span is not None:
            yield span


def _turned_past(side: Side, limit: float) -> Span | None:
    """Where the outward normal looks to the right by more than a limit, from -1 to 1."""
    first, last = side.outward(side.first)[0], side.outward(side.last)[0]
    if min(first, last) >= limit:
        return side.first, side.last
    if max(first, last) <= limit:
        return None
    # The heading whose normal is just there, on the half that faces the eye.
    heading = math.asin(-limit * side.normal)
    if math.cos(heading) * side.normal > 0:
        heading = math.pi - heading
    part = math.remainder(heading - side.heading_rad, math.tau) / side.turned_rad
    share = side.first + (side.last - side.first) * min(1.0, max(0.0, part))
    return (side.first, share) if first > limit else (share, side.last)
