"""Setting-out figures the carpenter builds from: ordinates, baseline offsets, centre ties, stud and laser marks.

Every table is taken from the curve itself, on whichever of the five lines the work is marked: framing faces for
the track, finished faces for trim. Points are in the curve's own coordinates: from its start, walking along +x.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from itertools import combinations
from typing import Annotated, Literal

from catalog.core.ground.declared import As, View
from catalog.core.ground.units import TOLERANCE_MM
from catalog.core.materials.specs import Fact, Material
from catalog.core.materials.standards import starter_standards
from jobs.core.framing.framing import Framing, Station, StationKind, frame
from jobs.core.measure.curve import FACES, Curve, CurvePiece, Face, Point, curve_of
from jobs.core.measure.survey import LINES, ArcPiece, ChordRise, HeightProfile, Line, Survey, SurveyError, Turn
from jobs.core.measure.wall_spec import FaceBuild, WallSpec

MAX_ROWS = 2000
POOR_CROSSING_RAD = math.radians(30)
"""Two tapes that cross at less than this place a centre badly. Our own convention."""
SAME_PLACE_MM = 1e-3
"""Marks closer than this are one mark."""

_EDGES: tuple[Line, ...] = ("left_framing", "right_framing")
_EXAMPLE_ARC = ArcPiece(ChordRise(4267.2, 762.0), "left")


@dataclass(frozen=True)
class Ordinate(View):
    """One ordinate: along the chord from its start, and square to it out to the line; both mm, >= 0."""

    along_mm: float
    ordinate_mm: float


@dataclass(frozen=True)
class OrdinateTable(View):
    """An arc from its chord, where the centre cannot be reached.

    piece_index: from 0. line: of the five. part, parts: an arc of more than half a circle is set out in two parts.
    start, end: of the chord. chord_mm, radius_mm, rise_mm: of this part on this line. side: of the chord, as seen
    walking, on which the ordinates stand. rows: every interval from the start, the middle and the end.
    """

    piece_index: int
    line: Line
    part: int
    parts: int
    side: Turn
    chord_mm: float
    rise_mm: float
    radius_mm: float
    rows: tuple[Ordinate, ...]
    start: Annotated[Point, As(aside=True)]
    end: Annotated[Point, As(aside=True)]


@dataclass(frozen=True)
class BaselineOffset:
    """One crossing of the wall by a line square to the baseline.

    along_mm: on the baseline from its start, negative before it. offset_mm: left of the baseline positive.
    piece_index: of the piece crossed. on_line_mm: along the wall's own line from its start. joint: whether a piece
    begins or ends here.
    """

    along_mm: float
    offset_mm: float
    piece_index: int
    on_line_mm: float
    joint: bool


@dataclass(frozen=True)
class CentreTies:
    """The centre of an arc, found with two tapes from two fixed points.

    centre: mm. from_first_mm, from_second_mm: the two tapes. side: of the line from first to second, as seen
    walking it, on which the centre lies. crossing_rad: angle at which the tapes cross, 0 to pi/2; is_good: not less
    than 30 degrees. radii_mm: of each of the five lines, to swing from the centre.
    """

    piece_index: int
    centre: Point
    from_first_mm: float
    from_second_mm: float
    side: Turn
    crossing_rad: float
    radii_mm: tuple[tuple[Line, float], ...]

    @property
    def is_good(self) -> bool:
        return self.crossing_rad >= POOR_CROSSING_RAD


@dataclass(frozen=True)
class Members:
    """`count` members of one kind at a place. face: whose sheet end flat studs back, else None."""

    kind: StationKind
    count: int
    face: Face | None = None


@dataclass(frozen=True)
class StudMark:
    """One place on the track where studs stand.

    number: from 1, one a place. members: what stands there, flat studs last. piece_index: from 0.
    links: whole links from the start of the piece, past_link_mm: what is over; None without a link pitch.
    left_mm, right_mm: tape from the wall's start along the left and right edge of the top track.
    bottom_run: which length of bottom track, from 1, None in a door; bottom_left_mm, bottom_right_mm: tape from
    the start of that length.
    """

    number: int
    members: tuple[Members, ...]
    piece_index: int
    links: int | None
    past_link_mm: float | None
    left_mm: float
    right_mm: float
    bottom_run: int | None
    bottom_left_mm: float | None
    bottom_right_mm: float | None

    @property
    def count(self) -> int:
        return sum(entry.count for entry in self.members)


@dataclass(frozen=True)
class LaserMark:
    """Two points through which a line laser shows the tangent at one end of an arc.

    piece_index: from 0. end: of the arc. at: the end itself on the line; on: `reach_mm` from it along the tangent,
    back from the arc at its start and on from it at its end. heading_rad: of walking there.
    """

    piece_index: int
    line: Line
    end: Literal["start", "end"]
    at: Point
    on: Point
    heading_rad: float


@dataclass(frozen=True)
class ArcTangents:
    """Both laser marks of an arc. tangent_mm: from either end to where the tangents cross; None from half a circle."""

    start: LaserMark
    end: LaserMark
    crossing: Point | None
    tangent_mm: float | None


@dataclass(frozen=True)
class Diagonal:
    """A straight check between two named points of the chain: "start", "joint 1", "end"; mm."""

    from_name: str
    to_name: str
    length_mm: float


def ordinates_from_chord(curve: Curve, piece_index: int, line: Line, interval_mm: float) -> tuple[OrdinateTable, ...]:
    """The ordinates of an arc from its chord, on one of the five lines.

    Args:
        curve: the wall. piece_index: of an arc, from 0. line: of the five. interval_mm: along the chord, > 0.

    Returns:
        One table; two, each of half the arc, when it turns more than half a circle.

    Raises:
        SurveyError: no such arc, or an interval that is not more than zero or gives over 2,000 rows.

    Source: y = h - t^2/(R + sqrt(R^2 - t^2)) at t from the middle of the chord, Pythagoras written to keep its
    digits on a gentle arc.

    >>> table = ordinates_from_chord(_example(), 0, "right_framing", 500.0)[0]
    >>> round(table.chord_mm, 6), round(table.rise_mm, 6), len(table.rows)
    (4267.2, 762.0, 11)
    """
    piece = _arc(curve, piece_index)
    _interval(interval_mm)
    parts = 1 if piece.sweep_rad <= math.pi + 1e-9 else 2
    return tuple(_ordinates(curve, piece, line, interval_mm, part, parts) for part in range(parts))


def _ordinates(curve: Curve, piece: CurvePiece, line: Line, interval_mm: float, part: int, parts: int) -> OrdinateTable:
    offset_mm = curve.offset_mm(line)
    radius_mm, half_rad = piece.radius_at(offset_mm), piece.sweep_rad / parts / 2
    half_mm = radius_mm * math.sin(min(half_rad, math.pi / 2))
    rise_mm = 2 * radius_mm * math.sin(half_rad / 2) ** 2

    def row(along_mm: float) -> Ordinate:
        from_middle = along_mm - half_mm
        beyond = math.sqrt(max(0.0, radius_mm**2 - from_middle**2))
        return Ordinate(along_mm, max(0.0, rise_mm - from_middle**2 / (radius_mm + beyond)))

    places = _steps(0.0, 2 * half_mm, interval_mm, (half_mm,))
    start, end = (piece.point_at((part + way) / parts, offset_mm) for way in (0, 1))
    # An arc that turns left bows to the right of its chord.
    side: Turn = "right" if piece.turn > 0 else "left"
    rows = tuple(row(place) for place in places)
    return OrdinateTable(piece.index, line, part + 1, parts, side, 2 * half_mm, rise_mm, radius_mm, rows, start, end)


def offsets_from_baseline(
    curve: Curve, line: Line, interval_mm: float, baseline: tuple[Point, Point] | None = None
) -> tuple[BaselineOffset, ...]:
    """The whole chain from one straight baseline: every crossing at every interval, and every joint.

    Args:
        curve: the wall. line: of the five. interval_mm: along the baseline, > 0. baseline: two points, mm; None for
            the straight from the start of that line to its end.

    Returns:
        The crossings in walking order; a wall that folds back over the baseline has several at one place.

    Raises:
        SurveyError: an interval that is not more than zero or gives over 2,000 rows, or a baseline of no length (a
            closed wall needs one to be named).

    Source: where a straight square to the baseline meets a straight or a circle.

    >>> rows = offsets_from_baseline(_example(), "right_framing", 2133.6)
    >>> [(round(row.along_mm, 3), round(row.offset_mm, 3)) for row in rows]
    [(0.0, 0.0), (2133.6, -762.0), (4267.2, 0.0)]
    """
    _interval(interval_mm)
    offset_mm = curve.offset_mm(line)
    first = curve.pieces[0].point_at(0.0, offset_mm)
    origin, towards = baseline or (first, curve.pieces[-1].point_at(1.0, offset_mm))
    if not math.dist(origin, towards) > 1.0:
        raise SurveyError(
            "baseline", "a baseline needs two points apart; the wall ends where it starts, so name two fixed points"
        )
    angle = math.atan2(towards[1] - origin[1], towards[0] - origin[0])
    rows: list[BaselineOffset] = []
    passed = 0.0
    for piece in curve.pieces:
        length_mm = piece.length_at(offset_mm)
        offsets = sorted({*_crossings(piece, offset_mm, origin, angle, interval_mm), 0.0, 1.0})
        for share in offsets:
            x, y = _seen_from(piece.point_at(share, offset_mm), origin, angle)
            rows.append(BaselineOffset(x, y, piece.index, passed + length_mm * share, share in (0.0, 1.0)))
        passed += length_mm
        if len(rows) > MAX_ROWS:
            raise SurveyError("interval", f"{interval_mm:g} mm gives over {MAX_ROWS} rows; take a wider interval")
    return tuple(_each_place_once(rows))


def _crossings(piece: CurvePiece, offset_mm: float, origin: Point, angle: float, interval_mm: float) -> Iterable[float]:
    """Shares of the piece, inside its ends, that lie at whole intervals along the baseline."""
    if piece.is_template:
        return  # between its ends only the template knows
    heading = piece.heading_rad - angle
    start_x, _ = _seen_from(piece.point_at(0.0, offset_mm), origin, angle)
    if not piece.is_arc:
        run = piece.length_mm * math.cos(heading)
        if abs(run) > TOLERANCE_MM:
            for place in _whole_steps(start_x, start_x + run, interval_mm):
                yield from _inside(piece, (place - start_x) / run)
        return
    radius_mm = piece.turn * piece.radius_at(offset_mm)
    centre_x = start_x - radius_mm * math.sin(heading)
    for place in _whole_steps(centre_x - abs(radius_mm), centre_x + abs(radius_mm), interval_mm):
        turned = math.asin(min(1.0, max(-1.0, (place - centre_x) / radius_mm)))
        for way in (turned, math.pi - turned):
            share = piece.turn * (way - heading) % (2 * math.pi) / piece.sweep_rad
            yield from _inside(piece, share)


def _inside(piece: CurvePiece, share: float) -> Iterable[float]:
    margin = SAME_PLACE_MM / piece.length_mm
    if margin < share < 1 - margin:
        yield share


def _each_place_once(rows: Iterable[BaselineOffset]) -> Iterable[BaselineOffset]:
    # At a kink a line off the centre has two points for one place along it: both are marked.
    before: BaselineOffset | None = None
    for row in rows:
        here = (row.along_mm, row.offset_mm)
        if before is None or math.dist(here, (before.along_mm, before.offset_mm)) > SAME_PLACE_MM:
            yield row
        before = row


def centre_ties(curve: Curve, piece_index: int, first: Point | None = None, second: Point | None = None) -> CentreTies:
    """The distances by which two tapes find the centre of an arc.

    Args:
        curve: the wall. piece_index: of an arc, from 0. first, second: fixed points, mm; None for the start and the
            end of that arc's centreline.

    Returns:
        The ties, and the radius to swing for each of the five lines.

    Raises:
        SurveyError: no such arc, or fixed points that are not apart.

    Source: two circles meet in two points; the side says which. Plane geometry.

    >>> ties = centre_ties(_example(), 0)
    >>> round(ties.from_first_mm, 4) == round(ties.from_second_mm, 4) == round(3368.04 - 92.075 / 2, 4), ties.side
    (True, 'left')
    """
    piece = _arc(curve, piece_index)
    pair, other = first or piece.point_at(0.0), second or piece.point_at(1.0)
    if not math.dist(pair, other) > 1.0:
        raise SurveyError("points", "two tapes need two fixed points apart from one another; name them")
    towards = piece.heading_rad + piece.turn * math.pi / 2
    centre = (
        piece.start[0] + piece.radius_mm * math.cos(towards),
        piece.start[1] + piece.radius_mm * math.sin(towards),
    )
    to_one, to_other = math.dist(centre, pair), math.dist(centre, other)
    cross = (other[0] - pair[0]) * (centre[1] - pair[1]) - (other[1] - pair[1]) * (centre[0] - pair[0])
    lean = (pair[0] - centre[0]) * (other[0] - centre[0]) + (pair[1] - centre[1]) * (other[1] - centre[1])
    crossing = math.atan2(abs(cross), abs(lean))
    radii = tuple((line, piece.radius_at(curve.offset_mm(line))) for line in LINES)
    return CentreTies(piece.index, centre, to_one, to_other, "left" if cross >= 0 else "right", crossing, radii)


def stud_marks(framing: Framing, link_pitch_mm: float | None = None) -> tuple[StudMark, ...]:
    """Where the studs are marked on the track, by links counted and by a running tape.

    Args:
        framing: set out. link_pitch_mm: of the track along its convex edge, > 0; None for track without links.

    Returns:
        One mark for each place, in walking order. Links are counted from the start of each piece, the same on the
        top and the bottom track; tapes run along both edges of each. A jamb is marked where its opening cuts that
        edge, for the jambs of a flat frame are parallel and not square to the arc.

    Raises:
        SurveyError: a framing with no stations, or a pitch not more than zero.

    Source: studs every whole number of links is common practice; tapes by radius x sweep of each edge.

    >>> marks = stud_marks(_example_framing(), 50.8)
    >>> marks[1].links, round(marks[1].right_mm, 1), round(marks[1].left_mm, 1)
    (4, 203.2, 197.6)
    """
    if not framing.is_complete:
        raise SurveyError("framing", "studs cannot be marked before the framing is set out; fill its gaps first")
    if link_pitch_mm is not None and not (math.isfinite(link_pitch_mm) and link_pitch_mm > 0):
        raise SurveyError("link_pitch", f"the pitch of a link must be more than zero; {link_pitch_mm:g} was given")
    curve, runs = framing.curve, _bottom_runs(framing.curve)
    marks: list[StudMark] = []
    for here in _places(framing.stations):
        place_mm, piece = here[0].along_mm, curve.pieces[here[0].piece_index]
        on_edges = {line: _on_edge(curve, line, place_mm) for line in _EDGES}
        links, past = _links(curve, piece, on_edges, link_pitch_mm)
        number = next((n for n, run in enumerate(runs, start=1) if run.holds(place_mm)), None)
        from_run = {
            line: None if number is None else max(0.0, on_edges[line] - runs[number - 1].starts[line])
            for line in _EDGES
        }
        marks.append(
            StudMark(
                len(marks) + 1,
                _members(here),
                piece.index,
                links,
                past,
                on_edges["left_framing"],
                on_edges["right_framing"],
                number,
                from_run["left_framing"],
                from_run["right_framing"],
            )
        )
    return tuple(marks)


def _members(here: Iterable[Station]) -> tuple[Members, ...]:
    counted: Counter[tuple[StationKind, Face | None]] = Counter()
    for station in here:
        counted[station.kind, station.face] += station.count
    members = (Members(kind, count, face) for (kind, face), count in counted.items())
    return tuple(
        sorted(members, key=lambda entry: (entry.kind == "sheet_end", FACES.index(entry.face) if entry.face else -1))
    )


@dataclass(frozen=True)
class _BottomRun:
    """A length of bottom track: from and to on the centreline, and where it starts on each edge; mm."""

    from_mm: float
    to_mm: float
    starts: dict[Line, float]

    def holds(self, place_mm: float) -> bool:
        return self.from_mm - SAME_PLACE_MM <= place_mm <= self.to_mm + SAME_PLACE_MM


def _bottom_runs(curve: Curve) -> list[_BottomRun]:
    doors = sorted((laid for laid in curve.openings if laid.opening.reaches_floor), key=lambda laid: laid.span_mm)
    edges = [0.0, *(edge for laid in doors for edge in laid.span_mm), curve.centre_length_mm]
    return [
        _BottomRun(low, high, {line: _on_edge(curve, line, low) for line in _EDGES})
        for low, high in zip(edges[::2], edges[1::2], strict=True)
        if high - low > SAME_PLACE_MM
    ]


def _places(stations: Iterable[Station]) -> list[list[Station]]:
    places: list[list[Station]] = []
    for station in sorted(stations, key=lambda entry: entry.along_mm):
        if places and station.along_mm - places[-1][0].along_mm <= SAME_PLACE_MM:
            places[-1].append(station)
        else:
            places.append([station])
    return places


def _on_edge(curve: Curve, line: Line, place_mm: float) -> float:
    """Along an edge, abreast of a place; at a jamb, where the opening really cuts that edge.

    The jambs of a flat frame are parallel, so it takes a larger share of the tighter edge than of the wider.
    """
    for laid in curve.openings:
        for edge_mm, way in zip(laid.span_mm, (-1, 1), strict=True):
            if abs(edge_mm - place_mm) <= SAME_PLACE_MM:
                return curve.developed_mm(line, laid.centre_mm) + way * laid.taken_mm[line] / 2
    return curve.developed_mm(line, place_mm)


def _links(
    curve: Curve, piece: CurvePiece, on_edges: dict[Line, float], pitch_mm: float | None
) -> tuple[int | None, float | None]:
    if pitch_mm is None:
        return None, None
    convex = curve.line_of(piece, "convex", "framing")
    along_edge = on_edges[convex] - curve.developed_mm(convex, piece.start_mm)
    whole = math.floor((along_edge + SAME_PLACE_MM) / pitch_mm)
    return whole, max(0.0, along_edge - whole * pitch_mm)


def laser_marks(curve: Curve, line: Line, reach_mm: float) -> tuple[ArcTangents, ...]:
    """The tangents at both ends of every arc, each by two points for a line laser.

    Args:
        curve: the wall. line: of the five. reach_mm: from the arc's end to the second point, > 0.

    Returns:
        One entry an arc, in walking order.

    Raises:
        SurveyError: a reach not more than zero.

    Source: T = R tan(sweep / 2), any text on route curves (US Army FM 5-430-00-1).

    >>> arc = laser_marks(_example(), "centre", 1000.0)[0]
    >>> arc.start.at, arc.start.on
    ((0.0, 0.0), (-1000.0, 0.0))
    """
    if not (math.isfinite(reach_mm) and reach_mm > 0):
        raise SurveyError("reach", f"the second laser mark must stand more than zero away; {reach_mm:g} was given")
    return tuple(_tangents(curve, piece, line, reach_mm) for piece in curve.pieces if piece.is_arc)


def _tangents(curve: Curve, piece: CurvePiece, line: Line, reach_mm: float) -> ArcTangents:
    offset_mm = curve.offset_mm(line)
    start, end = piece.point_at(0.0, offset_mm), piece.point_at(1.0, offset_mm)
    back = LaserMark(piece.index, line, "start", start, _from(start, piece.heading_rad, -reach_mm), piece.heading_rad)
    on = LaserMark(piece.index, line, "end", end, _from(end, piece.end_heading_rad, reach_mm), piece.end_heading_rad)
    if piece.sweep_rad >= math.pi - 1e-9:
        return ArcTangents(back, on, None, None)
    tangent_mm = piece.radius_at(offset_mm) * math.tan(piece.sweep_rad / 2)
    return ArcTangents(back, on, _from(start, piece.heading_rad, tangent_mm), tangent_mm)


def check_diagonals(curve: Curve, line: Line) -> tuple[Diagonal, ...]:
    """Straight distances between every two ends and joints of the chain, to prove it before anything is fixed.

    Args:
        curve: the wall. line: of the five.

    Returns:
        Neighbours first to last: start, joints, end. A joint with a kink is taken where the piece after it starts.

    Raises:
        nothing of its own.

    Source: a chain of points is fixed by the distances between them; plane geometry.

    >>> [(one.from_name, one.to_name, round(one.length_mm, 1)) for one in check_diagonals(_example(), "right_framing")]
    [('start', 'end', 4267.2)]
    """
    offset_mm = curve.offset_mm(line)
    points = [
        ("start" if piece.index == 0 else f"joint {piece.index}", piece.point_at(0.0, offset_mm))
        for piece in curve.pieces
    ]
    if not curve.is_closed:
        points.append(("end", curve.pieces[-1].point_at(1.0, offset_mm)))
    return tuple(Diagonal(pair[0], other[0], math.dist(pair[1], other[1])) for pair, other in combinations(points, 2))


def _arc(curve: Curve, piece_index: int) -> CurvePiece:
    if not 0 <= piece_index < len(curve.pieces):
        raise SurveyError("piece", f"the wall has {len(curve.pieces)} pieces; there is no piece {piece_index + 1}")
    piece = curve.pieces[piece_index]
    if not piece.is_arc:
        shape = "built to a template" if piece.is_template else "straight"
        raise SurveyError("piece", f"piece {piece_index + 1} is {shape}: it has no centre to swing it from")
    return piece


def _interval(interval_mm: float) -> None:
    if not (math.isfinite(interval_mm) and interval_mm > 0):
        raise SurveyError("interval", f"the interval must be more than zero; {interval_mm:g} mm was given")


def _steps(from_mm: float, to_mm: float, interval_mm: float, also: tuple[float, ...]) -> list[float]:
    places = sorted({*_whole_steps(from_mm, to_mm, interval_mm), from_mm, *also, to_mm})
    steps = [places[0]]
    for place in places[1:]:
        if place - steps[-1] > TOLERANCE_MM:
            steps.append(place)
    return steps


def _whole_steps(from_mm: float, to_mm: float, interval_mm: float) -> list[float]:
    low, high = sorted((from_mm, to_mm))
    first, last = math.ceil((low - TOLERANCE_MM) / interval_mm), math.floor((high + TOLERANCE_MM) / interval_mm)
    if last - first > MAX_ROWS:
        raise SurveyError("interval", f"{interval_mm:g} mm gives over {MAX_ROWS} rows; take a wider interval")
    return [step * interval_mm for step in range(first, last + 1)]


def _seen_from(point: Point, origin: Point, angle: float) -> Point:
    dx, dy = point[0] - origin[0], point[1] - origin[1]
    return dx * math.cos(angle) + dy * math.sin(angle), dy * math.cos(angle) - dx * math.sin(angle)


def _from(point: Point, heading_rad: float, by_mm: float) -> Point:
    return point[0] + by_mm * math.cos(heading_rad), point[1] + by_mm * math.sin(heading_rad)


def _example() -> Curve:
    # Chord 14'-0", rise 2'-6" on the convex framing line of a 3-5/8 in wall.
    heights = HeightProfile(((0.0, 2743.2),))
    return curve_of(Survey((_EXAMPLE_ARC,), heights, "convex_framing", 92.075, 12.7, 12.7))


def _example_framing() -> Framing:
    curve, bare = _example(), FaceBuild(())
    wall = WallSpec(
        "w", "Wall", "convex_framing", (_EXAMPLE_ARC,), curve.heights, "T", "S", bare, bare, stud_spacing_mm=220.0
    )
    pitch = Fact(Decimal("50.8"), "example", "maker")
    track = Material("T", "Track", "track", "stocked", "ft", "stick", None, facts={"link_pitch_mm": pitch})
    return frame(curve, wall, {"T": track}, starter_standards())
