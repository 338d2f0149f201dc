"""What was measured on site, in the forms people measure it, checked when it is built.

A wall in plan is a chain of pieces walked from its start to its end. *Left* and *right* are as seen while
walking. An arc turns left or right; the side it turns towards is concave, the other convex.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Annotated, Any, ClassVar, Literal, Self, get_args

from catalog.core.ground.declared import (
    Angle,
    As,
    Constant,
    Declared,
    Document,
    Items,
    Kind,
    Length,
    Refs,
    Schema,
    Text,
    Writing,
    build,
    read,
    read_fields,
    write,
    write_fields,
    write_length,
)
from catalog.core.ground.document_reader import Reader, read_all
from catalog.core.ground.refusal import EntryError
from catalog.core.ground.units import TOLERANCE_MM, format_both
from jobs.core.measure.told_by_figures import figures_schema, told_by_figures

Turn = Literal["left", "right"]
Line = Literal["left_finished", "left_framing", "centre", "right_framing", "right_finished"]
OpeningFrame = Literal["flat", "radial"]
CasingFaces = Literal["both", "left", "right"]
MeasuredOn = Literal[
    "left_finished",
    "left_framing",
    "centre",
    "right_framing",
    "right_finished",
    "concave_finished",
    "concave_framing",
    "convex_framing",
    "convex_finished",
]
LINES: tuple[Line, ...] = ("left_finished", "left_framing", "centre", "right_framing", "right_finished")
MEASURED_ON: tuple[MeasuredOn, ...] = (
    *LINES,
    "concave_finished",
    "concave_framing",
    "convex_framing",
    "convex_finished",
)
TURNS: tuple[Turn, ...] = ("left", "right")
FRAMES: tuple[OpeningFrame, ...] = ("flat", "radial")
CASING_FACES: tuple[CasingFaces, ...] = ("both", "left", "right")
FULL_TURN = 2 * math.pi


class SurveyError(EntryError):
    """A measurement that cannot be a wall."""


def _positive(field: str, value: float, what: str) -> None:
    if not (math.isfinite(value) and value > 0):
        message = format_both(value) if math.isfinite(value) and value else f"{value:g}"
        raise SurveyError(field, f"{what} must be more than zero; {message} was given")
    if value > 1e7:
        raise SurveyError(field, f"{what} of {format_both(value)} is beyond any interior wall (10 km)")


def _one_of(field: str, value: str, known: tuple[str, ...], what: str) -> None:
    if value not in known:
        raise SurveyError(field, f"{what} must be one of {', '.join(known)}; {value!r} was given")


@dataclass(frozen=True)
class SolvedArc:
    """An arc on the measured line: radius_mm > 0, sweep_rad in (0, 2 pi), turn when the reading gives it."""

    radius_mm: float
    sweep_rad: float
    turn: Turn | None = None


def _solved(radius_mm: float, sweep_rad: float, field: str, turn: Turn | None = None) -> SolvedArc:
    if not (math.isfinite(radius_mm) and math.isfinite(sweep_rad)) or radius_mm <= 0:
        raise SurveyError(field, "these figures give no arc: the radius is not a finite length")
    if not 0 < sweep_rad < FULL_TURN - 1e-9:
        turned = math.degrees(sweep_rad)
        raise SurveyError(
            field, f"an arc must turn more than 0 and less than 360 degrees; these figures turn {turned:.2f}"
        )
    return SolvedArc(radius_mm, sweep_rad, turn)


RadiusFigure = Annotated[float, Length(), "Radius of the measured line, more than zero."]
ArcFigure = Annotated[
    float, Length(), "Length along the arc; with chord and rise, of the new arc.", As(label="Length along the arc")
]
ChordFigure = Annotated[
    float, Length(), "Straight from end to end; with rise and arc, of the old curve that is matched."
]
RiseFigure = Annotated[
    float,
    Length(),
    "From the middle of the chord to the arc; more than half the chord for more than half a circle.",
]


@dataclass(frozen=True)
class RadiusAngle:
    """Radius (mm, > 0) and the angle turned through (rad, between 0 and 2 pi)."""

    radius_mm: RadiusFigure
    sweep_rad: Annotated[
        float,
        Angle(),
        "Angle turned through, in degrees, between 0 and 360.",
        As(name="angle", hint="degrees, such as 78.6"),
    ]

    def solve(self) -> SolvedArc:
        """The arc itself. Raises SurveyError when either figure is out of range.

        >>> round(RadiusAngle(35.0, math.radians(60)).solve().radius_mm, 3)
        35.0
        """
        _positive("radius", self.radius_mm, "the radius")
        if not (math.isfinite(self.sweep_rad) and self.sweep_rad > 0):
            turned = math.degrees(self.sweep_rad)
            raise SurveyError("angle", f"the angle must be more than zero; {turned:g} degrees were given")
        return _solved(self.radius_mm, self.sweep_rad, "angle")


@dataclass(frozen=True)
class RadiusArcLength:
    """Radius and length along the arc (mm, both > 0)."""

    radius_mm: RadiusFigure
    arc_mm: ArcFigure

    def solve(self) -> SolvedArc:
        """sweep = arc / radius. Raises SurveyError beyond a full turn.

        >>> round(RadiusArcLength(100.0, 50.0).solve().sweep_rad, 3)
        0.5
        """
        _positive("radius", self.radius_mm, "the radius")
        _positive("arc", self.arc_mm, "the arc length")
        return _solved(self.radius_mm, self.arc_mm / self.radius_mm, "arc")


@dataclass(frozen=True)
class ChordRise:
    """Chord and rise (mm, both > 0); the rise may exceed half the chord: more than half a circle."""

    chord_mm: ChordFigure
    rise_mm: RiseFigure

    def solve(self) -> SolvedArc:
        """R = c^2/(8h) + h/2, sweep = 4 atan(2h/c). Source: Machinery's Handbook 31, p. 79.

        >>> round(ChordRise(16.0, 6.0).solve().radius_mm, 4)
        8.3333
        """
        _positive("chord", self.chord_mm, "the chord")
        _positive("rise", self.rise_mm, "the rise of an arc")
        radius_mm = self.chord_mm**2 / (8 * self.rise_mm) + self.rise_mm / 2
        return _solved(radius_mm, 4 * math.atan2(2 * self.rise_mm, self.chord_mm), "rise")


@dataclass(frozen=True)
class RadiusChord:
    """Radius and chord (mm, > 0). major: True for the arc of more than half a circle."""

    radius_mm: RadiusFigure
    chord_mm: ChordFigure
    major: Annotated[bool, "With radius and chord only: true for the arc of more than half a circle."] = False

    def solve(self) -> SolvedArc:
        """sweep = 2 asin(c / 2R), or the rest of the circle when major. Raises SurveyError when c > 2R.

        >>> round(math.degrees(RadiusChord(60.0, 60.0).solve().sweep_rad), 6)
        60.0
        """
        _positive("radius", self.radius_mm, "the radius")
        _positive("chord", self.chord_mm, "the chord")
        half = self.chord_mm / (2 * self.radius_mm)
        if half > 1 + 1e-12:
            raise SurveyError(
                "chord",
                f"a chord cannot exceed twice the radius, {format_both(2 * self.radius_mm)}; "
                f"{format_both(self.chord_mm)} was given",
            )
        minor = 2 * math.asin(min(half, 1.0))
        return _solved(self.radius_mm, FULL_TURN - minor if self.major else minor, "chord")


@dataclass(frozen=True)
class ArcLengthChord:
    """Length along the arc and its chord (mm, > 0, the arc the longer)."""

    arc_mm: ArcFigure
    chord_mm: ChordFigure

    def solve(self) -> SolvedArc:
        """The sweep that makes sin(x)/x = chord/arc with x half the sweep, by bisection to rounding.

        >>> round(ArcLengthChord(math.pi * 50, 100.0).solve().radius_mm, 6)
        50.0
        """
        _positive("arc", self.arc_mm, "the arc length")
        _positive("chord", self.chord_mm, "the chord")
        ratio = self.chord_mm / self.arc_mm
        if ratio >= 1 - 1e-12:
            raise SurveyError(
                "arc",
                f"an arc is longer than its chord, {format_both(self.chord_mm)}; {format_both(self.arc_mm)} was given",
            )
        # Compared as one minus the ratio, so that nearly flat arcs keep their digits.
        shortfall = (self.arc_mm - self.chord_mm) / self.arc_mm
        low, high = 0.0, math.pi
        for _ in range(200):
            middle = (low + high) / 2
            if _one_less_sinc(middle) > shortfall:
                high = middle
            else:
                low = middle
        sweep_rad = low + high
        return _solved(self.arc_mm / sweep_rad, sweep_rad, "arc")


def _one_less_sinc(half_rad: float) -> float:
    if half_rad > 0.1:
        return 1 - math.sin(half_rad) / half_rad
    square = half_rad**2
    return square / 6 * (1 - square / 20 * (1 - square / 42 * (1 - square / 72)))


@dataclass(frozen=True)
class MatchedCurve:
    """An old curve matched: its chord and rise (mm, both > 0), and the length along the new arc (mm, > 0)."""

    chord_mm: ChordFigure
    rise_mm: RiseFigure
    arc_mm: ArcFigure

    def solve(self) -> SolvedArc:
        """The radius of the old curve, and the new length over it. Raises SurveyError beyond a full turn.

        >>> arc = MatchedCurve(16.0, 6.0, 25.0).solve()
        >>> round(arc.radius_mm, 4), round(arc.sweep_rad, 4)
        (8.3333, 3.0)
        """
        radius_mm = ChordRise(self.chord_mm, self.rise_mm).solve().radius_mm
        return RadiusArcLength(radius_mm, self.arc_mm).solve()


class PointsOf(Kind):
    """Three points, each of two coordinates."""

    def read(self, reader: Reader, name: str) -> tuple[tuple[float, float], ...]:
        points = reader.values(name)
        if len(points) != 3:
            raise reader.error(name, f"must be three points in walking order; {len(points)} were given")
        return tuple(self._point(reader, f"{name}[{index}]", point) for index, point in enumerate(points))

    def _point(self, reader: Reader, name: str, point: Any) -> tuple[float, float]:
        if not isinstance(point, list) or len(point) != 2:
            raise reader.error(name, "must be two coordinates, [x, y]")
        x, y = (reader.length_of(name, value, allow_negative=True) for value in point)
        return x, y

    def write(self, value: Any, how: Writing) -> Any:
        return [[write_length(x), write_length(y)] for x, y in value]

    def schema(self, refs: Refs) -> Schema:
        point = {"type": "array", "minItems": 2, "maxItems": 2, "items": refs.part("coordinate")}
        return {"type": "array", "minItems": 3, "maxItems": 3, "items": point}


Place = tuple[float, float]


@dataclass(frozen=True)
class ThreePoints:
    """Three points on the arc in walking order, (x, y) each in mm; first and last are its ends."""

    points: Annotated[
        tuple[Place, Place, Place],
        PointsOf(),
        "Three points on the arc in walking order, each [x, y]; the first and last are its ends.",
    ]

    def solve(self) -> SolvedArc:
        """The circle through the three points; the turn follows from their order.

        >>> arc = ThreePoints(((0.0, 0.0), (50.0, 50.0), (100.0, 0.0))).solve()
        >>> round(arc.radius_mm, 6), arc.turn
        (50.0, 'right')
        """
        for x, y in self.points:
            if not (math.isfinite(x) and math.isfinite(y) and max(abs(x), abs(y)) <= 1e7):
                raise SurveyError("points", "each point needs two finite coordinates within 10 km")
        first, middle, last = self.points
        ax, ay = middle[0] - first[0], middle[1] - first[1]
        bx, by = last[0] - first[0], last[1] - first[1]
        a, b = math.hypot(ax, ay), math.hypot(bx, by)
        c = math.hypot(last[0] - middle[0], last[1] - middle[1])
        if min(a, b, c) <= TOLERANCE_MM:
            raise SurveyError("points", "the three points must be apart from one another")
        cross = ax * by - ay * bx
        if abs(cross) <= 1e-9 * a * b:
            raise SurveyError("points", "the three points lie on a straight line; enter a straight piece")
        radius_mm = a * b * c / (2 * abs(cross))
        # The inscribed angle at the middle point subtends the arc that does not hold it.
        at_middle = math.atan2(abs(cross), -(ax * (last[0] - middle[0]) + ay * (last[1] - middle[1])))
        return _solved(radius_mm, FULL_TURN - 2 * at_middle, "points", "left" if cross > 0 else "right")


ArcGiven = RadiusAngle | RadiusArcLength | ChordRise | RadiusChord | ArcLengthChord | MatchedCurve | ThreePoints
GIVEN: tuple[type[ArcGiven], ...] = get_args(ArcGiven)
WAYS = (
    "radius and angle; radius and arc; chord and rise; radius and chord; arc and chord; old chord and rise, new arc; "
    "or points"
)


def _given(reader: Reader) -> ArcGiven:
    way, given = told_by_figures(reader, GIVEN)
    if way is None:
        raise reader.error("", f"an arc is given by {WAYS}; {given} was given")
    return read(way, reader, whole=False)


Kink = Annotated[
    float,
    Angle(signed=True),
    "Change of heading before the piece, in degrees, left positive, less than 180 either way. Without it the pieces "
    "join smoothly.",
    As(label="Angle at the joint", hint="degrees, left positive; empty for a smooth joint", left_out=True),
]
OwnLine = Annotated[MeasuredOn | None, "The line these figures were measured on, where it is another than the wall's."]


@dataclass(frozen=True)
class StraightPiece:
    """A straight piece.

    length_mm: > 0. kink_rad: change of heading before it, left positive.
    """

    document_name = "straight"

    shape: ClassVar[Annotated[str, Constant("straight"), "Straight."]] = "straight"
    length_mm: Annotated[float, Length(), "Its length, more than zero."]
    kink_rad: Kink = 0.0


@dataclass(frozen=True)
class ArcPiece:
    """An arc as it was measured.

    turn: the side it turns towards, or None when three points say. measured_on: overrides the survey's line.
    kink_rad: change of heading before it, left positive, between -pi and pi.
    """

    document_name = "arc"
    document_description = f"An arc, given by exactly one of: {WAYS.replace('; or points', '; points')}."

    shape: ClassVar[Annotated[str, Constant("arc"), "An arc."]] = "arc"
    given: Annotated[ArcGiven, As(aside=True)]
    turn: Annotated[
        Turn | None,
        "The side it turns towards, seen while walking; that side is concave. Needed, except with three points, whose "
        "order says it.",
        As(label="Turns", left_out=True),
    ] = None
    measured_on: Annotated[OwnLine, As(left_out=True)] = None
    kink_rad: Kink = 0.0

    def __post_init__(self) -> None:
        if self.turn is not None:
            _one_of("turn", self.turn, TURNS, "the side an arc turns to")
        if self.measured_on is not None:
            _one_of("measured_on", self.measured_on, MEASURED_ON, "the line an arc was measured on")

    @classmethod
    def from_document(cls, reader: Reader) -> Self:
        """In documents the figures stand beside the rest, and say by their names which they are."""
        values = read_all(given=lambda: _given(reader), rest=lambda: read_fields(cls, reader))
        piece = build(cls, reader, {"given": values["given"], **values["rest"]})
        solved = build(piece.given.solve, reader, {})
        if piece.turn is None and solved.turn is None:
            raise reader.error("turn", "say whether the arc turns left or right, as seen while walking")
        return piece

    def to_document(self) -> Document:
        document = write_fields(self)
        return {"shape": document.pop("shape"), **write(self.given), **document}

    @classmethod
    def document_schema(cls, schema: Schema, refs: Refs) -> Schema:
        turn = {"required": ["turn"], "properties": {"turn": {"enum": list(TURNS)}}}
        no_points = {"properties": {"points": {"type": "null"}}}
        return figures_schema(schema, GIVEN, refs) | {"if": no_points, "then": turn}


@dataclass(frozen=True)
class TemplatePiece:
    """An ellipse or irregular run that is built to a held template only: no radius is known anywhere on it.

    length_mm: by tape along the measured line, > 0. chord_mm: straight between its ends on that line, > 0 and at most
    the length. turned_rad: change of heading from its start to its end, left positive, less than a full turn; its
    chord is taken to lie half way between both headings. template: name of the held template, None while there is
    none. measured_on, kink_rad: as of an arc.
    """

    document_name = "to_template"

    shape: ClassVar[Annotated[str, Constant("template"), "To a template only."]] = "template"
    length_mm: Annotated[float, Length(), "Its length by tape along the measured line, more than zero."]
    chord_mm: Annotated[float, Length(), "Straight from end to end on that line, at most the length."]
    turned_rad: Annotated[
        float,
        Angle(signed=True),
        "Change of heading from its start to its end, in degrees, left positive, less than 360 either way; 0 when left "
        "out. Its chord is taken half way between both headings.",
        As(label="Turns in all", hint="degrees from its start to its end, left positive"),
    ] = 0.0
    template: Annotated[
        str | None, "Name of the held template; null while there is none.", As(label="Its template")
    ] = None
    measured_on: OwnLine = None
    kink_rad: Kink = 0.0

    def __post_init__(self) -> None:
        _positive("length", self.length_mm, "the length of a piece built to a template")
        _positive("chord", self.chord_mm, "the chord of a piece built to a template")
        if self.chord_mm > self.length_mm + TOLERANCE_MM:
            raise SurveyError(
                "chord",
                f"the chord is at most the length along the piece, {format_both(self.length_mm)}; "
                f"{format_both(self.chord_mm)} was given",
            )
        if not (math.isfinite(self.turned_rad) and abs(self.turned_rad) < FULL_TURN):
            raise SurveyError("turned", "a piece turns less than 360 degrees either way from its start to its end")
        if self.measured_on is not None:
            _one_of("measured_on", self.measured_on, MEASURED_ON, "the line a piece was measured on")


Piece = StraightPiece | ArcPiece | TemplatePiece


@dataclass(frozen=True)
class HeightStation:
    """The clear height at one place."""

    along_mm: Annotated[
        float,
        Length(),
        "Distance from the start along the centreline.",
        As(label="Distance from the start", hint="along the centreline"),
    ]
    height_mm: Annotated[float, Length(), "Clear height there, floor to ceiling; at most 30 m."]


@dataclass(frozen=True)
class HeightProfile:
    """Clear heights along the wall: (distance along the centreline, height), both mm, straight in between.

    One entry is a level ceiling. Two entries at the same distance are a step.
    """

    stations: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        if not self.stations:
            raise SurveyError("height", "the wall needs at least one height")
        for along_mm, height_mm in self.stations:
            _positive("height", height_mm, "the height")
            if not (math.isfinite(along_mm) and along_mm >= 0):
                raise SurveyError("height", f"a height is at zero or more along the wall, not {format_both(along_mm)}")
            if height_mm > 30_000:
                raise SurveyError("height", f"{format_both(height_mm)} is beyond an interior wall (30 m)")
        places = [along for along, _ in self.stations]
        if places != sorted(places):
            raise SurveyError("height", "heights must be listed in walking order")

    @property
    def is_level(self) -> bool:
        return len({height for _, height in self.stations}) == 1

    @property
    def greatest_mm(self) -> float:
        return max(height for _, height in self.stations)

    def at(self, along_mm: float) -> float:
        """Height in mm at a distance along the centreline (mm, >= 0); level beyond the last station.

        >>> HeightProfile(((0.0, 2400.0), (1000.0, 2600.0))).at(500.0)
        2500.0
        """
        before = self.stations[0]
        for after in self.stations:
            if along_mm < after[0]:
                span = after[0] - before[0]
                if span <= 0:
                    return after[1]
                return before[1] + (after[1] - before[1]) * (along_mm - before[0]) / span
            before = after
        return before[1]

    def least_between(self, from_mm: float, to_mm: float) -> float:
        """Least height in mm between two distances along the centreline (from <= to), seen from inside.

        >>> HeightProfile(((0.0, 2400.0), (500.0, 2100.0), (1000.0, 2400.0))).least_between(0.0, 1000.0)
        2100.0
        """
        return min(self._between(from_mm, to_mm))

    def greatest_between(self, from_mm: float, to_mm: float) -> float:
        """Greatest height in mm between two distances along the centreline (from <= to), seen from inside.

        >>> HeightProfile(((0.0, 2400.0), (1000.0, 2600.0))).greatest_between(0.0, 500.0)
        2500.0
        """
        return max(self._between(from_mm, to_mm))

    def _between(self, from_mm: float, to_mm: float) -> list[float]:
        inside = [height for along, height in self.stations if from_mm < along < to_mm]
        # A step at an end counts on its own side only.
        last = next((height for along, height in self.stations if along == to_mm), self.at(to_mm))
        return [self.at(from_mm), last, *inside]

    def mean_between(self, from_mm: float, to_mm: float) -> float:
        """Mean height in mm between two distances along the centreline (from < to).

        >>> HeightProfile(((0.0, 2400.0), (1000.0, 2600.0))).mean_between(0.0, 1000.0)
        2500.0
        """
        if to_mm - from_mm <= TOLERANCE_MM:
            return self.at(from_mm)
        cuts = [from_mm, *sorted(a for a, _ in self.stations if from_mm < a < to_mm), to_mm]
        area = 0.0
        for a, b in pairwise(cuts):
            # Just inside both ends, so that a step at a cut counts on its own side.
            nudge = (b - a) * 1e-9
            area += (b - a) * (self.at(a + nudge) + self.at(b - nudge)) / 2
        return area / (to_mm - from_mm)


class HeightsOf(Kind):
    """One length for a level ceiling, or a list of stations."""

    stations = Items(Declared(HeightStation), least=1)

    def read(self, reader: Reader, name: str) -> HeightProfile:
        if isinstance(reader.raw(name), list):
            places = tuple((station.along_mm, station.height_mm) for station in self.stations.read(reader, name))
        else:
            places = ((0.0, reader.length(name)),)
        return build(HeightProfile, reader, {"stations": places})

    def write(self, value: HeightProfile, how: Writing) -> Any:
        if len(value.stations) == 1 and value.stations[0][0] == 0:
            return write_length(value.stations[0][1])
        return self.stations.write([HeightStation(*station) for station in value.stations], how)

    def schema(self, refs: Refs) -> Schema:
        return {"anyOf": [refs.part("length"), self.stations.schema(refs)]}


@dataclass(frozen=True)
class OpeningCasing:
    """Casing round an opening: legs and a head that keep the reveal all round, mitred.

    legs: material code of the straight legs. head: code of the head, None where it is the same profile.
    reveal_mm: from the edge of the opening to the casing, >= 0. faces: the faces it stands on.
    """

    document_name = "casing"

    legs: Annotated[str, Text(60), "Code of the profile of the straight legs.", As(label="Casing, legs")]
    head: Annotated[
        str | None, Text(60), "Code of the head; null where it is the same profile.", As(label="Casing, head")
    ] = None
    reveal_mm: Annotated[
        float,
        Length(),
        "From the edge of the opening to the casing; 0 when left out.",
        As(label="Reveal of the casing"),
    ] = 0.0
    faces: Annotated[CasingFaces, "The faces it stands on.", As(label="Casing on")] = "both"

    def __post_init__(self) -> None:
        if not (math.isfinite(self.reveal_mm) and 0 <= self.reveal_mm <= 1000):
            raise SurveyError("reveal", f"a reveal is from zero to 1000 mm; {format_both(self.reveal_mm)} was given")
        _one_of("faces", self.faces, CASING_FACES, "the faces a casing stands on")


@dataclass(frozen=True)
class Opening:
    """A rough opening.

    name: for messages. centre_at_mm: along the measured line (or `measured_on`) from the start to its middle.
    width_mm: a flat frame's straight width, or the width along that line when cut radially. height_mm: of the
    opening itself, to the crown of an arched head; sill_mm: its foot above the floor, 0 for a door. All > 0 but the
    sill, >= 0. arch_rise_mm: of the crown over the spring line, > 0, at most half the width and the height; None for
    a level head. casing: round the opening, None where there is none.
    """

    name: Annotated[str, Text(100), "For messages and papers."]
    centre_at_mm: Annotated[
        float,
        Length(),
        "From the start of the wall to its middle, along the measured line.",
        As(label="Middle, from the start"),
    ]
    width_mm: Annotated[
        float, Length(), "Rough width: straight across for a flat frame, along the measured line for a radial one."
    ]
    height_mm: Annotated[float, Length(), "Rough height of the opening itself."]
    sill_mm: Annotated[float, Length(), "Its foot above the floor; 0 for a door.", As(label="Sill above the floor")] = (
        0.0
    )
    frame: Annotated[OpeningFrame, "flat: a straight frame; radial: cut towards the centre."] = "flat"
    measured_on: Annotated[
        MeasuredOn | None,
        "The line `centre_at` and a radial width follow, where it is another than the wall's.",
    ] = None
    arch_rise_mm: Annotated[
        float | None,
        Length(),
        "Rise of an arched head over its spring line, at most half the width; null for a level head. Only in a "
        "straight piece; `height` is then to the crown.",
        As(label="Rise of the arch", hint="crown over the spring line; the height is to the crown"),
    ] = None
    casing: Annotated[OpeningCasing | None, "The casing round the opening; null where there is none."] = None

    def __post_init__(self) -> None:
        _positive("centre_at", self.centre_at_mm, f"the place of {self.name}")
        _positive("width", self.width_mm, f"the width of {self.name}")
        _positive("height", self.height_mm, f"the height of {self.name}")
        _one_of("frame", self.frame, FRAMES, f"the frame of {self.name}")
        if self.measured_on is not None:
            _one_of("measured_on", self.measured_on, MEASURED_ON, f"the line {self.name} was measured on")
        if not (math.isfinite(self.sill_mm) and self.sill_mm >= 0):
            raise SurveyError("sill", f"the sill of {self.name} must be zero or more")
        self._check_arch()

    def _check_arch(self) -> None:
        if self.arch_rise_mm is None:
            return
        _positive("arch_rise", self.arch_rise_mm, f"the rise of the arch of {self.name}")
        most_mm = min(self.width_mm / 2, self.height_mm)
        if self.arch_rise_mm > most_mm + TOLERANCE_MM:
            raise SurveyError(
                "arch_rise",
                f"the arch of {self.name} rises at most half the width, a half circle, and at most the whole height: "
                f"{format_both(most_mm)}; {format_both(self.arch_rise_mm)} was given",
            )

    @property
    def head_mm(self) -> float:
        """The highest of the opening above the floor: its level head, or the crown of its arch."""
        return self.sill_mm + self.height_mm

    @property
    def is_arched(self) -> bool:
        return self.arch_rise_mm is not None

    @property
    def spring_mm(self) -> float:
        """Where the head begins above the floor: the spring line of an arch, else the head itself."""
        return self.head_mm - (self.arch_rise_mm or 0.0)

    def head_at(self, from_middle_mm: float) -> float:
        """Height of the head above the floor, so far to either side of the middle (mm); the spring line beyond.

        Source: the circle through both springings and the crown, R = c^2/(8h) + h/2, Machinery's Handbook 31, p. 79.

        >>> arched = Opening("Pass", 1000.0, 96.0, 224.0, arch_rise_mm=24.0)
        >>> arched.head_at(0.0), round(arched.head_at(48.0), 6)
        (224.0, 200.0)
        """
        if self.arch_rise_mm is None or abs(from_middle_mm) >= self.width_mm / 2:
            return self.spring_mm
        radius_mm = self.arch_radius_mm
        return self.head_mm - radius_mm + math.sqrt(radius_mm**2 - from_middle_mm**2)

    def width_at(self, height_mm: float) -> float:
        """Width of the opening at a height above the floor (mm): 0 below its sill and above its head.

        >>> Opening("Pass", 1000.0, 96.0, 224.0, arch_rise_mm=24.0).width_at(224.0)
        0.0
        """
        if not self.sill_mm - TOLERANCE_MM <= height_mm < self.head_mm:
            return 0.0
        if self.arch_rise_mm is None or height_mm <= self.spring_mm:
            return self.width_mm
        radius_mm = self.arch_radius_mm
        over_centre = height_mm - (self.head_mm - radius_mm)
        return min(self.width_mm, 2 * math.sqrt(max(0.0, radius_mm**2 - over_centre**2)))

    @property
    def arch_length_mm(self) -> float:
        """Length of the arc under an arched head, radius x sweep; 0 on a level head."""
        if self.arch_rise_mm is None:
            return 0.0
        return self.arch_radius_mm * ChordRise(self.width_mm, self.arch_rise_mm).solve().sweep_rad

    @property
    def arch_area_mm2(self) -> float:
        """Area of the segment between the spring line and the arch, R^2 (sweep - sin sweep) / 2; 0 on a level head."""
        if self.arch_rise_mm is None:
            return 0.0
        sweep_rad = ChordRise(self.width_mm, self.arch_rise_mm).solve().sweep_rad
        return self.arch_radius_mm**2 * (sweep_rad - math.sin(sweep_rad)) / 2

    @property
    def haunches_mm2(self) -> float:
        """What the wall keeps of the opening's upright rectangle: beside the crown of an arch, 0 on a level head."""
        return self.width_mm * (self.arch_rise_mm or 0.0) - self.arch_area_mm2

    @property
    def arch_radius_mm(self) -> float:
        """Radius of the arch; 0 on a level head."""
        if self.arch_rise_mm is None:
            return 0.0
        return ChordRise(self.width_mm, self.arch_rise_mm).solve().radius_mm

    @property
    def reaches_floor(self) -> bool:
        return self.sill_mm <= TOLERANCE_MM


