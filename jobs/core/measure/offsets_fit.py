"""Offsets from a straight baseline turned into the fewest straight and arc pieces within a tolerance.

The chain starts at the first offset. Its pieces run smoothly into one another; a kink is taken only where the
offsets do not fit without it, and is reported. An arc too flat to be told from a straight is made straight.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Annotated

from catalog.core.ground.declared import Length
from catalog.core.ground.units import System, format_degrees, format_length
from jobs.core.measure.circle_fit import ArcFit, fit_arc, off_arc_mm, squares_of_fit
from jobs.core.measure.curve import Point
from jobs.core.measure.findings import Finding
from jobs.core.measure.least_squares import refine
from jobs.core.measure.survey import ArcPiece, RadiusArcLength, StraightPiece, SurveyError

MAX_OFFSETS = 200
MAX_PIECES = 12
KINK_FROM_RAD = math.radians(2)
"""Two pieces whose own directions differ by less than this are taken to run smoothly into one another. Our own."""

_MIN_POINTS = 3
_STEEPEST_SLOPE = 20.0
# Cosines of the steepest heading a chain may take, and of the steepest its first guess may take.
_STEEPEST = 1e-3
_STEEPEST_GUESS = 0.05
_SOURCE = "Least squares, square off the wall: Taubin's fit as the start, Gauss-Newton refinement of the whole chain"


@dataclass(frozen=True)
class Offset:
    """One offset from a straight baseline."""

    document_name = "baseline_offset"

    along_mm: Annotated[float, Length(signed=True), "Along the baseline from its start."]
    offset_mm: Annotated[float, Length(signed=True), "Square to the baseline, left of walking positive."]


@dataclass(frozen=True)
class Deviation:
    """How far one measured place stands off the fitted wall, square to it, left positive; mm."""

    along_mm: float
    offset_mm: float
    deviation_mm: float


@dataclass(frozen=True)
class OffsetsFit:
    """A wall fitted to offsets.

    pieces: in walking order, as a survey takes them, measured on the line the offsets were taken to. start: of the
    first piece, in the baseline's coordinates, mm. heading_rad: of walking there, from the baseline's direction,
    left positive. deviations: one for each offset. tolerance_mm: that was asked for. findings: what must be read.
    """

    pieces: tuple[StraightPiece | ArcPiece, ...]
    start: Point
    heading_rad: float
    deviations: tuple[Deviation, ...]
    tolerance_mm: float
    findings: tuple[Finding, ...]

    @property
    def largest(self) -> Deviation:
        """The largest deviation and its place."""
        return max(self.deviations, key=lambda deviation: abs(deviation.deviation_mm))

    @property
    def rms_mm(self) -> float:
        """Root of the mean squared deviation, mm, >= 0."""
        return math.sqrt(math.fsum(deviation.deviation_mm**2 for deviation in self.deviations) / len(self.deviations))

    @property
    def is_within_tolerance(self) -> bool:
        return abs(self.largest.deviation_mm) <= self.tolerance_mm

    @property
    def kinks_rad(self) -> tuple[float, ...]:
        """The change of heading at each joint between pieces, left positive; 0 where they run on smoothly."""
        return tuple(piece.kink_rad for piece in self.pieces[1:])


@dataclass(frozen=True)
class _Link:
    """One piece of a chain as it is refined. All lengths are shares of the measured span."""

    x: float
    y: float
    heading: float
    curvature: float
    length: float

    @property
    def end(self) -> tuple[float, float, float]:
        half = self.curvature * self.length / 2
        chord = self.length * (math.sin(half) / half if abs(half) > 1e-9 else 1.0)
        towards = self.heading + half
        return self.x + chord * math.cos(towards), self.y + chord * math.sin(towards), self.heading + 2 * half


@dataclass(frozen=True)
class _Form:
    """What may vary: pieces that are arcs, and joints (by the piece after them) that may kink."""

    arcs: tuple[bool, ...]
    kinks: frozenset[int]

    def unpack(self, unknowns: Sequence[float]) -> tuple[float, list[float], list[float], list[float]]:
        """Heading at the start, then for each piece its kink, curvature and length; the last has no length."""
        rest = iter(unknowns)
        heading = next(rest)
        kinks = [next(rest) if place in self.kinks else 0.0 for place in range(len(self.arcs))]
        curvatures = [next(rest) if arc else 0.0 for arc in self.arcs]
        return heading, kinks, curvatures, [*rest, math.inf]

    def pack(
        self, heading: float, kinks: Sequence[float], curvatures: Sequence[float], lengths: Sequence[float]
    ) -> list[float]:
        bent = [kinks[place] for place in range(len(self.arcs)) if place in self.kinks]
        curved = [curvature for curvature, arc in zip(curvatures, self.arcs, strict=True) if arc]
        return [heading, *bent, *curved, *lengths[: len(self.arcs) - 1]]


@dataclass(frozen=True)
class _Chain:
    form: _Form
    unknowns: tuple[float, ...]
    deviations: tuple[float, ...]

    @property
    def largest(self) -> float:
        return max(abs(deviation) for deviation in self.deviations)


def fit_offsets(offsets: Sequence[Offset], tolerance_mm: float, key: str, system: System) -> OffsetsFit:
    """Fit the fewest straight and arc pieces to offsets from a straight baseline.

    Args:
        offsets: from 3 to 200, in walking order, each further along the baseline than the one before; the wall
            nowhere square to the baseline. tolerance_mm: how far the wall may be from any of them, > 0: no finer
            than the tape. key: what findings are about, such as "screen". system: of the words.

    Returns:
        The fit. Where no chain of as many pieces as the offsets bear keeps the tolerance, the nearest one with a
        finding that asks for a template; kinks are findings too.

    Raises:
        SurveyError: too few or too many offsets, one not finite, out of order or all but square to the baseline from
            the one before, or a tolerance not more than zero.

    Source: least squares; fewest pieces first, a smooth chain before one with kinks: our own convention.

    >>> arc = [Offset(x, math.sqrt(3000.0**2 - (x - 1200.0) ** 2) - 2749.5454) for x in range(0, 2401, 200)]
    >>> fit = fit_offsets(arc, 2.0, "w", "metric")
    >>> len(fit.pieces), fit.pieces[0].turn, round(fit.pieces[0].given.radius_mm)
    (1, 'right', 3000)
    """
    check_offsets(offsets, tolerance_mm)
    span_mm = offsets[-1].along_mm - offsets[0].along_mm
    points = [
        ((offset.along_mm - offsets[0].along_mm) / span_mm, (offset.offset_mm - offsets[0].offset_mm) / span_mm)
        for offset in offsets
    ]
    chain = _fewest(points, tolerance_mm / span_mm)
    pieces, heading_rad = _pieces(chain, points, span_mm)
    deviations = tuple(
        Deviation(offset.along_mm, offset.offset_mm, off * span_mm)
        for offset, off in zip(offsets, chain.deviations, strict=True)
    )
    start = (offsets[0].along_mm, offsets[0].offset_mm)
    bare = OffsetsFit(pieces, start, heading_rad, deviations, tolerance_mm, ())
    findings = tuple(_findings(bare, key, system))
    return OffsetsFit(pieces, start, heading_rad, deviations, tolerance_mm, findings)


def check_offsets(offsets: Sequence[Offset], tolerance_mm: float) -> None:
    """Refuse offsets, or a tolerance, that no wall can be fitted to; arguments and errors as of `fit_offsets`.

    >>> check_offsets([Offset(0.0, 0.0), Offset(500.0, 3.0), Offset(1000.0, 0.0)], 5.0)
    """
    if not (math.isfinite(tolerance_mm) and tolerance_mm > 0):
        raise SurveyError("tolerance", f"the tolerance must be more than zero; {tolerance_mm:g} mm was given")
    if not 3 <= len(offsets) <= MAX_OFFSETS:
        raise SurveyError("offsets", f"a wall is fitted to 3 to {MAX_OFFSETS} offsets; {len(offsets)} were given")
    for index, offset in enumerate(offsets):
        for field, value in (("along", offset.along_mm), ("offset", offset.offset_mm)):
            if not (math.isfinite(value) and abs(value) <= 1e7):
                raise SurveyError(f"offsets[{index}].{field}", f"must be a length within 10 km; {value:g} was given")
    for index, (before, after) in enumerate(pairwise(offsets), start=1):
        if not after.along_mm - before.along_mm > 1e-3:
            raise SurveyError(
                f"offsets[{index}].along",
                f"each offset must stand further along the baseline than the one before ({before.along_mm:g} mm); "
                f"{after.along_mm:g} mm was given",
            )
        if abs(after.offset_mm - before.offset_mm) > _STEEPEST_SLOPE * (after.along_mm - before.along_mm):
            raise SurveyError(
                f"offsets[{index}].offset",
                f"from {before.offset_mm:g} to {after.offset_mm:g} mm the wall runs almost square to the baseline; "
                "check the figure, or use a baseline along that part",
            )


def _fewest(points: Sequence[Point], tolerance: float) -> _Chain:
    most = max(1, min(MAX_PIECES, len(points) // _MIN_POINTS))
    cuts, squares = _partitions(points, most)
    nearest: _Chain | None = None
    for count in range(1, most + 1):
        # No chain does better than its pieces fitted apart: hopeless counts are not refined. The estimate of
        # their squares is rough on strongly bent pieces, so it is given room.
        if count < most and squares[count - 1] > 4 * len(points) * tolerance**2:
            continue
        for chain in _chains(points, cuts[count - 1]):
            if nearest is None or chain.largest < nearest.largest:
                nearest = chain
            if chain.largest <= tolerance:
                return _snapped(points, chain, tolerance)
    if nearest is None:
        raise AssertionError("one straight can always be drawn through offsets in order")
    return nearest


def _partitions(points: Sequence[Point], most: int) -> tuple[list[tuple[int, ...]], list[float]]:
    """For 1 to `most` pieces: where to cut the points so that pieces fitted apart leave the least squares."""
    count = len(points)
    least = min(_MIN_POINTS, count)
    cost = _segment_squares(points)
    best: list[dict[int, tuple[float, tuple[int, ...]]]] = [{to: (cost[0][to], ()) for to in range(least, count + 1)}]
    for _ in range(1, most):
        level: dict[int, tuple[float, tuple[int, ...]]] = {}
        for to in range(least * (len(best) + 1), count + 1):
            options = [
                (squares + cost[cut][to], (*cuts, cut))
                for cut, (squares, cuts) in best[-1].items()
                if to - cut >= least
            ]
            if options:
                level[to] = min(options)
        best.append(level)
    return [level[count][1] for level in best], [level[count][0] for level in best]


def _segment_squares(points: Sequence[Point]) -> list[dict[int, float]]:
    """cost[i][j]: about the squares left by the best arc through points i to j - 1."""
    costs: list[dict[int, float]] = []
    for first in range(len(points)):
        from_x, from_y = points[first]
        sums = [0.0] * 9
        row: dict[int, float] = {}
        for to in range(first, len(points)):
            # Sums about the segment's own first point, so that short segments keep their digits.
            x, y = points[to][0] - from_x, points[to][1] - from_y
            z = x * x + y * y
            for place, value in enumerate((1.0, x, y, x * x, x * y, y * y, x * z, y * z, z * z)):
                sums[place] += value
            row[to + 1] = squares_of_fit(sums) if to - first >= 3 else 0.0
        costs.append(row)
    return costs


def _chains(points: Sequence[Point], cuts: tuple[int, ...]) -> Iterable[_Chain]:
    """Chains of these pieces: smooth, then with kinks where the pieces fitted apart meet at the sharpest angles."""
    bounds = [0, *cuts, len(points)]
    apart = [fit_arc(points[low:high]) for low, high in pairwise(bounds)]
    places = [(points[cut - 1][0] + points[cut][0]) / 2 for cut in cuts]
    bends = [
        _heading_at(after, x) - _heading_at(before, x)
        for (before, after), x in zip(pairwise(apart), places, strict=True)
    ]
    clear = [place for place, bend in enumerate(bends, start=1) if abs(bend) >= KINK_FROM_RAD]
    sharpest = sorted(clear, key=lambda place: -abs(bends[place - 1]))
    for many in range(len(sharpest) + 1):
        form = _Form((True,) * len(apart), frozenset(sharpest[:many]))
        start = _start(points, apart, places, bends, form)
        if start is not None:
            yield _refined(points, form, start)


def _heading_at(fit: ArcFit, x: float) -> float:
    # Along the arc the sine of the heading grows by curvature x run; beyond its side it stays at its steepest.
    sine = math.sin(fit.heading_rad) + fit.curvature_per_mm * (x - fit.at[0])
    return math.asin(min(max(sine, -0.99), 0.99))


def _start(
    points: Sequence[Point], apart: Sequence[ArcFit], places: Sequence[float], bends: Sequence[float], form: _Form
) -> list[float] | None:
    edges = [points[0][0], *places, points[-1][0]]
    curvatures = [fit.curvature_per_mm for fit in apart]
    lengths = []
    for fit, (from_x, to_x) in zip(apart, pairwise(edges), strict=True):
        from_rad, to_rad = _heading_at(fit, from_x), _heading_at(fit, to_x)
        lengths.append((to_x - from_x) / max(math.cos((from_rad + to_rad) / 2), _STEEPEST_GUESS))
    first = _heading_at(apart[0], edges[0])
    kinks = [0.0, *bends]
    for calmer in (1.0, 0.5, 0.25, 0.0):
        start = form.pack(first, kinks, [curvature * calmer for curvature in curvatures], lengths)
        if _residuals(points, form, start) is not None:
            return start
    # A straight chord from the first point to the last always stands.
    chord = math.atan2(points[-1][1] - points[0][1], points[-1][0] - points[0][0])
    flat = [(to_x - from_x) / math.cos(chord) for from_x, to_x in pairwise(edges)]
    start = form.pack(chord, [0.0] * len(apart), [0.0] * len(apart), flat)
    return start if _residuals(points, form, start) is not None else None


def _links(form: _Form, unknowns: Sequence[float]) -> list[_Link]:
    heading, kinks, curvatures, lengths = form.unpack(unknowns)
    links: list[_Link] = []
    x, y = 0.0, 0.0
    for kink, curvature, length in zip(kinks, curvatures, lengths, strict=True):
        link = _Link(x, y, heading + kink, curvature, length)
        links.append(link)
        if math.isfinite(length):
            x, y, heading = link.end
    return links


def _residuals(points: Sequence[Point], form: _Form, unknowns: Sequence[float]) -> list[float] | None:
    """Deviations of the points; None where the chain turns square to the baseline or a piece holds no point."""
    links = _links(form, unknowns)
    steepest = math.acos(_STEEPEST)
    for before, after in pairwise(links):
        if not (before.length > 0 and abs(before.end[2]) < steepest and after.x > before.x):
            return None
    if any(abs(link.heading) >= steepest for link in links):
        return None
    residuals: list[float] = []
    place, held = 0, 0
    for point in points:
        while place + 1 < len(links) and point[0] > links[place + 1].x:
            if held == 0:
                return None
            place, held = place + 1, 0
        link = links[place]
        held += 1
        residuals.append(off_arc_mm(point, (link.x, link.y), link.heading, link.curvature))
    return residuals if place == len(links) - 1 else None


def _refined(points: Sequence[Point], form: _Form, start: Sequence[float]) -> _Chain:
    unknowns = refine(lambda trial: _residuals(points, form, trial), start, [1e-7] * len(start))
    deviations = _residuals(points, form, unknowns)
    if deviations is None:
        raise AssertionError("a refinement ends where its residuals exist")
    return _Chain(form, unknowns, tuple(deviations))


def _snapped(points: Sequence[Point], chain: _Chain, tolerance: float) -> _Chain:
    """The chain with every arc made straight, the flattest first, that stays within the tolerance without it."""
    tried: set[int] = set()
    while True:
        heading, kinks, curvatures, lengths = chain.form.unpack(chain.unknowns)
        lengths[-1] = _last_length(chain, points)
        rises = [
            (abs(curvature) * length**2 / 8, place)
            for place, (curvature, length) in enumerate(zip(curvatures, lengths, strict=True))
            if chain.form.arcs[place] and place not in tried
        ]
        flat = [place for rise, place in sorted(rises) if rise <= tolerance]
        if not flat:
            return chain
        tried.add(flat[0])
        form = _Form(tuple(arc and n != flat[0] for n, arc in enumerate(chain.form.arcs)), chain.form.kinks)
        start = form.pack(heading, kinks, curvatures, lengths)
        if _residuals(points, form, start) is None:
            continue
        straighter = _refined(points, form, start)
        if straighter.largest <= tolerance:
            chain = straighter


def _last_length(chain: _Chain, points: Sequence[Point]) -> float:
    last = _links(chain.form, chain.unknowns)[-1]
    dx, dy = points[-1][0] - last.x, points[-1][1] - last.y
    along = dx * math.cos(last.heading) + dy * math.sin(last.heading)
    aside = dy * math.cos(last.heading) - dx * math.sin(last.heading)
    if abs(last.curvature) <= 1e-9:
        return along
    return math.atan2(last.curvature * along, 1 - last.curvature * aside) / last.curvature


def _pieces(
    chain: _Chain, points: Sequence[Point], span_mm: float
) -> tuple[tuple[StraightPiece | ArcPiece, ...], float]:
    heading, kinks, curvatures, lengths = chain.form.unpack(chain.unknowns)
    lengths[-1] = _last_length(chain, points)
    pieces: list[StraightPiece | ArcPiece] = []
    for kink, curvature, length in zip(kinks, curvatures, lengths, strict=True):
        # A radius beyond ten kilometres is a straight, as in the survey.
        if abs(curvature) * 1e7 <= span_mm:
            pieces.append(StraightPiece(length * span_mm, kink))
        else:
            given = RadiusArcLength(span_mm / abs(curvature), length * span_mm)
            pieces.append(ArcPiece(given, "left" if curvature > 0 else "right", None, kink))
    return tuple(pieces), heading


def off_pieces(
    offsets: Sequence[Offset],
    tolerance_mm: float,
    pieces: Sequence[StraightPiece | ArcPiece],
    start: Point,
    heading_rad: float,
    key: str,
    system: System,
) -> OffsetsFit:
    """How far the offsets stand off pieces that are laid down already, fitted to them or changed by hand since.

    Args:
        offsets: at least one, in walking order. tolerance_mm: > 0. pieces: in walking order, on the line the offsets
            were taken to. start: of the first piece, in the baseline's coordinates, mm. heading_rad: of walking there,
            from the baseline's direction. key, system: as of `fit_offsets`.

    Returns:
        The same as a fit would be: the deviations from these pieces, and what must be read of them.

    Raises:
        SurveyError: a piece that is no arc.

    Source: distance square off the piece abreast of the offset.

    >>> arc = [Offset(x, math.sqrt(3000.0**2 - (x - 1200.0) ** 2) - 2749.5454) for x in range(0, 2401, 200)]
    >>> fit = fit_offsets(arc, 2.0, "w", "metric")
    >>> again = off_pieces(arc, 2.0, fit.pieces, fit.start, fit.heading_rad, "w", "metric")
    >>> abs(again.largest.deviation_mm - fit.largest.deviation_mm) < 1e-6
    True
    """
    links = _laid(pieces, start, heading_rad)
    deviations = tuple(
        Deviation(offset.along_mm, offset.offset_mm, _off_links((offset.along_mm, offset.offset_mm), links))
        for offset in offsets
    )
    bare = OffsetsFit(tuple(pieces), start, heading_rad, deviations, tolerance_mm, ())
    return OffsetsFit(bare.pieces, start, heading_rad, deviations, tolerance_mm, tuple(_findings(bare, key, system)))


def points_along(
    pieces: Sequence[StraightPiece | ArcPiece], start: Point, heading_rad: float, step_rad: float = 0.05
) -> tuple[Point, ...]:
    """Points of a chain of pieces in the baseline's coordinates, close enough to draw it; mm.

    pieces, start, heading_rad: as of `off_pieces`. step_rad: turned between two points of an arc, > 0. Returns both
    ends of each piece and what lies between.

    >>> points_along((StraightPiece(1000.0),), (0.0, 50.0), 0.0)
    ((0.0, 50.0), (1000.0, 50.0))
    """
    points = [start]
    for link in _laid(pieces, start, heading_rad):
        count = max(1, math.ceil(abs(link.curvature) * link.length / step_rad))
        points += [replace(link, length=link.length * (n + 1) / count).end[:2] for n in range(count)]
    return tuple(points)


def _laid(pieces: Sequence[StraightPiece | ArcPiece], start: Point, heading_rad: float) -> list[_Link]:
    links: list[_Link] = []
    x, y = start
    heading = heading_rad
    for place, piece in enumerate(pieces):
        # The heading at the start is the first piece's own: a kink before it has nothing to bend from.
        heading += piece.kink_rad if place else 0.0
        curvature, length = 0.0, 0.0
        if isinstance(piece, StraightPiece):
            length = piece.length_mm
        else:
            arc = piece.given.solve()
            turn = piece.turn or arc.turn
            curvature = (1 if turn == "left" else -1) / arc.radius_mm
            length = arc.radius_mm * arc.sweep_rad
        links.append(_Link(x, y, heading, curvature, length))
        x, y, heading = links[-1].end
    return links


def _off_links(point: Point, links: Sequence[_Link]) -> float:
    """Off the piece abreast of the point: the last whose start lies before it along the baseline."""
    abreast = links[0]
    for link in links[1:]:
        if point[0] > link.x:
            abreast = link
    return off_arc_mm(point, (abreast.x, abreast.y), abreast.heading, abreast.curvature)


def _findings(fit: OffsetsFit, key: str, system: System) -> Iterable[Finding]:
    worst = fit.largest
    place = f"{format_length(worst.along_mm, system)} along the baseline"
    off = format_length(abs(worst.deviation_mm), system, 32)
    count = len(fit.pieces)
    chain = "one piece" if count == 1 else f"{count} pieces"
    if fit.is_within_tolerance:
        message = f"Fitted as {chain}; the largest deviation is {off}, {place}."
        yield Finding(f"{key}/offsets", "note", message, _SOURCE)
    else:
        message = (
            f"No chain of straights and arcs keeps within {format_length(fit.tolerance_mm, system, 32)} of these "
            f"offsets: the nearest, of {chain}, is {off} out {place}. Check the offset there; if it stands, the wall "
            "is irregular and whatever follows its curve is made from a template only."
        )
        yield Finding(f"{key}/offsets", "decide", message, _SOURCE)
    for joint, kink_rad in enumerate(fit.kinks_rad, start=1):
        if kink_rad:
            side = "left" if kink_rad > 0 else "right"
            message = (
                f"Pieces {joint} and {joint + 1} meet at a kink of {format_degrees(abs(kink_rad))} degrees to the "
                f"{side}: the offsets do not fit a smooth joint there."
            )
            yield Finding(f"{key}/kink-{joint}", "caution", message, _SOURCE)
