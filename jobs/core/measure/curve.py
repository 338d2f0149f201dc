"""The curve a survey describes: five parallel lines, their radii, lengths, points and headings.

Everything hangs on the centreline, a chain of pieces of one curvature each. From left to right the five
lines are: left finished face, left framing face, centreline, right framing face, right finished face.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from typing import Annotated, Literal

from catalog.core.ground.declared import Numbered, View
from catalog.core.ground.units import TOLERANCE_MM, format_both
from jobs.core.measure.survey import (
    LINES,
    ArcPiece,
    ChordRise,
    HeightProfile,
    Line,
    MeasuredOn,
    Opening,
    StraightPiece,
    Survey,
    SurveyError,
    TemplatePiece,
)

Point = tuple[float, float]
Face = Literal["left", "right"]
FACES: tuple[Face, ...] = ("left", "right")


@dataclass(frozen=True)
class CurvePiece:
    """One piece of the centreline.

    turn: +1 left, -1 right, 0 straight. radius_mm: centreline radius, 0 for a straight. sweep_rad: >= 0.
    length_mm: along the centreline. start_mm: distance of its start along the centreline.
    start, heading_rad: where it starts and the direction of walking there (counter-clockwise from +x).
    kink_rad: change of heading before it, left positive. chord_mm: between the ends of a piece built to a template
    only, whose shape is not known: its points are those of its chord; None on arcs and straights. turned_rad: change
    of heading over such a piece, left positive; 0 on the others.
    """

    index: int
    turn: int
    radius_mm: float
    sweep_rad: float
    length_mm: float
    start_mm: float
    start: Point
    heading_rad: float
    kink_rad: float
    chord_mm: float | None = None
    turned_rad: float = 0.0

    @property
    def is_template(self) -> bool:
        """Built to a held template: neither arc nor straight, no radius known."""
        return self.chord_mm is not None

    @property
    def is_arc(self) -> bool:
        return self.turn != 0

    @property
    def hand(self) -> int:
        """The side it turns to, on the whole: +1 left, -1 right, 0 straight ahead."""
        return self.turn or (self.turned_rad > 0) - (self.turned_rad < 0)

    @property
    def end_mm(self) -> float:
        return self.start_mm + self.length_mm

    @property
    def end_heading_rad(self) -> float:
        return self.heading_rad + self.turn * self.sweep_rad + self.turned_rad

    def radius_at(self, offset_mm: float) -> float:
        """Radius of the parallel line offset to the left (mm, left positive); 0 for a straight piece.

        >>> CurvePiece(0, 1, 100.0, 1.0, 100.0, 0.0, (0.0, 0.0), 0.0, 0.0).radius_at(10.0)
        90.0
        """
        return self.radius_mm - self.turn * offset_mm if self.is_arc else 0.0

    def length_at(self, offset_mm: float) -> float:
        """Length of the parallel line at that offset: radius x sweep on an arc, the same on a straight.

        To a template it is the length less offset x turning, which holds for parallels of any smooth curve (Steiner).
        """
        if self.is_arc:
            return self.radius_at(offset_mm) * self.sweep_rad
        return self.length_mm - self.turned_rad * offset_mm if self.turned_rad else self.length_mm

    def point_at(self, share: float, offset_mm: float = 0.0) -> Point:
        """The point at `share` (0 to 1) of the piece on the line at that offset, in mm."""
        heading = self.heading_rad + self.turn * self.sweep_rad * share
        if self.is_arc:
            # From the centre of the circle, which lies on the concave side, out to the line.
            cx = self.start[0] - self.turn * self.radius_mm * math.sin(self.heading_rad)
            cy = self.start[1] + self.turn * self.radius_mm * math.cos(self.heading_rad)
            radius = self.turn * self.radius_at(offset_mm)
            return (cx + radius * math.sin(heading), cy - radius * math.cos(heading))
        if self.chord_mm is not None:
            return self._on_chord(self.chord_mm, share, offset_mm)
        x = self.start[0] + self.length_mm * share * math.cos(heading) - offset_mm * math.sin(heading)
        y = self.start[1] + self.length_mm * share * math.sin(heading) + offset_mm * math.cos(heading)
        return (x, y)

    def _on_chord(self, chord_mm: float, share: float, offset_mm: float) -> Point:
        along, across = self.heading_rad + self.turned_rad / 2, self.heading_rad + self.turned_rad * share
        x = self.start[0] + chord_mm * share * math.cos(along) - offset_mm * math.sin(across)
        y = self.start[1] + chord_mm * share * math.sin(along) + offset_mm * math.cos(across)
        return (x, y)


@dataclass(frozen=True)
class OpeningOnCurve:
    """An opening laid on the curve: shares of its piece from edge to edge, the same on a radial cut for all lines.

    taken_mm: length taken out of each of the five lines. bulge_mm: how far the wall bows past the flat frame at
    mid-width, on the line it was measured on; 0 on a straight or radial cut. span_mm: (from, to) on the centreline.
    """

    opening: Opening
    piece_index: int
    centre_mm: float
    taken_mm: dict[Line, float]
    bulge_mm: float

    @property
    def span_mm(self) -> tuple[float, float]:
        half = self.taken_mm["centre"] / 2
        return (self.centre_mm - half, self.centre_mm + half)

    def head_at(self, along_mm: float) -> float:
        """Height of its head above the floor at a distance along the centreline (mm); an arch stands on a straight."""
        return self.opening.head_at(along_mm - self.centre_mm)

    def area_mm2(self, line: Line) -> float:
        """Area it takes out of a face on that line: what it takes of the line times its height, less the haunches."""
        return self.taken_mm[line] * self.opening.height_mm - self.opening.haunches_mm2

    def at_height(self, height_mm: float) -> OpeningOnCurve:
        """The opening as it cuts something at a height above the floor (mm): narrower within an arched head."""
        if self.opening.arch_rise_mm is None or height_mm <= self.opening.spring_mm:
            return self
        width_mm = self.opening.width_at(height_mm)
        return replace(self, taken_mm=dict.fromkeys(self.taken_mm, width_mm))


@dataclass(frozen=True)
class Joint(View):
    """Where two pieces meet: the kink in radians (0 is a smooth joint) and the place along the centreline in mm."""

    after_piece: Annotated[int, Numbered()]
    at_mm: float
    kink_rad: float


@dataclass(frozen=True)
class Curve:
    """A wall in plan, complete: the pieces, the offsets of the five lines, heights and openings."""

    pieces: tuple[CurvePiece, ...]
    stud_depth_mm: float
    left_build_up_mm: float
    right_build_up_mm: float
    measured_on: MeasuredOn
    heights: HeightProfile
    openings: tuple[OpeningOnCurve, ...]

    def offset_mm(self, line: Line) -> float:
        """Offset of a line from the centreline in mm, left positive.

        >>> curve_of(_example()).offset_mm("left_finished")
        58.7375
        """
        return _offset(line, self.stud_depth_mm, self.left_build_up_mm, self.right_build_up_mm)

    def length_mm(self, line: Line) -> float:
        """Length of one of the five lines in mm: the sum of radius x sweep over the arcs, plus the straights."""
        offset = self.offset_mm(line)
        return sum(piece.length_at(offset) for piece in self.pieces)

    @property
    def centre_length_mm(self) -> float:
        return self.length_mm("centre")

    @cached_property
    def end(self) -> Point:
        return self.pieces[-1].point_at(1.0)

    @property
    def end_heading_rad(self) -> float:
        return self.pieces[-1].end_heading_rad

    @property
    def closure_mm(self) -> float:
        """Distance between the end and the start of the centreline; about 0 on a closed column."""
        return math.dist(self.end, self.pieces[0].start)

    @property
    def is_closed(self) -> bool:
        # A millimetre: a column measured in sixteenths never closes to rounding.
        return self.closure_mm <= 1.0 and len(self.pieces) > 0 and self.centre_length_mm > 1.0

    @property
    def joints(self) -> tuple[Joint, ...]:
        return tuple(Joint(p.index - 1, p.start_mm, p.kink_rad) for p in self.pieces[1:])

    @cached_property
    def least_height_mm(self) -> float:
        """The least height of the ceiling over the wall; what was measured beyond its end is not part of it."""
        return self.heights.least_between(0.0, self.centre_length_mm)

    @cached_property
    def greatest_height_mm(self) -> float:
        """The greatest height of the ceiling over the wall, in mm; see `least_height_mm`."""
        return self.heights.greatest_between(0.0, self.centre_length_mm)

    @cached_property
    def kinks(self) -> tuple[Joint, ...]:
        """The joints that are not smooth, that of a closed wall's end and start included.

        >>> curve_of(_example()).kinks
        ()
        """
        joints = list(self.joints)
        if self.is_closed:
            turned = math.remainder(self.pieces[0].heading_rad - self.end_heading_rad, 2 * math.pi)
            joints.append(Joint(len(self.pieces) - 1, self.centre_length_mm, turned))
        return tuple(joint for joint in joints if abs(joint.kink_rad) > 1e-6)

    def mitre_mm(self, line: Line, kink_rad: float) -> float:
        """How much longer a mitred line is at a kink than one that runs to the joint of the centrelines, in mm.

        line: one of the five. kink_rad: left positive, between -pi and pi. Returns the difference of both pieces
        together, negative (shorter) on the side the wall kinks towards. Source: plane geometry: parallels of two
        straights meet offset x tan(kink / 2) from abreast of the joint, on each; on arcs it is near to that.

        >>> round(curve_of(_example()).mitre_mm("left_finished", math.radians(90)), 3)
        -117.475
        """
        return -2 * self.offset_mm(line) * math.tan(kink_rad / 2)

    def mitred_mm(self, joint: Joint, line: Line) -> tuple[float, float]:
        """What a mitred line gains past a joint on the piece before it, and on the piece after it, in mm.

        joint: one of `kinks`. line: one of the five. Returns both gains, negative on the side the wall kinks towards;
        their sum is `mitre_mm` between straights. On arcs the lines are carried on at their own radius to where they
        meet; where they do not meet, and beside a piece to a template, the gains of straights stand for them.
        Source: plane geometry.

        >>> curve = curve_of(_example())
        >>> [round(abs(gain), 3) for gain in curve.mitred_mm(Joint(0, 0.0, math.radians(90)), "centre")]
        [0.0, 0.0]
        """
        return self.mitred_at(joint, self.offset_mm(line))

    def mitred_at(self, joint: Joint, offset_mm: float) -> tuple[float, float]:
        """As `mitred_mm`, of any parallel: offset_mm from the centreline, left positive.

        >>> straight = curve_of(replace(_example(), pieces=(StraightPiece(2000.0),), measured_on="centre"))
        >>> [round(gain, 6) for gain in straight.mitred_at(Joint(0, 0.0, math.radians(90)), -100.0)]
        [100.0, 100.0]
        """
        before, after = self.pieces[joint.after_piece], self.pieces[(joint.after_piece + 1) % len(self.pieces)]
        as_straights = -offset_mm * math.tan(joint.kink_rad / 2)
        if before.is_template or after.is_template or not (before.is_arc or after.is_arc):
            return as_straights, as_straights
        return _met(before, after, offset_mm, as_straights) or (as_straights, as_straights)

    def line_of(
        self, piece: CurvePiece, side: Literal["concave", "convex"], depth: Literal["framing", "finished"]
    ) -> Line:
        """The line on the concave or convex side of an arc; on a straight, the left (concave) or right."""
        left = (piece.hand >= 0) == (side == "concave")
        return _line("left" if left else "right", depth)

    def convex_length_mm(self, piece: CurvePiece) -> float:
        """Length of a piece along its convex framing face: the longer edge, where links open."""
        return piece.length_at(self.offset_mm(self.line_of(piece, "convex", "framing")))

    @property
    def longer_framing_mm(self) -> float:
        """Length to buy track for: each piece along its longer (convex) framing edge."""
        return sum(self.convex_length_mm(piece) for piece in self.pieces)

    def piece_at(self, along_mm: float) -> tuple[CurvePiece, float]:
        """The piece at a distance along the centreline (mm, 0 to its length) and the share of it passed."""
        for piece in self.pieces:
            if along_mm <= piece.end_mm + TOLERANCE_MM or piece is self.pieces[-1]:
                share = (along_mm - piece.start_mm) / piece.length_mm
                return piece, min(max(share, 0.0), 1.0)
        raise AssertionError("a curve has at least one piece")

    def point_at(self, along_mm: float, line: Line = "centre") -> Point:
        """Point of a line abreast of the distance along the centreline, in mm."""
        piece, share = self.piece_at(along_mm)
        return piece.point_at(share, self.offset_mm(line))

    def heading_at(self, along_mm: float) -> float:
        """Direction of walking there, in radians counter-clockwise from +x."""
        piece, share = self.piece_at(along_mm)
        return piece.heading_rad + (piece.turn * piece.sweep_rad + piece.turned_rad) * share

    def developed_mm(self, line: Line, along_mm: float) -> float:
        """Distance along a line, from its start, abreast of a distance along the centreline (both mm)."""
        offset = self.offset_mm(line)
        piece, share = self.piece_at(along_mm)
        passed = sum(p.length_at(offset) for p in self.pieces[: piece.index])
        return passed + piece.length_at(offset) * share

    def centre_mm_of(self, line: Line, developed_mm: float) -> float:
        """The inverse of `developed_mm`: distance along the centreline abreast of a place on a line."""
        offset = self.offset_mm(line)
        left = developed_mm
        for piece in self.pieces:
            length = piece.length_at(offset)
            if left <= length + TOLERANCE_MM or piece is self.pieces[-1]:
                return piece.start_mm + piece.length_mm * left / length
            left -= length
        raise AssertionError("a curve has at least one piece")

    def top_edge_mm(self, line: Line, from_mm: float, to_mm: float) -> float:
        """Length of the top edge of a line between two distances along the centreline (mm, from <= to).

        Along a slope it is hypot(run, rise) of each stretch, exact on an arc as well where the height changes evenly
        along it (a helix rolled out); the uprights of steps are no part of it, see `top_steps_mm`. Openings are.

        >>> round(curve_of(_example()).top_edge_mm("centre", 0.0, 300.0), 6)
        300.0
        """
        inside = [along for along, _ in self.heights.stations] + [piece.start_mm for piece in self.pieces]
        places = sorted({from_mm, to_mm, *(along for along in inside if from_mm < along < to_mm)})
        length_mm = 0.0
        for a, b in pairwise(places):
            # Read well inside the stretch and carried to its ends, so that a step counts on its own side.
            third = (b - a) / 3
            rise_mm = 3 * (self.heights.at(b - third) - self.heights.at(a + third))
            length_mm += math.hypot(self.developed_mm(line, b) - self.developed_mm(line, a), rise_mm)
        return length_mm

    @cached_property
    def top_steps_mm(self) -> float:
        """Height of all the steps of the top within the wall, added up, in mm."""
        return math.fsum(
            abs(after - before)
            for (a, before), (b, after) in pairwise(self.heights.stations)
            if a == b and 0 < a < self.centre_length_mm
        )

    def gross_area_mm2(self, line: Line) -> float:
        """Area of a face with no openings, mitred at kinks: lengths on that line times the mean heights over them."""
        offset = self.offset_mm(line)
        areas = (
            piece.length_at(offset) * self.heights.mean_between(piece.start_mm, piece.end_mm) for piece in self.pieces
        )
        return sum(areas) + self.mitre_area_mm2((offset,))

    def mitre_area_mm2(self, offsets_mm: Sequence[float]) -> float:
        """What the mitres of all kinks add to a face, negative where they take from it.

        offsets_mm: of the parallels it may lie on, left positive; at each kink the longest counts.

        >>> curve_of(_example()).mitre_area_mm2((58.7,))
        0
        """
        return sum(
            max(sum(self.mitred_at(joint, offset)) for offset in offsets_mm) * self.heights.at(joint.at_mm)
            for joint in self.kinks
        )

    def net_area_mm2(self, line: Line) -> float:
        """Area of a face less its openings."""
        return self.gross_area_mm2(line) - sum(laid.area_mm2(line) for laid in self.openings)


def _met(before: CurvePiece, after: CurvePiece, offset_mm: float, gain_mm: float) -> tuple[float, float] | None:
    """Where the parallel of one piece, carried on, meets that of the next carried back: Newton from a first gain."""
    value = other = gain_mm
    lengths = before.length_at(offset_mm), after.length_at(offset_mm)
    for _ in range(30):
        a = before.point_at(1 + value / lengths[0], offset_mm)
        b = after.point_at(-other / lengths[1], offset_mm)
        dx, dy = b[0] - a[0], b[1] - a[1]
        if math.hypot(dx, dy) <= TOLERANCE_MM / 10:
            return value, other
        # Both run the way of their own heading: a moves on with its gain, b back with its own.
        u = before.heading_rad + before.turn * before.sweep_rad * (1 + value / lengths[0])
        v = after.heading_rad - after.turn * after.sweep_rad * other / lengths[1]
        crossed = math.sin(v - u)
        if abs(crossed) < 1e-9:
            return None
        value += (dx * math.sin(v) - dy * math.cos(v)) / crossed
        other += (dx * math.sin(u) - dy * math.cos(u)) / -crossed
        if max(abs(value), abs(other)) > max(lengths):
            return None
    return None


_Segment = tuple[float, float, float, float, float, int]
"""Both ends of a stretch of an outer face, its place along the centreline and its piece."""


def crossing_of(curve: Curve) -> tuple[float, float] | None:
    """Where a wall runs into itself in plan: two places along its centreline, both in mm, or None.

    curve: the wall. Faces and ends are compared as chains of chords that stand off their arcs by at most 1 mm. Faces
    that are not mitred cross beside a kink; that is no crossing of the wall. Source: plane geometry.

    >>> crossing_of(curve_of(_example())) is None
    True
    """
    if len(curve.pieces) == 1 and curve.pieces[0].sweep_rad <= math.pi:
        # Parallel straights and arcs about one centre never meet, nor do their ends within half a turn.
        return None
    segments = sorted(_outline(curve), key=lambda row: min(row[0], row[2]))
    for i, entry in enumerate(segments):
        right, low, high = max(entry[0], entry[2]), min(entry[1], entry[3]), max(entry[1], entry[3])
        for other in segments[i + 1 :]:
            if min(other[0], other[2]) > right:
                break
            if max(other[1], other[3]) < low or min(other[1], other[3]) > high:
                continue
            point = _meeting(entry, other)
            if point is not None and not _beside_a_joint(curve, entry[5], other[5], point):
                first, second = sorted((entry[4], other[4]))
                return first, second
    return None


def _outline(curve: Curve) -> list[_Segment]:
    segments: list[_Segment] = []
    for piece in curve.pieces:
        if piece.is_template:
            continue  # nobody knows where it runs between its ends
        widest = max(piece.radius_at(curve.offset_mm(line)) for line in LINES)
        # The rise of a chord over its arc is R (1 - cos(half its angle)): at most a millimetre.
        step_rad = 2 * math.acos(1 - min(1 / widest, 0.5)) if piece.is_arc else 1.0
        count = max(1, math.ceil(piece.sweep_rad / step_rad))
        for line in ("left_finished", "right_finished"):
            offset = curve.offset_mm(line)
            points = [piece.point_at(k / count, offset) for k in range(count + 1)]
            for k, (a, b) in enumerate(pairwise(points)):
                along = piece.start_mm + piece.length_mm * (k + 0.5) / count
                segments.append((*a, *b, along, piece.index))
    if not curve.is_closed:
        for piece, share, along in ((curve.pieces[0], 0.0, 0.0), (curve.pieces[-1], 1.0, curve.centre_length_mm)):
            a, b = (piece.point_at(share, curve.offset_mm(line)) for line in ("left_finished", "right_finished"))
            segments.append((*a, *b, along, piece.index))
    return segments


def _meeting(row: _Segment, other: _Segment) -> Point | None:
    """Where two stretches cross properly: a shared end is none."""
    ax, ay, bx, by = row[:4]
    cx, cy, dx, dy = other[:4]
    from_c = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
    from_d = (bx - ax) * (dy - ay) - (by - ay) * (dx - ax)
    from_a = (dx - cx) * (ay - cy) - (dy - cy) * (ax - cx)
    from_b = (dx - cx) * (by - cy) - (dy - cy) * (bx - cx)
    if from_c * from_d >= 0 or from_a * from_b >= 0:
        return None
    share = from_c / (from_c - from_d)
    return (cx + (dx - cx) * share, cy + (dy - cy) * share)


def _beside_a_joint(curve: Curve, number: int, other: int, point: Point) -> bool:
    if number == other:
        return False
    last = len(curve.pieces) - 1
    first, second = sorted((number, other))
    near = []
    if second - first == 1:
        near.append((curve.pieces[second].start, curve.pieces[second].kink_rad))
    if curve.is_closed and (first, second) == (0, last):
        seam = next((joint.kink_rad for joint in curve.kinks if joint.after_piece == last), 0.0)
        near.append((curve.pieces[0].start, seam))
    widest = max(abs(curve.offset_mm(line)) for line in LINES)
    # Mitred straights meet at offset / cos(kink / 2); half as much again leaves room for arcs.
    return any(math.dist(point, joint) <= 1.5 * widest / math.cos(kink / 2) + 1.0 for joint, kink in near)


def _example() -> Survey:
    return Survey(
        (ArcPiece(ChordRise(4267.2, 762.0), "left"),),
        HeightProfile(((0.0, 2743.2),)),
        "convex_framing",
        92.075,
        12.7,
        12.7,
    )


def _line(side: Face, depth: Literal["framing", "finished"]) -> Line:
    if side == "left":
        return "left_framing" if depth == "framing" else "left_finished"
    return "right_framing" if depth == "framing" else "right_finished"


def _offset(line: Line, depth_mm: float, left_mm: float, right_mm: float) -> float:
    half = depth_mm / 2
    return {
        "left_finished": half + left_mm,
        "left_framing": half,
        "centre": 0.0,
        "right_framing": -half,
        "right_finished": -half - right_mm,
    }[line]


def resolve_line(measured_on: MeasuredOn, turn: int) -> Line:
    """Which of the five lines is meant, for an arc turning left (+1), right (-1) or a straight (0).

    >>> resolve_line("convex_framing", +1)
    'right_framing'
    """
    if measured_on in LINES:
        return measured_on
    side, _, depth = measured_on.partition("_")
    left = (turn >= 0) == (side == "concave")
    return _line("left" if left else "right", "framing" if depth == "framing" else "finished")


def curve_of(survey: Survey) -> Curve:
    """Solve a survey into its curve.

    survey: lengths in mm, angles in rad. Returns the curve from origin (0, 0) heading +x.
    Raises SurveyError naming the entry when an arc cannot be, when an inner line would have no radius left,
    or when an opening does not lie on one piece or overlaps another.
    Source: radius offsets by the line measured, `R_line = R -/+ offset` (plane geometry of parallel curves).

    >>> curve = curve_of(_example())
    >>> round(curve.length_mm("right_finished") / 25.4, 3)
    182.626
    """
    pieces: list[CurvePiece] = []
    start: Point = (0.0, 0.0)
    heading = 0.0
    start_mm = 0.0
    for index, given in enumerate(survey.pieces):
        heading += given.kink_rad
        if isinstance(given, TemplatePiece):
            place = CurvePiece(index, 0, 0.0, 0.0, 0.0, start_mm, start, heading, given.kink_rad)
            piece = _to_template(survey, given, place)
        else:
            turn, radius, sweep, length = _centre_of(survey, given, index)
            piece = CurvePiece(index, turn, radius, sweep, length, start_mm, start, heading, given.kink_rad)
        pieces.append(piece)
        start, heading, start_mm = piece.point_at(1.0), piece.end_heading_rad, piece.end_mm
    bare = Curve(
        tuple(pieces),
        survey.stud_depth_mm,
        survey.left_build_up_mm,
        survey.right_build_up_mm,
        survey.measured_on,
        survey.heights,
        (),
    )
    laid = tuple(_lay_opening(bare, survey, opening, i) for i, opening in enumerate(survey.openings))
    _refuse_overlaps(bare, laid)
    return Curve(
        bare.pieces,
        bare.stud_depth_mm,
        bare.left_build_up_mm,
        bare.right_build_up_mm,
        bare.measured_on,
        bare.heights,
        laid,
    )


def _to_template(survey: Survey, given: TemplatePiece, place: CurvePiece) -> CurvePiece:
    """The piece on the centreline: its length and chord moved there from the line they were taken on."""
    depths = (survey.stud_depth_mm, survey.left_build_up_mm, survey.right_build_up_mm)
    line = resolve_line(given.measured_on or survey.measured_on, 1 if given.turned_rad >= 0 else -1)
    offset_mm = _offset(line, *depths)
    length_mm = given.length_mm + given.turned_rad * offset_mm
    chord_mm = given.chord_mm + 2 * offset_mm * math.sin(given.turned_rad / 2)
    shortest_mm = min(length_mm - given.turned_rad * _offset(name, *depths) for name in LINES)
    if min(shortest_mm, chord_mm) <= TOLERANCE_MM:
        raise SurveyError(
            f"pieces[{place.index}].length",
            f"{format_both(given.length_mm)} is too short to turn by {math.degrees(given.turned_rad):g} degrees: "
            "the inner face would have no length left",
        )
    return replace(place, length_mm=length_mm, chord_mm=min(chord_mm, length_mm), turned_rad=given.turned_rad)


def _centre_of(survey: Survey, given: StraightPiece | ArcPiece, index: int) -> tuple[int, float, float, float]:
    if isinstance(given, StraightPiece):
        return 0, 0.0, 0.0, given.length_mm
    where = f"pieces[{index}]"
    try:
        arc = given.given.solve()
    except SurveyError as error:
        raise SurveyError(f"{where}.{error.field}", error.reason) from error
    side = given.turn or arc.turn
    if side is None:
        raise SurveyError(f"{where}.turn", "say whether the arc turns left or right")
    if given.turn and arc.turn and given.turn != arc.turn:
        raise SurveyError(f"{where}.turn", f"the three points turn {arc.turn}, but the piece says {given.turn}")
    turn = 1 if side == "left" else -1
    line = resolve_line(given.measured_on or survey.measured_on, turn)
    depths = (survey.stud_depth_mm, survey.left_build_up_mm, survey.right_build_up_mm)
    radius = arc.radius_mm + turn * _offset(line, *depths)
    innermost = radius - max(turn * _offset(name, *depths) for name in LINES)
    if innermost <= TOLERANCE_MM:
        raise SurveyError(
            f"{where}.radius",
            f"the concave face would have no radius left ({format_both(innermost)}): a wall "
            f"{format_both(survey.stud_depth_mm + survey.left_build_up_mm + survey.right_build_up_mm)} thick "
            f"cannot turn at {format_both(arc.radius_mm)} on its {line.replace('_', ' ')} line",
        )
    return turn, radius, arc.sweep_rad, radius * arc.sweep_rad


def _lay_opening(curve: Curve, survey: Survey, opening: Opening, index: int) -> OpeningOnCurve:
    where = f"openings[{index}]"
    along_line = _lengths_along(curve, opening.measured_on or survey.measured_on)
    left = opening.centre_at_mm
    total = sum(length for _, length in along_line)
    if left > total + TOLERANCE_MM:
        raise SurveyError(
            f"{where}.centre_at",
            f"{opening.name} stands {format_both(left)} along a line only {format_both(total)} long",
        )
    piece, share, line = curve.pieces[-1], 1.0, along_line[-1][0]
    for candidate, (candidate_line, length) in zip(curve.pieces, along_line, strict=True):
        if left <= length + TOLERANCE_MM:
            piece, share, line = candidate, left / length, candidate_line
            break
        left -= length
    if piece.is_template:
        raise SurveyError(
            f"{where}.centre_at",
            f"{opening.name} stands in piece {piece.index + 1}, which is built to a template only: what the opening "
            "takes out of it cannot be known. Give the piece as arcs and straights, or move the opening",
        )
    taken = {name: _taken(curve, piece, opening, line, name, where) for name in LINES}
    centre_mm = piece.start_mm + piece.length_mm * share
    laid = OpeningOnCurve(opening, piece.index, centre_mm, taken, _bulge(curve, piece, opening, line))
    from_mm, to_mm = _widest_span(curve, piece, laid)
    if from_mm < piece.start_mm - TOLERANCE_MM or to_mm > piece.end_mm + TOLERANCE_MM:
        raise SurveyError(
            f"{where}.centre_at",
            f"{opening.name} must lie within one piece; it runs over the end of piece {piece.index + 1}",
        )
    if opening.arch_rise_mm is not None and piece.is_arc:
        raise SurveyError(
            f"{where}.arch_rise",
            f"an arched head needs a straight piece of wall, and {opening.name} is in piece {piece.index + 1}, an "
            "arc: move it, or leave the rise out",
        )
    lowest = survey.heights.least_between(*laid.span_mm)
    if opening.head_mm > lowest + TOLERANCE_MM:
        raise SurveyError(
            f"{where}.height",
            f"the head of {opening.name}, {format_both(opening.head_mm)}, is above the ceiling, {format_both(lowest)}",
        )
    return laid


def _lengths_along(curve: Curve, measured_on: MeasuredOn) -> list[tuple[Line, float]]:
    lines = [resolve_line(measured_on, piece.hand) for piece in curve.pieces]
    return [(line, piece.length_at(curve.offset_mm(line))) for piece, line in zip(curve.pieces, lines, strict=True)]


def _taken(curve: Curve, piece: CurvePiece, opening: Opening, measured: Line, line: Line, where: str) -> float:
    if not piece.is_arc:
        return opening.width_mm
    radius = piece.radius_at(curve.offset_mm(line))
    if opening.frame == "radial":
        return opening.width_mm / piece.radius_at(curve.offset_mm(measured)) * radius
    half = opening.width_mm / (2 * radius)
    if half >= 1:
        raise SurveyError(
            f"{where}.width",
            f"a flat frame {format_both(opening.width_mm)} wide cannot stand in an arc of radius {format_both(radius)}",
        )
    return 2 * radius * math.asin(half)


def _bulge(curve: Curve, piece: CurvePiece, opening: Opening, measured: Line) -> float:
    if not piece.is_arc or opening.frame == "radial":
        return 0.0
    radius = piece.radius_at(curve.offset_mm(measured))
    return radius - math.sqrt(radius**2 - (opening.width_mm / 2) ** 2)


def _widest_span(curve: Curve, piece: CurvePiece, laid: OpeningOnCurve) -> tuple[float, float]:
    # A flat frame takes a larger share of the tighter lines: it must have room on every one of the five.
    share = max(laid.taken_mm[line] / piece.length_at(curve.offset_mm(line)) for line in LINES)
    half = piece.length_mm * share / 2
    return (laid.centre_mm - half, laid.centre_mm + half)


def _refuse_overlaps(curve: Curve, laid: tuple[OpeningOnCurve, ...]) -> None:
    spans = [_widest_span(curve, curve.pieces[entry.piece_index], entry) for entry in laid]
    for i, each in enumerate(laid):
        for j, other in enumerate(laid[:i]):
            apart_along = spans[i][0] >= spans[j][1] - TOLERANCE_MM or spans[j][0] >= spans[i][1] - TOLERANCE_MM
            apart_up = each.opening.sill_mm >= other.opening.head_mm or other.opening.sill_mm >= each.opening.head_mm
            if not (apart_along or apart_up):
                raise SurveyError(f"openings[{i}].centre_at", f"{each.opening.name} overlaps {other.opening.name}")
