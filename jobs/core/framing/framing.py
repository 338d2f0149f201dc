"""Where the studs stand, how long each is, and the track they stand in.

Spacing is judged along the convex framing face, where bays open; every station is also placed on the
centreline. Openings take studs out and put jambs and cripples in. Height limits, fire-rated and
load-bearing walls are not decided here: local code and licensed practice do that.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Annotated, Literal

from catalog.core.ground.day_words import with_day_words
from catalog.core.ground.declared import As, View
from catalog.core.ground.units import TOLERANCE_MM, System, format_both, format_measure
from catalog.core.materials.specs import Fact, Material
from catalog.core.materials.standards import STANDARD_SPECS, Standards
from jobs.core.measure.bending import SpacingLimit, decision_at, overridden, override_of, spacing_limits, unchecked
from jobs.core.measure.curve import FACES, Curve, CurvePiece, Face, OpeningOnCurve, curve_of
from jobs.core.measure.explanation import Explanation, Quantity, Why
from jobs.core.measure.findings import Finding
from jobs.core.measure.survey import ArcPiece, HeightProfile, RadiusArcLength, Survey
from jobs.core.measure.wall_spec import FaceBuild, WallSpec

StationKind = Literal["stud", "jamb", "end", "piece_change", "cripple_over", "cripple_under", "sheet_end"]
SpacingFrom = Literal["wall", "step table", "board", "straight standard"]
TrackKind = Literal["top", "bottom", "head", "sill", "arch"]
FixedTo = Literal["floor", "floor and ceiling"]
SIXTEENTH_MM = 1.5875
FACET_TO_MM = 0.05
"""A facet this much deeper than the one decided for is still that one; decisions keep a hundredth. Our own."""


@dataclass(frozen=True)
class SpacingChoice(View):
    """The stud spacing of one piece, along its convex framing edge.

    piece_index: from 0. length_mm: of that edge. greatest_mm: the most allowed; chosen_mm: the bay set out;
    links: whole links of track in a bay, None where the track has no links or one link is wider than the most
    allowed. bays: how many; with links the last takes what is left. came_from: whose rule it is. sagitta_mm:
    how far the curve stands off the facet between two studs, 0 on a straight piece. explanation: in words.
    """

    piece_index: int
    length_mm: Annotated[float, As(name="convex_length")]
    greatest_mm: float
    chosen_mm: float
    links: int | None
    bays: int
    came_from: Annotated[SpacingFrom, As(name="from")]
    sagitta_mm: Annotated[float, As(name="facet_sagitta")]
    explanation: Why


@dataclass(frozen=True)
class Station:
    """One place on the track where one or more members stand.

    number: 1 from the start of the wall. along_mm: on the centreline; convex_mm: on the convex framing edge.
    x, y: of the centreline there, mm. heading: of walking there, rad. stud_length_mm: of each member as cut;
    clear_mm: the clear height it stands in. count: members there. face: the face whose sheet end a flat stud
    backs, else None.
    """

    number: int
    along_mm: float
    convex_mm: float
    piece_index: int
    x: float
    y: float
    heading: float
    stud_length_mm: float
    clear_mm: float
    kind: StationKind
    count: int
    face: Face | None = None


@dataclass(frozen=True)
class StudGroup(View):
    """`count` members cut to `length_mm`, a whole sixteenth of an inch."""

    length_mm: float
    count: int


@dataclass(frozen=True)
class TrackRun:
    """One length of track. from_mm, to_mm: on the centreline; length_mm: on the convex framing edge.

    name: the opening a head or sill track belongs to; "" for top and bottom. An "arch" is bent under an arched head:
    its length is along the arch.
    """

    kind: TrackKind
    from_mm: float
    to_mm: float
    length_mm: float
    name: str = ""


@dataclass(frozen=True)
class Framing:
    """The framing of one wall.

    base_station_count: stations before any opening, None when a spacing is missing: then there are no
    stations and the gaps say why. cut_short_mm: None when the firm has not stated it, 0 on a half wall.
    fixed_to: what its tracks are fastened to.
    """

    wall_key: str
    curve: Curve
    spacings: tuple[SpacingChoice, ...]
    base_station_count: int | None
    stations: tuple[Station, ...]
    track: tuple[TrackRun, ...]
    cut_short_mm: float | None
    findings: tuple[Finding, ...]
    fixed_to: FixedTo = "floor and ceiling"

    @property
    def is_complete(self) -> bool:
        return self.base_station_count is not None and bool(self.stations)

    @property
    def member_count(self) -> int:
        return sum(station.count for station in self.stations)

    @property
    def stud_list(self) -> tuple[StudGroup, ...]:
        """Members by length, each rounded up to 1/16 in, the longest first."""
        counts: Counter[int] = Counter()
        for station in self.stations:
            sixteenths = math.ceil((station.stud_length_mm - TOLERANCE_MM) / SIXTEENTH_MM)
            counts[sixteenths] += station.count
        return tuple(StudGroup(n * SIXTEENTH_MM, counts[n]) for n in sorted(counts, reverse=True))

    @property
    def stud_positions_mm(self) -> tuple[float, ...]:
        """Where a sheet may end: every distinct place a member stands, along the centreline."""
        return tuple(sorted({station.along_mm for station in self.stations}))

    def track_length_mm(self, kind: TrackKind) -> float:
        return sum(run.length_mm for run in self.track if run.kind == kind)


def facet_sagitta_mm(spacing_mm: float, radius_mm: float) -> float:
    """How far an arc stands off the straight board between two studs.

    Args:
        spacing_mm: between the studs, straight across, mm, > 0 and at most twice the radius.
        radius_mm: of the line they stand on, mm, > 0.

    Returns:
        The rise in mm: R - sqrt(R^2 - s^2/4), which s^2/(8R) approaches on a gentle curve.

    Raises:
        ValueError: a figure not more than zero, or a spacing over twice the radius.

    Source: the rise of a chord, Machinery's Handbook 31, p. 79.

    >>> round(facet_sagitta_mm(12 * 25.4, 60 * 25.4) / 25.4, 3)
    0.301
    """
    if not (spacing_mm > 0 and radius_mm > 0 and spacing_mm <= 2 * radius_mm):
        raise ValueError(
            f"a spacing of {format_both(spacing_mm)} cannot stand on a radius of {format_both(radius_mm)}: "
            "both must be more than zero and the spacing at most twice the radius"
        )
    half = spacing_mm / 2
    # Written without the difference of two near-equal roots, so that gentle curves keep their digits.
    return half**2 / (radius_mm + math.sqrt(radius_mm**2 - half**2))


def bay_count(length_mm: float, greatest_mm: float) -> int:
    """Bays a length is divided into: ceil(length / greatest), at least one.

    Args:
        length_mm: along the convex framing edge, mm, > 0.
        greatest_mm: the widest bay allowed, mm, > 0.

    Returns:
        The number of bays; an exact fit is not split again (tolerance 1e-6 mm).

    Raises:
        ValueError: a figure not more than zero.

    Source: stations on an open run are ceil(L/s) + 1, our own convention.

    >>> bay_count(181.94 * 25.4, 8 * 25.4)
    23
    """
    if not (length_mm > 0 and greatest_mm > 0):
        raise ValueError(f"bays need lengths over zero, not {format_both(length_mm)} and {format_both(greatest_mm)}")
    return max(1, math.ceil((length_mm - TOLERANCE_MM) / greatest_mm))


def frame(
    curve: Curve,
    wall: WallSpec,
    materials: Mapping[str, Material],
    standards: Standards,
    system: System = "imperial",
) -> Framing:
    """Set out the framing of a wall.

    Args:
        curve: the wall in plan, with its openings and heights.
        wall: the track, the layers, the spacing wanted and the overrides.
        materials: the catalog by code; the track's `link_pitch_mm` and the boards' spacing are read.
        standards: the firm's spacing table, spacing on straights, jamb studs and cut.
        system: the units of the sentences.

    Returns:
        The framing. Where a spacing or standard is missing the stations are left out and a gap names it.

    Raises:
        nothing of its own.

    Source: the firm's table and standards, each with its own; Gypsum Association GA-226-08 for the spacing at
    the board's least radius; that cripples and jambs replace the studs of an opening is common practice.

    >>> from catalog.core.materials.standards import starter_standards
    >>> curve, wall = _example()
    >>> frame(curve, wall, {"T": _example_track()}, starter_standards()).base_station_count
    24
    """
    findings: list[Finding] = []
    kept_share = standards.fact("closest_spacing_share")
    if kept_share is None and wall.stud_spacing_mm is None and _bends_board(curve, wall):
        what = "the stud spacing just above a board's least radius"
        findings.append(_missing_standard(wall, "closest_spacing_share", what))
    limits = spacing_limits(curve, wall, materials, system, kept_share)
    pitch_mm = _link_pitch(wall, materials, findings)
    choices = [_choose(curve, wall, piece, standards, limits, pitch_mm, findings, system) for piece in curve.pieces]
    jamb_studs = standards.fact("jamb_studs")
    cut_short = standards.fact("stud_cut_short_mm")
    if jamb_studs is None and curve.openings:
        findings.append(_missing_standard(wall, "jamb_studs", "the studs at each jamb"))
    if cut_short is None:
        findings.append(_missing_standard(wall, "stud_cut_short_mm", "the length of the studs"))
    spacings = tuple(choice for choice in choices if choice is not None)
    base: int | None = None
    stations: tuple[Station, ...] = ()
    if len(spacings) == len(curve.pieces):
        base = sum(choice.bays for choice in spacings) + (0 if curve.is_closed else 1)
        if cut_short is not None and (jamb_studs is not None or not curve.openings):
            count = int(jamb_studs.number) if jamb_studs else 0
            stations = _stations(curve, wall, spacings, count, _short_mm(wall, cut_short))
    return Framing(
        wall.key,
        curve,
        spacings,
        base,
        stations,
        _track(curve),
        _short_mm(wall, cut_short) if cut_short else None,
        tuple(findings),
        "floor" if wall.is_half_wall else "floor and ceiling",
    )


def _bends_board(curve: Curve, wall: WallSpec) -> bool:
    return any(piece.is_arc for piece in curve.pieces) and any(wall.face(face).layers for face in FACES)


def _short_mm(wall: WallSpec, cut_short: Fact) -> float:
    # Under a ceiling a stud must be got in; the height of a half wall is made by its studs.
    return 0.0 if wall.is_half_wall else cut_short.number


def add_sheet_end_studs(framing: Framing, joints_mm: Iterable[float], face: Face | None = None) -> Framing:
    """Stand a flat stud behind every sheet-end joint, so that the joint does not ridge.

    Args:
        framing: as set out.
        joints_mm: where sheets end, along the centreline, mm, from 0 to its length. Joints of several courses
            or layers at one place share one stud; call once for each face.
        face: the face the joints are on, or None.

    Returns:
        The framing with one "sheet_end" station for each place, renumbered. In line with an opening the flat
        stud is a cripple like those beside it.

    Raises:
        ValueError: a joint beyond the ends of the wall, or a framing with no stations.

    Source: common practice; no published rule.

    >>> from catalog.core.materials.standards import starter_standards
    >>> curve, wall = _example()
    >>> plain = frame(curve, wall, {"T": _example_track()}, starter_standards())
    >>> add_sheet_end_studs(plain, [plain.stations[6].along_mm, plain.stations[12].along_mm]).member_count
    26
    """
    if not framing.is_complete or framing.cut_short_mm is None:
        raise ValueError("studs behind sheet ends need a framing with its stations set out")
    curve, length_mm = framing.curve, framing.curve.centre_length_mm
    places: list[float] = []
    for joint_mm in sorted(joints_mm):
        if not (-TOLERANCE_MM <= joint_mm <= length_mm + TOLERANCE_MM):
            raise ValueError(
                f"a sheet ends {format_both(joint_mm)} along a wall {format_both(length_mm)} long: "
                "a joint must be from 0 to the wall's length"
            )
        if not places or joint_mm - places[-1] > TOLERANCE_MM:
            places.append(min(max(joint_mm, 0.0), length_mm))
    added = [
        _member(curve, place, low, high, "sheet_end", 1, framing.cut_short_mm, face)
        for place in places
        for low, high in _solid(curve, place)
        if high - low > framing.cut_short_mm + TOLERANCE_MM
    ]
    return replace(framing, stations=_numbered([*framing.stations, *added]))


def framing_screws(framing: Framing, standards: Standards, material: str | None) -> Quantity | Finding:
    """Screws that hold studs and opening tracks: the firm's count at each end of each member.

    Args:
        framing: as set out, sheet-end studs included when they are wanted.
        standards: `screws_per_stud_end` is read.
        material: code of the screw, or None.

    Returns:
        The count: every member and every head or sill track has two ends; or a gap.

    Raises:
        nothing of its own.

    Source: both flanges, top and bottom on curves: remembered as usual, the standard says how sure. That head
    and sill tracks are screwed at their two ends like a stud is our own convention.

    >>> from catalog.core.materials.standards import starter_standards
    >>> curve, wall = _example()
    >>> plain = frame(curve, wall, {"T": _example_track()}, starter_standards())
    >>> framing_screws(plain, starter_standards(), "SCREW").value
    96.0
    """
    key = f"{framing.wall_key}/framing_screw"
    per_end = standards.fact("screws_per_stud_end")
    if per_end is None:
        return _gap_of(key, "screws_per_stud_end", "the screws of the framing")
    if not framing.is_complete:
        return Finding(key, "gap", "The screws of the framing cannot be counted before its studs are set out.")
    members = framing.member_count
    opening_tracks = sum(run.kind in ("head", "sill", "arch") for run in framing.track)
    explanation = Explanation(
        "(members + tracks over and under openings) x 2 ends x screws at an end",
        (
            ("members", str(members)),
            ("tracks over and under openings", str(opening_tracks)),
            ("screws at an end", f"{per_end.value}"),
        ),
        per_end.source,
    )
    value = float((members + opening_tracks) * 2 * per_end.value)
    return Quantity(key, "Screws, stud to track", value, "each", explanation, material)


def track_fasteners(
    framing: Framing, standards: Standards, material: str | None, system: System = "imperial"
) -> Quantity | Finding:
    """Fasteners of the top and bottom track to ceiling and floor, run by run.

    Args:
        framing: its top and bottom runs are read.
        standards: `track_fastener_spacing_mm` and `track_fastener_end_mm` are read.
        material: code of the fastener, or None.
        system: the units of the explanation.

    Returns:
        The sum over the runs of ceil((L - 2 end) / spacing) + 1, at least 2 a run; or a gap.

    Raises:
        nothing of its own.

    Source: at most 24 in on centre (UFGS 09200A; ASTM C754 family) and near each end, as the standards state.

    >>> from catalog.core.materials.standards import starter_standards
    >>> curve, wall = _example()
    >>> plain = frame(curve, wall, {"T": _example_track()}, starter_standards())
    >>> track_fasteners(plain, starter_standards(), "PIN").value
    18.0
    """
    key = f"{framing.wall_key}/track_fastener"
    spacing, end = standards.fact("track_fastener_spacing_mm"), standards.fact("track_fastener_end_mm")
    if spacing is None:
        return _gap_of(key, "track_fastener_spacing_mm", "the fasteners of the track")
    if end is None:
        return _gap_of(key, "track_fastener_end_mm", "the fasteners of the track")
    fastened = ("bottom",) if framing.fixed_to == "floor" else ("top", "bottom")
    runs = [run for run in framing.track if run.kind in fastened]
    counts = [fasteners_in_run(run.length_mm, spacing.number, end.number) for run in runs]
    shown = tuple(
        (f"{run.kind} {n}", f"{format_measure(run.length_mm, system)}: {count}")
        for n, (run, count) in enumerate(zip(runs, counts, strict=True), start=1)
    )
    explanation = Explanation(
        "in each run (length - 2 x end distance) / spacing, rounded up, plus one; at least two",
        (
            *shown,
            ("spacing", format_measure(spacing.number, system)),
            ("end distance", format_measure(end.number, system)),
        ),
        f"{spacing.source}; {end.source}",
    )
    return Quantity(key, f"Fasteners, track to {framing.fixed_to}", float(sum(counts)), "each", explanation, material)


def fasteners_in_run(length_mm: float, spacing_mm: float, end_mm: float) -> int:
    """Fasteners of one length: one near each end and the rest at most the spacing apart; at least two.

    Args:
        length_mm: of the run, mm, > 0.
        spacing_mm: at most between two fasteners, mm, > 0.
        end_mm: from each end, mm, >= 0.

    Returns:
        The count.

    Raises:
        ValueError: a figure out of range.

    Source: arithmetic of the rule `ceil((L - 2 end) / spacing) + 1`.

    >>> fasteners_in_run(3048.0, 609.6, 50.8)
    6
    """
    if not (length_mm > 0 and spacing_mm > 0 and end_mm >= 0):
        raise ValueError("a run needs a length and spacing more than zero and an end distance of zero or more")
    between_mm = length_mm - 2 * end_mm
    return max(2, math.ceil((between_mm - TOLERANCE_MM) / spacing_mm) + 1)


def _example() -> tuple[Curve, WallSpec]:
    # One gentle arc with a convex framing edge of 181.94 in, to be framed at 8 in.
    piece = ArcPiece(RadiusArcLength(3368.04, 181.94 * 25.4), "left")
    heights = HeightProfile(((0.0, 2743.2),))
    wall = WallSpec("w", "Wall", "convex_framing", (piece,), heights, "T", "S", FaceBuild(()), FaceBuild(()))
    return curve_of(Survey((piece,), heights, "convex_framing", 92.075, 0.0, 0.0)), wall


def _example_track() -> Material:
    return Material("T", "Curvable track", "track", "stocked", "ft", "stick", None)


def _choose(
    curve: Curve,
    wall: WallSpec,
    piece: CurvePiece,
    standards: Standards,
    limits: tuple[SpacingLimit, ...],
    pitch_mm: float | None,
    findings: list[Finding],
    system: System,
) -> SpacingChoice | None:
    allowed = _allowed(curve, wall, piece, standards, limits, findings, system)
    stored = _kept(wall, piece, limits, allowed, findings, system)
    if wall.stud_spacing_mm is not None:
        if allowed is not None and wall.stud_spacing_mm > allowed[0] + TOLERANCE_MM:
            findings.append(_wider_than_allowed(curve, wall, piece, wall.stud_spacing_mm, allowed, system))
        allowed = (wall.stud_spacing_mm, "wall", "Set for this wall")
    elif stored is not None:
        allowed = stored
    if allowed is None:
        return None
    greatest_mm, came_from, source = allowed
    length_mm = curve.convex_length_mm(piece)
    links: int | None = None
    if pitch_mm is not None:
        links = math.floor((greatest_mm + TOLERANCE_MM) / pitch_mm)
        if links == 0:
            links = None
            findings.append(_links_too_wide(curve, wall, piece, pitch_mm, greatest_mm, system))
    if links is not None and pitch_mm is not None:
        chosen_mm = min(links * pitch_mm, length_mm)
        bays = bay_count(length_mm, links * pitch_mm)
        rule = "convex framing length / (whole links in the greatest spacing x link pitch), rounded up"
    else:
        bays = bay_count(length_mm, greatest_mm)
        chosen_mm = length_mm / bays
        rule = "convex framing length / greatest spacing, rounded up; the bays are equal"
    inputs = [
        ("convex framing length", format_measure(length_mm, system)),
        ("greatest spacing", f"{format_measure(greatest_mm, system)} ({came_from})"),
        ("bays", str(bays)),
        ("bay", format_measure(chosen_mm, system)),
    ]
    if links is not None and pitch_mm is not None:
        inputs.append(("links in a bay", f"{links} of {format_measure(pitch_mm, system, 3)}"))
    radius_mm = piece.radius_at(curve.offset_mm(curve.line_of(piece, "convex", "framing")))
    sagitta_mm = _sagitta_along(chosen_mm, radius_mm) if piece.is_arc else 0.0
    return SpacingChoice(
        piece.index,
        length_mm,
        greatest_mm,
        chosen_mm,
        links,
        bays,
        came_from,
        sagitta_mm,
        Explanation(rule, tuple(inputs), source),
    )


def _sagitta_along(bay_mm: float, radius_mm: float) -> float:
    # The bay is measured along the edge; the board spans its chord. Past half a turn there is no facet.
    half_turn = min(bay_mm / (2 * radius_mm), math.pi / 2)
    return facet_sagitta_mm(2 * radius_mm * math.sin(half_turn), radius_mm)


def _allowed(
    curve: Curve,
    wall: WallSpec,
    piece: CurvePiece,
    standards: Standards,
    limits: tuple[SpacingLimit, ...],
    findings: list[Finding],
    system: System,
) -> tuple[float, SpacingFrom, str] | None:
    key = f"{wall.key}/framing/piece-{piece.index + 1}/spacing"
    if piece.is_template:
        if wall.stud_spacing_mm is None:
            message = f"{unchecked(piece)} The firm's table cannot say its stud spacing: set a spacing for this wall."
            findings.append(Finding(key, "gap", message))
        return None
    if not piece.is_arc:
        standard = standards.fact("straight_stud_spacing_mm")
        if standard is None:
            if wall.stud_spacing_mm is None:
                findings.append(
                    _gap_of(key, "straight_stud_spacing_mm", f"the studs of straight piece {piece.index + 1}")
                )
            return None
        return standard.number, "straight standard", standard.source
    radius_mm = piece.radius_at(curve.offset_mm(curve.line_of(piece, "concave", "framing")))
    step = standards.spacing_step(radius_mm)
    if step is None:
        if wall.stud_spacing_mm is None:
            findings.append(
                Finding(
                    key,
                    "gap",
                    f"The stud spacing table has no step for a radius of {format_measure(radius_mm, system)} "
                    f"(piece {piece.index + 1}): add one, or set a spacing for this wall.",
                )
            )
        return None
    best: tuple[float, SpacingFrom, str] = (step.spacing_mm, "step table", step.source)
    for limit in limits:
        if limit.piece_index != piece.index or limit.kept:
            continue
        if limit.spacing_mm is None:
            findings.append(Finding(f"{key}/{limit.board}", "gap", _sentence(limit.sentence)))
        elif limit.spacing_mm < best[0] - TOLERANCE_MM:
            best = (limit.spacing_mm, "board", limit.source)
    return best


def _kept(
    wall: WallSpec,
    piece: CurvePiece,
    limits: tuple[SpacingLimit, ...],
    allowed: tuple[float, SpacingFrom, str] | None,
    findings: list[Finding],
    system: System,
) -> tuple[float, SpacingFrom, str] | None:
    """The spacing a board keeps a little above its least radius, and what is said of it; None where it changes nothing.

    A spacing set for the wall stands: what the board would keep is practice and is only said.
    """
    own_mm, key = wall.stud_spacing_mm, f"{wall.key}/framing/piece-{piece.index + 1}/spacing/kept"
    near = [limit for limit in limits if limit.kept and limit.piece_index == piece.index]
    unknown = next((limit for limit in near if limit.spacing_mm is None), None)
    if unknown is not None and own_mm is None:
        findings.append(Finding(f"{key}/{unknown.board}", "gap", _sentence(unknown.sentence)))
    message = min(
        (limit for limit in near if limit.spacing_mm is not None), key=lambda limit: limit.spacing_mm or 0, default=None
    )
    most_mm = own_mm if own_mm is not None else (allowed[0] if allowed else None)
    if message is None or message.spacing_mm is None or most_mm is None or message.spacing_mm >= most_mm - TOLERANCE_MM:
        return None
    sentence = _sentence(message.sentence)
    if own_mm is not None:
        sentence += f" This wall is set to {format_measure(own_mm, system)}: set it closer, or see that it stays fair."
    findings.append(Finding(key, "note" if own_mm is None else "caution", sentence, message.source))
    return message.spacing_mm, "board", message.source


def _wider_than_allowed(
    curve: Curve,
    wall: WallSpec,
    piece: CurvePiece,
    greatest_mm: float,
    allowed: tuple[float, SpacingFrom, str],
    system: System,
) -> Finding:
    key = f"{wall.key}/framing/piece-{piece.index + 1}/spacing"
    sentence = (
        f"Piece {piece.index + 1} is to be framed at {format_measure(greatest_mm, system)}, wider than the "
        f"{format_measure(allowed[0], system)} of the {allowed[1]}."
    )
    figure_mm, words = _spacing_compared(curve, piece, greatest_mm)
    override = override_of(wall.overrides, key)
    message = ""
    if override and override.original is None:
        message = f"{overridden(override)} The decision does not say which spacing and radius it was taken for."
        return Finding(key, "caution", sentence + message, allowed[2], figure_mm)
    if override and override.original is not None:
        # On an arc no facet is as deep as the bay is wide: such a figure is the spacing of a straight piece.
        is_of_straight = piece.is_arc and override.original >= greatest_mm
        if figure_mm <= override.original + FACET_TO_MM and not is_of_straight:
            return Finding(key, "caution", sentence + overridden(override), allowed[2], figure_mm)
        was, now = (format_measure(value, system, 3) for value in (override.original, figure_mm))
        decided = f" Decided by {override.by} on {with_day_words(override.on)} for"
        message = (
            f"{decided} a straight piece, now an arc: decide again."
            if is_of_straight
            else f"{decided} {words} of {was}, now {now}: decide again."
        )
    ask = " Set a closer spacing, or a named person must override it with a reason."
    return Finding(key, "decide", sentence + message + ask, allowed[2], figure_mm)


def _spacing_compared(curve: Curve, piece: CurvePiece, spacing_mm: float) -> tuple[float, str]:
    # Both a wider bay and a tighter radius make the facet between two studs deeper: it stands for the two.
    if not piece.is_arc:
        return round(spacing_mm, 2), "a spacing"
    radius_mm = piece.radius_at(curve.offset_mm(curve.line_of(piece, "convex", "framing")))
    return round(_sagitta_along(spacing_mm, radius_mm), 2), "a facet between studs"


def _links_too_wide(
    curve: Curve, wall: WallSpec, piece: CurvePiece, pitch_mm: float, greatest_mm: float, system: System
) -> Finding:
    key = f"{wall.key}/framing/piece-{piece.index + 1}/links"
    radius_mm = piece.radius_at(curve.offset_mm(curve.line_of(piece, "concave", "framing")))
    override, message = decision_at(wall.overrides, key, radius_mm, system) if piece.is_arc else (None, "")
    if not piece.is_arc and (flat := override_of(wall.overrides, key)):
        override, message = flat, overridden(flat)
    return Finding(
        key,
        "caution" if override else "decide",
        f"One link of the track {wall.track} is {format_measure(pitch_mm, system)}, wider than the greatest stud "
        f"spacing of {format_measure(greatest_mm, system)} on piece {piece.index + 1}: studs cannot stand on whole "
        "links. They are counted at equal bays; choose a track with a shorter link or another spacing." + message,
        "Common practice: studs every whole number of links",
        radius_mm if piece.is_arc else None,
    )


def _link_pitch(wall: WallSpec, materials: Mapping[str, Material], findings: list[Finding]) -> float | None:
    track = materials.get(wall.track)
    if track is None:
        findings.append(Finding(f"{wall.key}/track", "gap", f"The track {wall.track} is not in the catalog; add it."))
        return None
    pitch = track.fact("link_pitch_mm")
    return pitch.number if pitch else None


def _missing_standard(wall: WallSpec, name: str, what: str) -> Finding:
    return _gap_of(f"{wall.key}/framing/{name}", name, what)


def _gap_of(key: str, name: str, what: str) -> Finding:
    label = STANDARD_SPECS[name].label
    return Finding(key, "gap", f"Without the firm's standard {name} ({label}), {what} cannot be given: fill it in.")


def _sentence(text: str) -> str:
    return text[0].upper() + text[1:]


def _stations(
    curve: Curve, wall: WallSpec, spacings: tuple[SpacingChoice, ...], jamb_studs: int, cut_short_mm: float
) -> tuple[Station, ...]:
    members: list[Station] = []
    jambs = _jamb_places(curve)
    for along_mm, kind in _base_places(curve, spacings):
        if any(abs(along_mm - jamb) <= TOLERANCE_MM for jamb in jambs):
            continue
        covering = _covering(curve, along_mm)
        for low, high in _solid(curve, along_mm):
            if high - low <= cut_short_mm + TOLERANCE_MM:
                continue
            part: StationKind = kind
            if covering:
                part = "cripple_under" if low <= TOLERANCE_MM else "cripple_over"
            count = wall.ends.studs if kind == "end" and _is_free_end(wall, along_mm) else 1
            members.append(_member(curve, along_mm, low, high, part, count, cut_short_mm, None))
    for jamb in jambs:
        for low, high in _solid(curve, jamb):
            if high - low > cut_short_mm + TOLERANCE_MM:
                members.append(_member(curve, jamb, low, high, "jamb", jamb_studs, cut_short_mm, None))
    return _numbered(members)


def _is_free_end(wall: WallSpec, along_mm: float) -> bool:
    return (wall.ends.start if along_mm <= TOLERANCE_MM else wall.ends.end) == "free"


def _base_places(curve: Curve, spacings: tuple[SpacingChoice, ...]) -> list[tuple[float, StationKind]]:
    places: list[tuple[float, StationKind]] = []
    for piece, choice in zip(curve.pieces, spacings, strict=True):
        first: StationKind = "piece_change" if piece.index > 0 else "end"
        # A closed column of one piece has neither end nor change: its seam is a stud like the others.
        if piece.index == 0 and curve.is_closed:
            first = "piece_change" if len(curve.pieces) > 1 else "stud"
        places.append((piece.start_mm, first))
        for bay in range(1, choice.bays):
            share = bay * choice.chosen_mm / choice.length_mm
            places.append((piece.start_mm + piece.length_mm * share, "stud"))
    if not curve.is_closed:
        places.append((curve.pieces[-1].end_mm, "end"))
    return places


def _jamb_places(curve: Curve) -> list[float]:
    places: list[float] = []
    for edge in sorted(edge for laid in curve.openings for edge in laid.span_mm):
        if not places or edge - places[-1] > TOLERANCE_MM:
            places.append(edge)
    return places


def _covering(curve: Curve, along_mm: float) -> list[OpeningOnCurve]:
    return [
        laid for laid in curve.openings if laid.span_mm[0] + TOLERANCE_MM < along_mm < laid.span_mm[1] - TOLERANCE_MM
    ]


def _solid(curve: Curve, along_mm: float) -> list[tuple[float, float]]:
    # The clear height there, less the openings that stand in it, from the floor up.
    parts: list[tuple[float, float]] = []
    floor_mm = 0.0
    for laid in sorted(_covering(curve, along_mm), key=lambda laid: laid.opening.sill_mm):
        if laid.opening.sill_mm > floor_mm + TOLERANCE_MM:
            parts.append((floor_mm, laid.opening.sill_mm))
        floor_mm = max(floor_mm, laid.head_at(along_mm))
    ceiling_mm = curve.heights.at(along_mm)
    if ceiling_mm > floor_mm + TOLERANCE_MM:
        parts.append((floor_mm, ceiling_mm))
    return parts


def _member(
    curve: Curve,
    along_mm: float,
    low_mm: float,
    high_mm: float,
    kind: StationKind,
    count: int,
    cut_short_mm: float,
    face: Face | None,
) -> Station:
    piece, share = curve.piece_at(along_mm)
    x, y = piece.point_at(share)
    before = sum(curve.convex_length_mm(p) for p in curve.pieces[: piece.index])
    clear_mm = high_mm - low_mm
    return Station(
        0,
        along_mm,
        before + curve.convex_length_mm(piece) * share,
        piece.index,
        x,
        y,
        curve.heading_at(along_mm),
        clear_mm - cut_short_mm,
        clear_mm,
        kind,
        count,
        face,
    )


def _numbered(members: list[Station]) -> tuple[Station, ...]:
    ordered = sorted(members, key=lambda station: station.along_mm)
    return tuple(replace(station, number=number) for number, station in enumerate(ordered, start=1))


def _track(curve: Curve) -> tuple[TrackRun, ...]:
    length_mm = curve.centre_length_mm
    runs = [TrackRun("top", 0.0, length_mm, curve.longer_framing_mm + _mitred_mm(curve, 0.0, length_mm))]
    runs += _bottom_track(curve)
    for laid in sorted(curve.openings, key=lambda laid: laid.span_mm):
        from_mm, to_mm = laid.span_mm
        taken_mm = _taken_convex(curve, laid)
        lowest_mm = curve.heights.least_between(from_mm, to_mm)
        if laid.opening.is_arched:
            runs.append(TrackRun("arch", from_mm, to_mm, laid.opening.arch_length_mm, laid.opening.name))
        elif lowest_mm - laid.opening.head_mm > TOLERANCE_MM:
            runs.append(TrackRun("head", from_mm, to_mm, taken_mm, laid.opening.name))
        if not laid.opening.reaches_floor:
            runs.append(TrackRun("sill", from_mm, to_mm, taken_mm, laid.opening.name))
    return tuple(runs)


def _taken_convex(curve: Curve, laid: OpeningOnCurve) -> float:
    return laid.taken_mm[curve.line_of(curve.pieces[laid.piece_index], "convex", "framing")]


def _bottom_track(curve: Curve) -> list[TrackRun]:
    cuts: list[tuple[float, float]] = []
    for laid in curve.openings:
        if laid.opening.reaches_floor:
            middle, half = _convex_place(curve, laid), _taken_convex(curve, laid) / 2
            cuts.append((middle - half, middle + half))
    runs: list[TrackRun] = []
    start = 0.0
    end = curve.longer_framing_mm
    for low, high in [*sorted(cuts), (end, end)]:
        if low - start > TOLERANCE_MM:
            from_mm, to_mm = _centre_of(curve, start), _centre_of(curve, low)
            runs.append(TrackRun("bottom", from_mm, to_mm, low - start + _mitred_mm(curve, from_mm, to_mm)))
        start = max(start, high)
    return runs


def _mitred_mm(curve: Curve, from_mm: float, to_mm: float) -> float:
    """What track gains at the mitres of kinks between two places of the centreline, on its longer edge at each."""
    offsets_mm = (curve.stud_depth_mm / 2, -curve.stud_depth_mm / 2)
    within = (joint for joint in curve.kinks if from_mm < joint.at_mm <= to_mm)
    return sum(max(sum(curve.mitred_at(joint, offset)) for offset in offsets_mm) for joint in within)


def _convex_place(curve: Curve, laid: OpeningOnCurve) -> float:
    piece = curve.pieces[laid.piece_index]
    before = sum(curve.convex_length_mm(p) for p in curve.pieces[: piece.index])
    return before + curve.convex_length_mm(piece) * (laid.centre_mm - piece.start_mm) / piece.length_mm


def _centre_of(curve: Curve, convex_mm: float) -> float:
    left = convex_mm
    for piece in curve.pieces:
        length_mm = curve.convex_length_mm(piece)
        if left <= length_mm + TOLERANCE_MM or piece is curve.pieces[-1]:
            return piece.start_mm + piece.length_mm * min(left / length_mm, 1.0)
        left -= length_mm
    raise AssertionError("a curve has at least one piece")
