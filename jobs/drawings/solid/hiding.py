"""What stands before a place: exact, for every side of a run meets a line of sight at most once."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cached_property

from jobs.core.measure.curve import Point
from jobs.drawings.solid.run import Hole, Run
from jobs.drawings.solid.sides import RISE, Span


@dataclass(frozen=True)
class Gate:
    """A cut across a run: where it ends, where an opening begins. shares: of its left and its right end.

    holes: openings that may take something out of the cut.
    """

    run: Run
    left: Point
    right: Point
    shares: Span
    holes: tuple[Hole, ...]

    def is_met(self, x: float, y: float, z: float) -> bool:
        (x0, y0), (x1, y1) = self.left, self.right
        if not min(x0, x1) < x < max(x0, x1):
            return False
        depth = (x - x0) / (x1 - x0)
        at = y0 + (y1 - y0) * depth
        if at >= y:
            return False
        height, share = z + RISE * (y - at), self.shares[0] + (self.shares[1] - self.shares[0]) * depth
        if not self.run.foot(share) < height < self.run.top(share):
            return False
        return not any(hole.contains(share, depth) and hole.sill < height < hole.head(share) for hole in self.holes)


@dataclass(frozen=True)
class Scene:
    """All that stands: the runs of the wall, and of its cap."""

    runs: tuple[Run, ...]

    @cached_property
    def gates(self) -> tuple[Gate, ...]:
        return tuple(gate for run in self.runs for gate in _gates(run))

    @cached_property
    def _reaches(self) -> tuple[tuple[float, float, Run], ...]:
        """Least and greatest x of each run."""
        parts = []
        for run in self.runs:
            xs = [x for side in run.sides for x in side.reach]
            parts.append((min(xs), max(xs), run))
        return tuple(parts)

    @cached_property
    def edges_x(self) -> tuple[float, ...]:
        """Where along the paper something begins or ends, in order: between two of them the same sides are passed."""
        xs = {round(x, 6) for run in self.runs for side in run.sides for x in side.reach}
        xs |= {round(point[0], 6) for gate in self.gates for point in (gate.left, gate.right)}
        return tuple(sorted(xs))

    def is_hidden(self, x: float, y: float, z: float) -> bool:
        """Whether the line from a place to the eye meets something solid. Along it z rises as y falls."""
        for low, high, run in self._reaches:
            if low < x < high and _is_met(run, x, y, z):
                return True
        return any(gate.is_met(x, y, z) for gate in self.gates)


def _is_met(run: Run, x: float, y: float, z: float) -> bool:
    if run.holds(x, y, z):
        return True
    for side in run.sides:
        at = side.y_at(x)
        if at is not None and at < y:
            height = z + RISE * (y - at)
            if height < run.highest and run.is_solid(side, side.share_at(x), height):
                return True
    return _is_met_from_below(run, x, y, z)


def _is_met_from_below(run: Run, x: float, y: float, z: float) -> bool:
    """Whether the line goes in through the underside of a cap or the head of an opening."""
    if not run.is_on_the_floor:
        share, depth = _place_at(run, x, y, z, run.foot)
        if run.contains(share, depth) and not any(hole.contains(share, depth) for hole in run.holes):
            return True
    for hole in run.holes:
        if z < hole.top < math.inf:
            share, depth = _place_at(run, x, y, z, hole.head)
            if run.contains(share, depth) and hole.contains(share, depth):
                return True
    return False


def _place_at(run: Run, x: float, y: float, z: float, level: Callable[[float], float]) -> tuple[float, float]:
    """Share and depth where the line has risen to a level; outside the run when it begins above it."""
    place = run.place(x, y)
    for _ in range(4):
        height = level(min(max(place[0], run.first), run.last))
        if height <= z:
            return (-1.0, -1.0)
        place = run.place(x, y - (height - z) / RISE)
    return place


def _gates(run: Run) -> Iterable[Gate]:
    yield Gate(run, run.left.start, run.right.start, (run.first, run.first), run.holes)
    yield Gate(run, run.left.end, run.right.end, (run.last, run.last), run.holes)
    for hole in run.holes:
        others = tuple(other for other in run.holes if other is not hole)
        for end in (0, 1):
            if hole.ends[end]:
                shares = hole.left[end], hole.right[end]
                yield Gate(run, run.left.point(shares[0]), run.right.point(shares[1]), shares, others)
