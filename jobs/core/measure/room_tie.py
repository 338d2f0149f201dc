"""Where a wall stands in the room: its start and a second point, each taped from two fixed points of the building.

The wall is marked on the framing face the whole chain is set out on. Everything is worked out in the wall's own
coordinates: from its start, walking along +x.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from catalog.core.ground.declared import As, Length, Text, View, Whole
from catalog.core.ground.units import System, format_both, format_length
from jobs.core.measure.curve import Curve, Point
from jobs.core.measure.findings import Finding
from jobs.core.measure.survey import Line, SurveyError, Turn

MAX_NAME_LENGTH = 100
MAX_JOINTS = 199
MIN_APART_MM = 25.0
"""Points closer than an inch fix no direction. Our own convention."""
SLACK_MM = 6.35
"""Tapes to a point on the line of the two fixed points may miss it by 1/4 in. Our own convention."""
POOR_CROSSING_RAD = math.radians(30)
"""Two tapes that cross at less than this place a point badly. Our own convention."""
LENGTHS = ("apart_mm", "first_to_start_mm", "second_to_start_mm", "first_to_point_mm", "second_to_point_mm")


@dataclass(frozen=True)
class RoomTie:
    """The tapes that tie a wall to the building.

    Args:
        first, second: names of two fixed points. apart_mm: between them. first_to_start_mm, second_to_start_mm: to
            the start of the wall. first_to_point_mm, second_to_point_mm: to its second point. joint: the joint that
            is the second point, counted from 1; None for the end of the wall. side: of the line from the first to the
            second fixed point, as seen going along it, on which the start stands; on which the second point stands
            where the start is on that line.

    Raises:
        SurveyError: a name missing or twice the same, a length out of range, or tapes that do not meet; its field is
            the entry, such as "second_to_start".

    >>> RoomTie("Column C4", "Corner", 5000.0, 3000.0, 4000.0, 4000.0, 3000.0).side
    'left'
    """

    document_name = "room"
    document_description = (
        "Tapes from two fixed points of the building to the start of the wall and to a second point of it. On the "
        "convex framing face of its first arc, else the right one."
    )

    first: Annotated[
        str,
        Text(MAX_NAME_LENGTH),
        "Name of the first fixed point.",
        As(label="First fixed point", hint="such as column C4, centre"),
    ]
    second: Annotated[str, Text(MAX_NAME_LENGTH), "Name of the second fixed point.", As(label="Second fixed point")]
    apart_mm: Annotated[float, Length(), "Between the two.", As(label="The two are apart")]
    first_to_start_mm: Annotated[
        float, Length(), "From the first fixed point to the start.", As(label="First point to the start")
    ]
    second_to_start_mm: Annotated[
        float, Length(), "From the second fixed point to the start.", As(label="Second point to the start")
    ]
    first_to_point_mm: Annotated[
        float, Length(), "From the first fixed point to the second point of the wall.", As(label="First point to it")
    ]
    second_to_point_mm: Annotated[
        float, Length(), "From the second fixed point to the second point of the wall.", As(label="Second point to it")
    ]
    joint: Annotated[
        int | None,
        Whole(1, MAX_JOINTS),
        "The joint that is the second point, counted from 1; null for the end of the wall.",
        As(label="Second point of the wall"),
    ] = None
    side: Annotated[
        Turn,
        "Of the line from the first to the second fixed point, on which the start stands.",
        As(label="The start stands"),
    ] = "left"

    def __post_init__(self) -> None:
        for field, name in (("first", self.first), ("second", self.second)):
            if not name.strip() or len(name) > MAX_NAME_LENGTH:
                raise SurveyError(field, f"name the fixed point in 1 to {MAX_NAME_LENGTH} characters, such as C4")
        if self.first.strip().casefold() == self.second.strip().casefold():
            raise SurveyError("second", "two fixed points need two names")
        for name in LENGTHS:
            value, least = getattr(self, name), MIN_APART_MM if name == "apart_mm" else 0.0
            if not (math.isfinite(value) and least <= value <= 1_000_000):
                message = f"must be from {format_both(least)} to 1,000 m; {format_both(value)} was given"
                raise SurveyError(name.removesuffix("_mm"), message)
        if self.joint is not None and self.joint < 1:
            raise SurveyError("joint", "joints are counted from 1; leave it out for the end of the wall")
        self._need_meeting("start", self.first_to_start_mm, self.second_to_start_mm)
        self._need_meeting("point", self.first_to_point_mm, self.second_to_point_mm)

    def _need_meeting(self, what: str, one_mm: float, other_mm: float) -> None:
        if one_mm + other_mm >= self.apart_mm - SLACK_MM and abs(one_mm - other_mm) <= self.apart_mm + SLACK_MM:
            return
        why = "together too short" if one_mm + other_mm < self.apart_mm else "too unlike"
        message = (
            f"the tapes of {format_both(one_mm)} and {format_both(other_mm)} do not meet: they are {why} for fixed "
            f"points {format_both(self.apart_mm)} apart. Tape them again"
        )
        raise SurveyError(f"second_to_{what}", message)


@dataclass(frozen=True)
class RoomDiagonal(View):
    """One tape between a fixed point and an end of the wall. taped_mm: as entered, None where only worked out."""

    from_name: Annotated[str, As(name="from")]
    to_name: Annotated[str, As(name="to")]
    length_mm: Annotated[float, As(name="distance")]
    taped_mm: float | None = None


@dataclass(frozen=True)
class RoomPlace:
    """A wall in the room. first, second: the fixed points in the wall's coordinates, mm. line: that is taped to.

    start, point, end: of that line; point_name: "end" or "joint 1". own_mm: from start to point by the wall's figures;
    taped_mm: by the tapes; tolerance_mm: how far those may differ with the tape as accurate as stated, None while
    nobody states it. crossing_rad: the angle at which the tapes cross at the start, 0 to pi/2. diagonals: from each
    fixed point to both ends, and to the second point where it is another.
    """

    tie: RoomTie
    line: Line
    first: Point
    second: Point
    start: Point
    point: Point
    end: Point
    point_name: str
    own_mm: float
    taped_mm: float
    tolerance_mm: float | None
    crossing_rad: float
    diagonals: tuple[RoomDiagonal, ...]

    @property
    def agrees(self) -> bool | None:
        """Whether the tapes and the wall's own figures say the same; None while the tape's accuracy is not stated."""
        return None if self.tolerance_mm is None else abs(self.own_mm - self.taped_mm) <= self.tolerance_mm

    @property
    def is_good(self) -> bool:
        return self.crossing_rad >= POOR_CROSSING_RAD


def chain_line(curve: Curve) -> Line:
    """The framing face the whole chain is set out on: the convex one of its first arc, else the right."""
    first = next((piece for piece in curve.pieces if piece.is_arc), None)
    return curve.line_of(first, "convex", "framing") if first else "right_framing"


def place_in_room(curve: Curve, tie: RoomTie, tape_mm: float | None) -> RoomPlace:
    """Put a wall where its tapes say.

    Args:
        curve: the wall. tie: its tapes. tape_mm: how far each may be out, mm, > 0, None when nobody states it.

    Returns:
        The place: the start as taped, the direction as taped to the second point. The fixed points are given in the
        wall's own coordinates, so that drawings of the wall take them as they are.

    Raises:
        SurveyError: no such joint, a closed wall whose end is its start, or points too close to fix a direction.

    Source: two tapes meet in two points, the side says which; plane geometry. Tolerance: the change of the distance
    with each of the five tapes out by its accuracy, added up; our own convention.

    >>> from jobs.core.measure.curve import _example, curve_of
    >>> curve = curve_of(_example())
    >>> place = place_in_room(curve, RoomTie("A", "B", 4267.2, 0.0, 4267.2, 4267.2, 0.0), 3.0)
    >>> round(place.taped_mm, 1), [round(one.length_mm, 1) for one in place.diagonals]
    (4267.2, [0.0, 4267.2, 4267.2, 0.0])
    """
    line = chain_line(curve)
    start, end, point = _points(curve, tie, line)
    own_mm = math.dist(start, point)
    start_at = _start_in_room(tie)
    point_at = _point_in_room(tie, own_mm)
    taped_mm = math.dist(start_at, point_at)
    if min(own_mm, taped_mm) < MIN_APART_MM:
        raise SurveyError(
            "joint", "the start and the second point are too close to fix a direction; take another point"
        )
    turn = math.atan2(point[1] - start[1], point[0] - start[0]) - math.atan2(
        point_at[1] - start_at[1], point_at[0] - start_at[0]
    )
    fixed = [_moved(pair, start_at, start, turn) for pair in ((0.0, 0.0), (tie.apart_mm, 0.0))]
    name = "end" if tie.joint is None else f"joint {tie.joint}"
    tolerance_mm = None if tape_mm is None else _tolerance_mm(tie, own_mm, tape_mm)
    diagonals = _diagonals(tie, name, fixed, {"start": start, name: point} | ({} if curve.is_closed else {"end": end}))
    crossing = _crossing_rad(start_at, tie.apart_mm)
    return RoomPlace(
        tie, line, fixed[0], fixed[1], start, point, end, name, own_mm, taped_mm, tolerance_mm, crossing, diagonals
    )


def room_findings(key: str, name: str, place: RoomPlace, system: System) -> tuple[Finding, ...]:
    """What must be said of a wall's place in the room.

    key, name: of the wall. place: as worked out. system: of the words. Returns a caution where the tapes and the
    wall's own figures disagree, or where nobody states how far a tape may be out; nothing otherwise. Source: own rule.
    """
    taped, own = format_length(place.taped_mm, system), format_length(place.own_mm, system)
    message = (
        f"The tapes from {place.tie.first} and {place.tie.second} put the start and the {place.point_name} of {name} "
        f"{taped} apart; by its own figures they are {own} apart."
    )
    if place.agrees is None:
        ask = " Enter the firm's tape accuracy."
        return (Finding(f"{key}/room", "caution", message + ask, "Plane geometry"),)
    if not place.agrees:
        return (Finding(f"{key}/room", "caution", f"{message} Tape them again.", "Plane geometry"),)
    return ()


def _points(curve: Curve, tie: RoomTie, line: Line) -> tuple[Point, Point, Point]:
    """Start, end and second point of the line in the wall's coordinates; a joint is where the piece after it starts."""
    offset_mm = curve.offset_mm(line)
    start, end = curve.pieces[0].point_at(0.0, offset_mm), curve.pieces[-1].point_at(1.0, offset_mm)
    if tie.joint is None:
        if curve.is_closed:
            raise SurveyError("joint", "the wall ends where it starts; take a joint as the second point")
        return start, end, end
    if tie.joint >= len(curve.pieces):
        message = f"the wall has {len(curve.pieces) - 1} joints; there is no joint {tie.joint}"
        raise SurveyError("joint", message)
    return start, end, curve.pieces[tie.joint].point_at(0.0, offset_mm)


