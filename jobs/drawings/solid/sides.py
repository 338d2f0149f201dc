"""The eye, and one side of a stretch of wall in plan as the eye meets it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cached_property

from jobs.core.measure.curve import Point

Span = tuple[float, float]
Place3 = tuple[float, float, float]
# How much higher on the paper a thing stands for each mm it lies farther back.
RISE = 0.5


@dataclass(frozen=True)
class Eye:
    """How the wall is turned in plan, anticlockwise, before it is looked at along y."""

    turn_rad: float

    @cached_property
    def _turned(self) -> tuple[float, float]:
        return math.cos(self.turn_rad), math.sin(self.turn_rad)

    def plan(self, point: Point) -> Point:
        c, s = self._turned
        return point[0] * c - point[1] * s, point[0] * s + point[1] * c


@dataclass(frozen=True)
class Line:
    """A height along a run by share; cuts: shares at which it bends."""

    at: Callable[[float], float]
    is_level: bool = True
    cuts: tuple[float, ...] = ()


def level(height: float) -> Line:
    return Line(lambda share: height)


@dataclass(frozen=True)
class Side:
    """One side of a run in plan, from share `first` to `last` of its piece.

    normal: +1 where its outward normal is left of walking, -1 right. faces: towards the eye. centre: of its arc, None
    on a straight. Along a run x only grows or only falls, so that it meets a line of sight once.
    """

    first: float
    last: float
    start: Point
    end: Point
    faces: bool
    normal: int
    heading_rad: float
    turned_rad: float
    centre: Point | None = None
    radius: float = 0.0

    def heading(self, share: float) -> float:
        if self.centre is None:
            return self.heading_rad
        return self.heading_rad + self.turned_rad * (share - self.first) / (self.last - self.first)

    def point(self, share: float) -> Point:
        if self.centre is None:
            part = (share - self.first) / (self.last - self.first)
            return (
                self.start[0] + (self.end[0] - self.start[0]) * part,
                self.start[1] + (self.end[1] - self.start[1]) * part,
            )
        # From the centre out to the right of walking when it turns left, else to the left.
        heading, out = self.heading(share), math.copysign(self.radius, self.turned_rad)
        return self.centre[0] + out * math.sin(heading), self.centre[1] - out * math.cos(heading)

    def outward(self, share: float) -> Point:
        heading = self.heading(share)
        return -math.sin(heading) * self.normal, math.cos(heading) * self.normal

    @cached_property
    def reach(self) -> Span:
        return min(self.start[0], self.end[0]), max(self.start[0], self.end[0])

    @cached_property
    def _middle_is_far(self) -> float:
        """Whether its arc lies beyond its centre (1) or before it (-1)."""
        middle = self.point((self.first + self.last) / 2)
        return 1.0 if self.centre is not None and middle[1] > self.centre[1] else -1.0

    def y_at(self, x: float) -> float | None:
        """Where it meets the line of sight at x; None where it does not reach."""
        low, high = self.reach
        if not low < x < high:
            return None
        if self.centre is None:
            part = (x - self.start[0]) / (self.end[0] - self.start[0])
            return self.start[1] + (self.end[1] - self.start[1]) * part
        dx = x - self.centre[0]
        return self.centre[1] + self._middle_is_far * math.sqrt(max(0.0, self.radius**2 - dx * dx))

    def share_at(self, x: float) -> float:
        if self.centre is None:
            part = (x - self.start[0]) / (self.end[0] - self.start[0])
        else:
            y = self.y_at(x)
            y = self.centre[1] if y is None else y
            out = math.copysign(1.0, self.turned_rad)
            heading = math.atan2(out * (x - self.centre[0]), -out * (y - self.centre[1]))
            part = math.remainder(heading - self.heading_rad, math.tau) / self.turned_rad
        return self.first + (self.last - self.first) * min(1.0, max(0.0, part))


def without(span: Span, cuts: Iterable[Span]) -> list[Span]:
    """What is left of a span.

    >>> without((0.0, 1.0), [(0.5, 0.6), (-1.0, 0.2)])
    [(0.2, 0.5), (0.6, 1.0)]
    """
    left, (passed, end) = [], span
    for first, last in sorted(cuts):
        if min(first, end) > passed + 1e-9:
            left.append((passed, min(first, end)))
        passed = max(passed, last)
    return [*left, (passed, end)] if passed < end - 1e-9 else left
