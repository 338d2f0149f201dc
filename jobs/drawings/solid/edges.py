"""The edges of a standing wall, each with the way out of the solid beside it where it can be seen, if at all."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from jobs.core.measure.curve import Point
from jobs.drawings.solid.run import Hole, Run
from jobs.drawings.solid.sides import RISE, Line, Place3, Side, Span, level, without

Weight = Literal["edge", "far"]
# A place is looked at from so far outside the solid, mm.
OUT_MM = 0.05
UP: Place3 = (0.0, 0.0, 1.0)
DOWN: Place3 = (0.0, 0.0, -1.0)


@dataclass(frozen=True)
class Along:
    """An edge that runs along a side of a run over a span of shares, at a height that may change."""

    run: Run
    side: Side
    span: Span
    line: Line
    outs: tuple[Place3, ...]
    weight: Weight

    def at(self, part: float) -> Place3:
        share = self.span[0] + (self.span[1] - self.span[0]) * part
        return (*self.side.point(share), self.line.at(share))

    def part_at(self, x: float) -> float:
        return (self.side.share_at(x) - self.span[0]) / (self.span[1] - self.span[0])

    def out(self, part: float) -> Place3:
        if not self.side.faces:
            return _sum(self.outs)
        nx, ny = self.side.outward(self.span[0] + (self.span[1] - self.span[0]) * part)
        return _sum((*self.outs, (nx, ny, 0.0)))

    @property
    def bends(self) -> bool:
        return self.side.centre is not None


@dataclass(frozen=True)
class Straight:
    """An edge from one place to another, of a run."""

    run: Run
    one: Place3
    other: Place3
    outs: tuple[Place3, ...]
    weight: Weight

    def at(self, part: float) -> Place3:
        a, b = self.one, self.other
        return a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part, a[2] + (b[2] - a[2]) * part

    def part_at(self, x: float) -> float:
        wide = self.other[0] - self.one[0]
        return (x - self.one[0]) / wide if abs(wide) > 1e-6 else -1.0

    def out(self, part: float) -> Place3:
        return _sum(self.outs)

    bends = False


Edge = Along | Straight


def _sum(outs: Sequence[Place3]) -> Place3:
    return tuple(OUT_MM * sum(vector[n] for vector in outs) for n in range(3))  # type: ignore[return-value]


def _faces(normal: Place3) -> bool:
    return -normal[1] + RISE * normal[2] > 1e-9


Lines = Callable[[Run, Side], Sequence[Line]]


def edges_of(runs: Sequence[Run], lines: Lines, *, is_covered: bool = False) -> list[Edge]:
    """Edges at least one side of which faces the eye.

    lines: those drawn along a side, such as a base. is_covered: a cap lies over the whole top.
    """
    edges: list[Edge] = []
    for run in runs:
        edges += _along(run, is_covered)
        edges += _of_holes(run, is_covered)
        edges += _lines(run, lines)
    if runs:
        edges += [*_ends(runs, is_covered), *_between(runs, is_covered)]
    return edges


def _along(run: Run, is_covered: bool) -> Iterable[Edge]:
    for side in run.sides:
        weight: Weight = "edge" if side.faces else "far"
        for span in [] if is_covered else _clear(run, side, lambda hole: hole.is_open):
            yield Along(run, side, span, run.top_line, (UP,), weight)
        if side.faces:
            for span in _clear(run, side, lambda hole: hole.sill <= run.lowest + 1e-6):
                # Under a cap a fine line, or its edges would run together.
                low: Weight = "edge" if run.is_on_the_floor else "far"
                yield Along(run, side, span, run.foot_line, (), low)


def _clear(run: Run, side: Side, cuts: Callable[[Hole], bool]) -> list[Span]:
    """Spans of a side that no opening of the kind takes out."""
    return without((side.first, side.last), [hole.span(side) for hole in run.holes if cuts(hole)])


def _of_holes(run: Run, is_covered: bool) -> Iterable[Edge]:
    for hole in run.holes:
        sill, reaches_top = max(hole.sill, run.lowest), hole.is_open
        cuts_foot = hole.sill <= run.lowest + 1e-6
        for side in run.sides:
            weight: Weight = "edge" if side.faces else "far"
            span = hole.span(side)
            if not reaches_top and side.faces:
                yield Along(run, side, span, hole.head_line(span), (DOWN,), weight)
            if not cuts_foot or (not side.faces and run.is_on_the_floor):
                # The sill, or what of the floor is seen through a door.
                yield Along(run, side, span, level(sill), (UP,), weight)
        yield from _jambs(run, hole, sill, reaches_top, cuts_foot, is_covered)


def _jambs(run: Run, hole: Hole, sill: float, reaches_top: bool, cuts_foot: bool, is_covered: bool) -> Iterable[Edge]:
    for end in (0, 1):
        if not hole.ends[end]:
            continue
        share = (hole.left[end] + hole.right[end]) / 2
        head = run.top(share) if reaches_top else hole.head(share)
        foot = run.foot(share) if cuts_foot else sill
        points = {side: side.point(hole.span(side)[end]) for side in run.sides}
        into = _square_to(points[run.left], points[run.right], 1 if end == 0 else -1)
        for side, point in points.items():
            outs = [into] if _faces(into) else []
            if side.faces:
                outs = [into, (*side.outward(share), 0.0)]
            if outs:
                weight: Weight = "edge" if side.faces else "far"
                yield Straight(run, (*point, foot), (*point, head), tuple(outs), weight)
        here, other = points[run.left], points[run.right]
        if _faces(into) or not cuts_foot:
            yield Straight(run, (*here, foot), (*other, foot), (into, UP), "far")
        if reaches_top and not is_covered:
            yield Straight(run, (*here, head), (*other, head), (into, UP), "far")


def _square_to(left: Point, right: Point, way: int) -> Place3:
    """Square to a cut from the left side to the right one, onwards (1) or back (-1)."""
    x, y = right[0] - left[0], right[1] - left[1]
    long = way * math.hypot(x, y)
    return -y / long, x / long, 0.0


def _along_way(heading: float, way: int) -> Place3:
    return way * math.cos(heading), way * math.sin(heading), 0.0


def _lines(run: Run, lines: Lines) -> Iterable[Edge]:
    for side in run.sides:
        if not side.faces:
            continue
        for line in lines(run, side):
            middle = line.at((side.first + side.last) / 2)
            for span in _clear(run, side, lambda hole, z=middle: hole.sill < z < hole.top):
                yield Along(run, side, span, line, (), "far")


def _ends(runs: Sequence[Run], is_covered: bool) -> Iterable[Edge]:
    """The cross-sections where the wall ends."""
    for run in runs:
        for is_one, end in ((run.is_start, 0), (run.is_end, 1)):
            if is_one:
                away = _along_way(run.left.heading(run.last if end else run.first), 1 if end else -1)
                yield from _cross(run, end, _levels(run, end), away, is_covered)


def _cross(run: Run, end: int, levels: Span, away: Place3, is_covered: bool, is_step: bool = False) -> Iterable[Edge]:
    points = []
    for side in run.sides:
        share = side.last if end else side.first
        point = side.end if end else side.start
        points.append(point)
        outs = [away] if _faces(away) else []
        outs += [(*side.outward(share), 0.0)] if side.faces else []
        if outs:
            yield Straight(run, (*point, levels[0]), (*point, levels[1]), tuple(outs), "edge")
    outs = (away, UP) if _faces(away) else (UP,)
    weight: Weight = "edge" if _faces(away) else "far"
    if not is_covered:
        yield Straight(run, (*points[0], levels[1]), (*points[1], levels[1]), outs, weight)
    if _faces(away) and not (is_step and is_covered):
        low = (away, UP) if is_step else (away,)
        yield Straight(run, (*points[0], levels[0]), (*points[1], levels[0]), low, weight)


def _between(runs: Sequence[Run], is_covered: bool) -> Iterable[Edge]:
    """Where two runs meet: the outline of what turns away from the eye, the edge of a kink, a step in the top."""
    pairs = [*pairwise(runs), (runs[-1], runs[0])] if not runs[0].is_start else list(pairwise(runs))
    for near, other in pairs:
        if near is other:
            pairs_of_one = zip(near.sides, near.sides, strict=True)
        else:
            pairs_of_one = zip(near.sides, other.sides, strict=True)
        (foot, before_top), (next_foot, after_top) = _levels(near, 1), _levels(other, 0)
        levels = foot, min(before_top, after_top)
        for before, after in pairs_of_one:
            kinked = abs(_turn(before, after)) > 1e-6
            if not kinked and before.faces == after.faces:
                continue
            outs = [(*side.outward(at), 0.0) for side, at in ((before, before.last), (after, after.first))]
            seen = [out for out, side in zip(outs, (before, after), strict=True) if side.faces] if kinked else outs[:1]
            if seen:
                nearer = near if before.faces else other
                yield Straight(nearer, (*before.end, levels[0]), (*before.end, levels[1]), tuple(seen), "edge")
        if abs(before_top - after_top) > 1e-3:
            higher, end, way = (near, 1, 1) if before_top > after_top else (other, 0, -1)
            away = _along_way(near.left.heading(near.left.last), way)
            low = max(levels[1], foot if end else next_foot)
            yield from _cross(higher, end, (low, max(before_top, after_top)), away, is_covered, is_step=True)


def _levels(run: Run, end: int) -> Span:
    share = run.last if end else run.first
    return run.foot(share), run.top(share)


def _turn(before: Side, after: Side) -> float:
    return math.remainder(after.heading(after.first) - before.heading(before.last), math.tau)