@dataclass(frozen=True)
class Survey:
    """Everything measured of one wall.

    pieces: in walking order, at least one. measured_on: the line the tape followed. stud_depth_mm: > 0.
    left_build_up_mm, right_build_up_mm: total thickness of the layers of each face, >= 0.
    """

    pieces: tuple[Piece, ...]
    heights: HeightProfile
    measured_on: MeasuredOn
    stud_depth_mm: float
    left_build_up_mm: float
    right_build_up_mm: float
    openings: tuple[Opening, ...] = ()

    def __post_init__(self) -> None:
        if not self.pieces:
            raise SurveyError("pieces", "a wall needs at least one piece, straight or arc")
        if self.measured_on not in MEASURED_ON:
            raise SurveyError("measured_on", f"{self.measured_on!r} is not a line of the wall")
        _positive("stud_depth", self.stud_depth_mm, "the stud depth")
        for field, value in (
            ("left_layers", self.left_build_up_mm),
            ("right_layers", self.right_build_up_mm),
        ):
            if not (math.isfinite(value) and value >= 0):
                raise SurveyError(field, f"a build-up must be zero or more; {format_both(value)} was given")
        for index, piece in enumerate(self.pieces):
            if not (math.isfinite(piece.kink_rad) and abs(piece.kink_rad) < math.pi):
                raise SurveyError(f"pieces[{index}].kink", "a kink must be less than 180 degrees either way")
            if isinstance(piece, StraightPiece):
                _positive(f"pieces[{index}].length", piece.length_mm, "the length of a straight piece")
