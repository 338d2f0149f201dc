"""Where boards may lie on one face: developed lines, courses, runs of board, places for joints.

Everything is measured on the developed line of one layer unless it says `along`, which is the centreline.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

from catalog.core.ground.units import TOLERANCE_MM
from jobs.core.measure.curve import Curve, CurvePiece, Face, OpeningOnCurve

KINK_RAD = math.radians(1.0)
"""OURS: a sheet is hung over a change of heading of less than one degree; at more, boards end there in a mitre."""
END_MM = 1.0
"""OURS: what a mitre adds to a layer or takes from it lies in the last millimetre before its kink: no stud is there."""


def turn_between(before_rad: float, after_rad: float) -> float:
    """Change of heading from one direction to another, rad, between -pi and pi.

    >>> round(turn_between(0.1, 0.1 + 2 * math.pi), 9)
    0.0
    """
    return math.remainder(after_rad - before_rad, 2 * math.pi)


@dataclass(frozen=True)
class LayerLine:
    """The line one layer is developed on.

    curve: the wall. offsets_mm: per piece of the curve, the offset from the centreline (left positive) of the
    layer's longer surface there. gains_mm: per piece, what its line gains at its start and at its end to the mitres of
    kinks, negative where it loses.
    """

    curve: Curve
    offsets_mm: tuple[float, ...]
    gains_mm: tuple[tuple[float, float], ...]

    @cached_property
    def radii_mm(self) -> tuple[float, ...]:
        return tuple(p.radius_at(o) for p, o in zip(self.curve.pieces, self.offsets_mm, strict=True))

    @cached_property
    def knots(self) -> tuple[tuple[float, float], ...]:
        """(place on the centreline, place on this line abreast of it), between which both run evenly, in order."""
        knots = [(0.0, 0.0)]
        for piece, offset, gains in zip(self.curve.pieces, self.offsets_mm, self.gains_mm, strict=True):
            start_mm, bare_mm = knots[-1][1], piece.length_at(offset)
            own = bare_mm / piece.length_mm
            near, far = (0.0 if abs(gain) <= TOLERANCE_MM else END_MM + max(0.0, -gain / own) for gain in gains)
            if near + far >= piece.length_mm:
                gains = (0.0, 0.0)  # too short to be mitred at both ends
            else:
                turns = [near] * (near > 0) + [piece.length_mm - far] * (far > 0)
                knots += [(piece.start_mm + at, start_mm + gains[0] + own * at) for at in turns]
            knots.append((piece.end_mm, start_mm + bare_mm + sum(gains)))
        return tuple(knots)

    @property
    def length_mm(self) -> float:
        return self.knots[-1][1]

    def span_of(self, piece: CurvePiece) -> tuple[float, float]:
        """From and to of a piece of the wall on this line, mm."""
        return self.at(piece.start_mm), self.at(piece.end_mm)

    @cached_property
    def is_loop(self) -> bool:
        """A closed column whose end runs smoothly into its start: boards may pass the start."""
        pieces = self.curve.pieces
        closing = turn_between(pieces[-1].end_heading_rad, pieces[0].heading_rad)
        return self.curve.is_closed and abs(closing) <= KINK_RAD

    def at(self, along_mm: float) -> float:
        """Place on this line abreast of a place on the centreline, mm; on a loop it may lie a turn further.

        >>> from jobs.core.measure.curve import curve_of, _example
        >>> line = line_of_layer(curve_of(_example()), "left", 0.0, 6.35)
        >>> round(line.at(line.curve.centre_length_mm) - line.length_mm, 6)
        0.0
        """
        turns, along_mm = self._turns(along_mm, self.curve.centre_length_mm)
        return turns * self.length_mm + _between(self.knots, along_mm)

    def along(self, at_mm: float) -> float:
        """Place on the centreline abreast of a place on this line, mm; the inverse of `at`."""
        turns, at_mm = self._turns(at_mm, self.length_mm)
        back = [(at, along) for along, at in self.knots]
        return turns * self.curve.centre_length_mm + _between(back, at_mm)

    def _turns(self, place_mm: float, period_mm: float) -> tuple[int, float]:
        turns = 0
        while self.is_loop and place_mm > period_mm + TOLERANCE_MM:
            turns, place_mm = turns + 1, place_mm - period_mm
        return turns, place_mm

    def near(self, one_mm: float, other_mm: float) -> float:
        """Distance between two places of this line, the shorter way round on a loop, mm."""
        apart = abs(one_mm - other_mm)
        if not self.is_loop:
            return apart
        apart %= self.length_mm
        return min(apart, self.length_mm - apart)


def _between(knots: Sequence[tuple[float, float]], place_mm: float) -> float:
    index = min(max(bisect_left(knots, (place_mm,)), 1), len(knots) - 1)
    (a, before), (b, after) = knots[index - 1], knots[index]
    return before + (after - before) * (place_mm - a) / (b - a)


def line_of_layer(curve: Curve, face: Face, beneath_mm: float, thickness_mm: float) -> LayerLine:
    """The developed line of a layer: on each piece of the wall the longer of the layer's two surfaces.

    Args:
        curve: the wall.
        face: left or right, as seen walking.
        beneath_mm: total thickness of the layers between it and the framing, mm, >= 0.
        thickness_mm: of the layer itself, mm, > 0.

    Returns:
        The line: the outer surface where the face is convex, the inner where it is concave, to the mitres of kinks.

    Source: OURS; a piece cut to the longer surface is never short, whichever side it is measured on.

    >>> from jobs.core.measure.curve import curve_of, _example
    >>> line = line_of_layer(curve_of(_example()), "right", 6.35, 6.35)
    >>> round(line.length_mm / 25.4, 3)
    182.626
    """
    side = 1 if face == "left" else -1
    inner = side * (curve.stud_depth_mm / 2 + beneath_mm)
    outer = inner + side * thickness_mm

    def longer(piece: CurvePiece) -> float:
        return max(inner, outer, key=lambda offset: (piece.length_at(offset), abs(offset)))

    gains = [[0.0, 0.0] for _ in curve.pieces]
    for joint in curve.kinks:
        if abs(joint.kink_rad) > KINK_RAD:
            before, after = zip(*(curve.mitred_at(joint, offset) for offset in (inner, outer)), strict=True)
            gains[joint.after_piece][1] = max(before)
            gains[(joint.after_piece + 1) % len(gains)][0] = max(after)
    return LayerLine(curve, tuple(longer(piece) for piece in curve.pieces), tuple((a, b) for a, b in gains))


@dataclass(frozen=True)
class Slope:
    """A stretch of ceiling: developed from and to, height at either end, mm; straight in between."""

    from_mm: float
    to_mm: float
    from_height_mm: float
    to_height_mm: float

    def height(self, at_mm: float) -> float:
        share = (at_mm - self.from_mm) / (self.to_mm - self.from_mm)
        return self.from_height_mm + (self.to_height_mm - self.from_height_mm) * share


@dataclass(frozen=True)
class Hole:
    """An opening as it lies on one layer's line: developed from and to, sill and head above the floor, mm.

    Of an arched opening the boards leave out what is under the spring line; the arch is cut out of them when they
    hang, up to crown_mm, and takes arch_mm2 of their area. On a level head the crown is the head.
    """

    name: str
    from_mm: float
    to_mm: float
    sill_mm: float
    head_mm: float
    crown_mm: float
    arch_mm2: float

    @property
    def area_mm2(self) -> float:
        return (self.to_mm - self.from_mm) * (self.head_mm - self.sill_mm) + self.arch_mm2

    def is_under(self, at_mm: float) -> bool:
        """Whether its arch would be cut through what hangs over it there."""
        return self.crown_mm > self.head_mm and self.from_mm < at_mm < self.to_mm


@dataclass(frozen=True)
class Surface:
    """One layer's surface rolled out flat: its line, ceiling, openings and places where boards must end.

    On a loop everything is laid out twice over, so that a board may pass the start.
    """

    line: LayerLine
    slopes: tuple[Slope, ...]
    holes: tuple[Hole, ...]
    breaks_mm: tuple[float, ...]

    @cached_property
    def _level_mm(self) -> float | None:
        heights = {height for slope in self.slopes for height in (slope.from_height_mm, slope.to_height_mm)}
        return max(heights) if max(heights) - min(heights) <= TOLERANCE_MM else None

    def greatest(self, from_mm: float, to_mm: float) -> float:
        """Greatest height between two places, mm."""
        if self._level_mm is not None:
            return self._level_mm
        best = 0.0
        for slope in self.slopes:
            low, high = max(from_mm, slope.from_mm), min(to_mm, slope.to_mm)
            if high - low > TOLERANCE_MM:
                best = max(best, slope.height(low), slope.height(high))
        return best

    def above(self, height_mm: float) -> list[tuple[float, float]]:
        """The stretches where the ceiling is higher than height_mm, in order, mm."""
        ends: list[tuple[float, float]] = []
        for slope in self.slopes:
            low, high = _above_on(slope, height_mm)
            if high - low <= TOLERANCE_MM:
                continue
            if ends and low - ends[-1][1] <= TOLERANCE_MM:
                ends[-1] = (ends[-1][0], high)
            else:
                ends.append((low, high))
        return ends

    @cached_property
    def net_area_mm2(self) -> float:
        once = self.line.length_mm + TOLERANCE_MM
        gross = sum(
            (s.to_mm - s.from_mm) * (s.from_height_mm + s.to_height_mm) / 2 for s in self.slopes if s.to_mm <= once
        )
        return gross - sum(h.area_mm2 for h in self.holes if h.to_mm <= once)


def _above_on(slope: Slope, height_mm: float) -> tuple[float, float]:
    first, last = slope.from_height_mm - height_mm, slope.to_height_mm - height_mm
    if max(first, last) <= TOLERANCE_MM:
        return slope.from_mm, slope.from_mm
    if min(first, last) >= 0:
        return slope.from_mm, slope.to_mm
    crossing = slope.from_mm + (slope.to_mm - slope.from_mm) * first / (first - last)
    return (slope.from_mm, crossing) if first > 0 else (crossing, slope.to_mm)


def surface_of(line: LayerLine) -> Surface:
    """Roll one layer's surface out flat.

    Args:
        line: the layer's developed line.

    Returns:
        The surface with its ceiling, openings and breaks. A flat-framed opening takes 2 r asin(w / 2r) out of a
        line of radius r, a radial one its share of the arc.

    Source: plane geometry of a flat frame in an arc.

    >>> from jobs.core.measure.curve import curve_of, _example
    >>> surface_of(line_of_layer(curve_of(_example()), "left", 0.0, 6.35)).greatest(0.0, 100.0)
    2743.2
    """
    slopes = tuple(_slopes(line))
    holes = tuple(_hole(line, opening) for opening in line.curve.openings)
    breaks = tuple(line.at(p.start_mm) for p in line.curve.pieces[1:] if abs(p.kink_rad) > KINK_RAD)
    if not line.is_loop:
        return Surface(line, slopes, holes, breaks)
    turn = line.length_mm
    return Surface(
        line,
        slopes + tuple(Slope(s.from_mm + turn, s.to_mm + turn, s.from_height_mm, s.to_height_mm) for s in slopes),
        holes + tuple(replace(h, from_mm=h.from_mm + turn, to_mm=h.to_mm + turn) for h in holes),
        breaks + tuple(at + turn for at in breaks),
    )


def _slopes(line: LayerLine) -> Iterable[Slope]:
    heights, length = line.curve.heights, line.curve.centre_length_mm
    marks = {0.0, length}
    marks |= {along for along, _ in heights.stations if 0 < along < length}
    marks |= {along for along, _ in line.knots}
    ordered = sorted(marks)
    for low, high in pairwise(ordered):
        if high - low > TOLERANCE_MM:
            # Read well inside the stretch and carried to its ends, so that a step counts on its own side.
            third = (high - low) / 3
            first, last = heights.at(low + third), heights.at(high - third)
            yield Slope(line.at(low), line.at(high), 2 * first - last, 2 * last - first)


def _hole(line: LayerLine, laid: OpeningOnCurve) -> Hole:
    piece = line.curve.pieces[laid.piece_index]
    radius = line.radii_mm[laid.piece_index]
    opening = laid.opening
    if not piece.is_arc:
        width = opening.width_mm
    elif opening.frame == "radial":
        width = laid.taken_mm["centre"] / piece.radius_mm * radius
    else:
        width = 2 * radius * math.asin(opening.width_mm / (2 * radius))
    middle = line.at(laid.centre_mm)
    low, high = line.span_of(piece)
    edges = (max(middle - width / 2, low), min(middle + width / 2, high))
    return Hole(opening.name, *edges, opening.sill_mm, opening.spring_mm, opening.head_mm, opening.arch_area_mm2)


def course_lines(
    height_mm: float, pitch_mm: float, first_mm: float, *, from_ceiling: bool = False
) -> tuple[float, ...]:
    """Heights of the lines between which courses lie, floor and ceiling included.

    Args:
        height_mm: greatest height of the wall, mm, > 0.
        pitch_mm: height of a whole course, mm, > 0.
        first_mm: height of the first course, mm, > 0, at most the pitch.
        from_ceiling: the first course hangs from the ceiling instead of standing on the floor.

    Returns:
        The heights in mm, upwards.

    Source: PRACTICE; the first layer starts with half a sheet, so no joint falls on one of the next layer.

    >>> course_lines(2743.2, 1219.2, 609.6)
    (0.0, 609.6, 1828.8, 2743.2)
    >>> course_lines(2743.2, 1219.2, 1219.2, from_ceiling=True)
    (0.0, 304.8, 1524.0, 2743.2)
    """
    lines, reached = [0.0], first_mm
    while reached < height_mm - TOLERANCE_MM:
        lines.append(reached)
        reached = round(reached + pitch_mm, 9)
    lines.append(height_mm)
    return tuple(round(height_mm - line, 9) for line in reversed(lines)) if from_ceiling else tuple(lines)


@dataclass(frozen=True)
class Stretch:
    """An unbroken run of board in one course: from and to, mm; closed: it goes all round a column."""

    from_mm: float
    to_mm: float
    closed: bool = False


def stretches(surface: Surface, foot_mm: float, head_mm: float) -> tuple[Stretch, ...]:
    """The runs of board of one course: what the ceiling, openings as high as the course, and kinks leave of it.

    Args:
        surface: the layer's surface.
        foot_mm, head_mm: of the course above the floor, mm, foot below head.

    Returns:
        Runs in order; on a loop one that passes the start ends beyond the length.

    Source: OURS.

    >>> from jobs.core.measure.curve import curve_of, _example
    >>> surface = surface_of(line_of_layer(curve_of(_example()), "left", 0.0, 6.35))
    >>> len(stretches(surface, 0.0, 1219.2))
    1
    """
    ends = surface.above(foot_mm)
    for hole in surface.holes:
        top = min(head_mm, surface.greatest(hole.from_mm, hole.to_mm))
        if hole.sill_mm <= foot_mm + TOLERANCE_MM and hole.head_mm >= top - TOLERANCE_MM:
            ends = [part for end in ends for part in _without(end, hole.from_mm, hole.to_mm)]
    for at in surface.breaks_mm:
        ends = [part for end in ends for part in _without(end, at, at)]
    if not surface.line.is_loop:
        return tuple(Stretch(low, high) for low, high in ends)
    turn = surface.line.length_mm
    if len(ends) == 1 and ends[0][1] - ends[0][0] > 2 * turn - 1.0:
        return (Stretch(0.0, turn, closed=True),)
    # Laid out twice over, each run is whole at least once; those that start in the first turn are it.
    whole = [(low, high) for low, high in ends if low > TOLERANCE_MM or not _carried_on(ends, turn)]
    return tuple(Stretch(low, high) for low, high in whole if low < turn - TOLERANCE_MM)


def _carried_on(ends: list[tuple[float, float]], turn_mm: float) -> bool:
    """Whether a run of the first turn passes the start, so that the part found at the start is its tail."""
    return any(low < turn_mm - TOLERANCE_MM and high > turn_mm + TOLERANCE_MM for low, high in ends)


def _without(end: tuple[float, float], low: float, high: float) -> list[tuple[float, float]]:
    if high <= end[0] + TOLERANCE_MM or low >= end[1] - TOLERANCE_MM:
        return [end]
    return [(a, b) for a, b in ((end[0], low), (high, end[1])) if b - a > TOLERANCE_MM]


def piece_box(surface: Surface, from_mm: float, to_mm: float, foot_mm: float, head_mm: float) -> tuple[float, float]:
    """Foot and head of the board that covers a span of a course: up to the greatest height, clear of openings.

    Args:
        surface: the layer's surface. from_mm, to_mm: the span. foot_mm, head_mm: of the course. All mm.

    Returns:
        (foot, head), mm. An opening as wide as the span or wider takes its part off the foot or the head; a
        narrower one is notched out.

    Source: OURS.

    >>> from jobs.core.measure.curve import curve_of, _example
    >>> surface = surface_of(line_of_layer(curve_of(_example()), "left", 0.0, 6.35))
    >>> piece_box(surface, 0.0, 1000.0, 2438.4, 3657.6)
    (2438.4, 2743.2)
    """
    foot, head = foot_mm, min(head_mm, surface.greatest(from_mm, to_mm))
    spanning = sorted(
        (h for h in surface.holes if h.from_mm <= from_mm + TOLERANCE_MM and h.to_mm >= to_mm - TOLERANCE_MM),
        key=lambda hole: hole.sill_mm,
    )
    for hole in spanning:
        if hole.sill_mm <= foot + TOLERANCE_MM:
            foot = max(foot, hole.head_mm)
    for hole in reversed(spanning):
        if hole.head_mm >= head - TOLERANCE_MM:
            head = min(head, hole.sill_mm)
    return foot, head


def near_an_opening(surface: Surface, at_mm: float, foot_mm: float, head_mm: float, clear_mm: float) -> bool:
    """Whether a joint would stand too near the edge of an opening that its course meets or touches, mm.

    >>> from jobs.core.measure.curve import curve_of, _example
    >>> surface = surface_of(line_of_layer(curve_of(_example()), "left", 0.0, 6.35))
    >>> near_an_opening(surface, 500.0, 0.0, 1219.2, 152.4)
    False
    """
    for hole in surface.holes:
        if hole.sill_mm <= head_mm + TOLERANCE_MM and hole.crown_mm >= foot_mm - TOLERANCE_MM:
            if hole.is_under(at_mm):
                return True
            for edge in (hole.from_mm, hole.to_mm):
                if surface.line.near(at_mm, edge) < clear_mm - TOLERANCE_MM:
                    return True
    return False


def board_height_at(surface: Surface, at_mm: float, foot_mm: float, head_mm: float) -> float:
    """Height of board, openings left out, on an upright line of a course: the length of a joint there, mm.

    >>> from jobs.core.measure.curve import curve_of, _example
    >>> surface = surface_of(line_of_layer(curve_of(_example()), "left", 0.0, 6.35))
    >>> board_height_at(surface, 500.0, 2438.4, 3657.6)
    304.8
    """
    near = [
        s.height(min(max(at_mm, s.from_mm), s.to_mm))
        for s in surface.slopes
        if s.from_mm - TOLERANCE_MM <= at_mm <= s.to_mm + TOLERANCE_MM
    ]
    top = min(head_mm, max(near, default=0.0))
    cut = sum(
        max(0.0, min(top, h.head_mm) - max(foot_mm, h.sill_mm)) for h in surface.holes if h.from_mm < at_mm < h.to_mm
    )
    return round(max(0.0, top - foot_mm - cut), 9)


def level_stretches(surface: Surface, height_mm: float) -> list[tuple[float, float]]:
    """Where a horizontal joint at height_mm runs: board above and below it, once round on a loop, mm.

    >>> from jobs.core.measure.curve import curve_of, _example
    >>> surface = surface_of(line_of_layer(curve_of(_example()), "left", 0.0, 6.35))
    >>> len(level_stretches(surface, 1219.2)), level_stretches(surface, 2743.2)
    (1, [])
    """
    ends = [(low, min(high, surface.line.length_mm)) for low, high in surface.above(height_mm)]
    for hole in surface.holes:
        if hole.sill_mm <= height_mm + TOLERANCE_MM and hole.head_mm >= height_mm - TOLERANCE_MM:
            ends = [part for end in ends for part in _without(end, hole.from_mm, hole.to_mm)]
    return [(low, high) for low, high in ends if high - low > TOLERANCE_MM]


def stud_places(along_mm: Sequence[float], length_mm: float, *, loop: bool) -> tuple[float, ...]:
    """Stud positions in walking order, each once; on a loop the end is the start.

    >>> stud_places([400.0, 0.0, 400.0, 800.0], 800.0, loop=True)
    (0.0, 400.0)
    """
    places: list[float] = []
    for along in sorted(along_mm):
        if not places or along - places[-1] > TOLERANCE_MM:
            places.append(along)
    # A millimetre, as for the closing of the wall itself.
    while loop and len(places) > 1 and places[-1] > length_mm - 1.0 + places[0]:
        places.pop()
    return tuple(places)