def _start_in_room(tie: RoomTie) -> Point:
    """The first fixed point at 0, 0, the second on +x."""
    x, y = _meeting(tie.apart_mm, tie.first_to_start_mm, tie.second_to_start_mm)
    return x, y if tie.side == "left" else -y


def _point_in_room(tie: RoomTie, own_mm: float) -> Point:
    """Of the two places where its tapes meet the one that is as far from the start as the wall says."""
    x, y = _meeting(tie.apart_mm, tie.first_to_point_mm, tie.second_to_point_mm)
    same = y if tie.side == "left" else -y
    start = _start_in_room(tie)
    # Equal where the start or the point is on the line: then on the side that is said.
    return min(((x, same), (x, -same)), key=lambda pair: round(abs(math.dist(start, pair) - own_mm), 6))


def _meeting(apart_mm: float, one_mm: float, other_mm: float) -> Point:
    x = (one_mm**2 - other_mm**2 + apart_mm**2) / (2 * apart_mm)
    return x, math.sqrt(max(0.0, one_mm**2 - x**2))


def _moved(point: Point, of: Point, to: Point, turn: float) -> Point:
    dx, dy = point[0] - of[0], point[1] - of[1]
    c, s = math.cos(turn), math.sin(turn)
    return to[0] + dx * c - dy * s, to[1] + dx * s + dy * c


