"""A run: a stretch of wall, or of its cap, that faces the eye with one side throughout, and the openings in it."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

from jobs.drawings.solid.sides import Line, Side, Span, level

Profile = tuple[Span, ...]
"""Heights at shares of a piece, even in between."""


@dataclass(frozen=True)
class Hole:
    """An opening as far as it lies in a run: its shares on the left and right side, its sill and its head.

    top: the highest of it; without end, as its head is, where it reaches the top of the wall. ends: whether its edge
    at either end of the shares is one of its own, and no cut of the run.
    """

    left: Span
    right: Span
    sill: float
    top: float
    head: Callable[[float], float]
    ends: tuple[bool, bool]

    @property
    def is_open(self) -> bool:
        """It reaches the top of the wall."""
        return self.top == math.inf

    def head_line(self, span: Span) -> Line:
        """The head between two shares; an arch in twelve chords."""
        first, last = span
        if abs(self.head((first + last) / 2) - self.head(first)) < 1e-6:
            return level(self.head((first + last) / 2))
        cuts = tuple(first + (last - first) * n / 12 for n in range(1, 12))
        return Line(lambda share: self.head(min(max(share, first), last)), False, cuts)

    def span(self, side: Side) -> Span:
        return self.left if side.normal > 0 else self.right

    def holds(self, side: Side, share: float, height: float) -> bool:
        first, last = self.span(side)
        return first < share < last and self.sill < height < self.head(share)

    def contains(self, share: float, depth: float) -> bool:
        """depth: from the left side (0) to the right one (1)."""
        first, last = (a + (b - a) * depth for a, b in zip(self.left, self.right, strict=True))
        # A cut of the run through an opening has the opening on both its sides.
        return first - (0.0 if self.ends[0] else 1e-6) < share < last + (0.0 if self.ends[1] else 1e-6)


@dataclass(frozen=True)
class Run:
    """is_start, is_end: of the wall itself."""

    first: float
    last: float
    feet: Profile
    tops: Profile
    left: Side
    right: Side
    holes: tuple[Hole, ...] = ()
    is_start: bool = False
    is_end: bool = False

    def foot(self, share: float) -> float:
        return _height(self.feet, share)

    def top(self, share: float) -> float:
        return _height(self.tops, share)

    @cached_property
    def foot_line(self) -> Line:
        return Line(self.foot, len(self.feet) == 1, tuple(share for share, _ in self.feet))

    @cached_property
    def top_line(self) -> Line:
        return Line(self.top, self.is_level, tuple(share for share, _ in self.tops))

    @cached_property
    def lowest(self) -> float:
        return min(height for _, height in self.feet)

    @cached_property
    def highest(self) -> float:
        return max(height for _, height in self.tops)

    @cached_property
    def is_level(self) -> bool:
        return len({height for _, height in self.tops}) == 1

    @cached_property
    def is_on_the_floor(self) -> bool:
        return self.lowest == 0.0 and len(self.feet) == 1

    @property
    def sides(self) -> tuple[Side, Side]:
        return self.left, self.right

    @cached_property
    def front(self) -> Side | None:
        """The side that faces the eye; None where it is seen along."""
        return next((side for side in self.sides if side.faces), None)

    def other(self, side: Side) -> Side:
        return self.right if side is self.left else self.left

    def holds(self, x: float, y: float, z: float) -> bool:
        """Whether a place lies within what is solid of the run."""
        if not self.lowest < z < self.highest:
            return False
        share, depth = self.place(x, y)
        if not (self.contains(share, depth) and self.foot(share) < z < self.top(share)):
            return False
        return not any(hole.contains(share, depth) and hole.sill < z < hole.head(share) for hole in self.holes)

    def contains(self, share: float, depth: float) -> bool:
        return 0.0 < depth < 1.0 and self.first < share < self.last

    def place(self, x: float, y: float) -> tuple[float, float]:
        """Share along the run, and how deep from its left side (0) to its right one (1); outside, beyond those."""
        left, right = self.left, self.right
        if left.centre is not None:
            dx, dy = x - left.centre[0], y - left.centre[1]
            depth = (math.hypot(dx, dy) - left.radius) / (right.radius - left.radius)
            out = math.copysign(1.0, left.turned_rad)
            part = math.remainder(math.atan2(out * dx, -out * dy) - left.heading_rad, math.tau) / left.turned_rad
            return left.first + (left.last - left.first) * part, depth
        c, s = math.cos(left.heading_rad), math.sin(left.heading_rad)
        dx, dy = x - left.start[0], y - left.start[1]
        thick = (left.start[0] - right.start[0]) * -s + (left.start[1] - right.start[1]) * c
        long = math.hypot(left.end[0] - left.start[0], left.end[1] - left.start[1])
        return left.first + (left.last - left.first) * (dx * c + dy * s) / long, (dx * s - dy * c) / thick

    def is_solid(self, side: Side, share: float, height: float) -> bool:
        if not self.foot(share) < height < self.top(share):
            return False
        return not any(hole.holds(side, share, height) for hole in self.holes)


def _height(profile: Profile, share: float) -> float:
    before = profile[0]
    for after in profile:
        if share < after[0]:
            if after is before:
                return after[1]
            return before[1] + (after[1] - before[1]) * (share - before[0]) / (after[0] - before[0])
        before = after
    return before[1]