def _tolerance_mm(tie: RoomTie, own_mm: float, tape_mm: float) -> float:
    def between(**changed: float) -> float:
        x, y = _meeting(*(changed.get(n, getattr(tie, n)) for n in LENGTHS[:3]))
        start = (x, y if tie.side == "left" else -y)
        x, y = _meeting(*(changed.get(n, getattr(tie, n)) for n in (LENGTHS[0], *LENGTHS[3:])))
        return math.dist(start, (x, math.copysign(y, as_taken[1])))

    as_taken = _point_in_room(tie, own_mm)
    as_taped = between()
    moves = (
        max(abs(between(**{name: getattr(tie, name) + way * tape_mm}) - as_taped) for way in (-1, 1))
        for name in LENGTHS
        if getattr(tie, name) > tape_mm
    )
    return sum(moves) + tape_mm


def _crossing_rad(start: Point, apart_mm: float) -> float:
    pair, other = (-start[0], -start[1]), (apart_mm - start[0], -start[1])
    cross, lean = pair[0] * other[1] - pair[1] * other[0], pair[0] * other[0] + pair[1] * other[1]
    return math.atan2(abs(cross), abs(lean)) if (cross or lean) else math.pi / 2


def _diagonals(tie: RoomTie, name: str, fixed: list[Point], points: dict[str, Point]) -> tuple[RoomDiagonal, ...]:
    taped = {
        (0, "start"): tie.first_to_start_mm,
        (1, "start"): tie.second_to_start_mm,
        (0, name): tie.first_to_point_mm,
        (1, name): tie.second_to_point_mm,
    }
    return tuple(
        RoomDiagonal((tie.first, tie.second)[at], to, math.dist(fixed[at], point), taped.get((at, to)))
        for to, point in points.items()
        for at in (0, 1)
    )


__all__ = [
    "RoomDiagonal",
    "RoomPlace",
    "RoomTie",
    "chain_line",
    "place_in_room",
    "room_findings",
]
