"""The radius band of each arc of a wall, and whether a limit of bending lies inside it.

A wall is worked up at the radius that was entered. Its band says how far that radius can be trusted: a board that
passes at the radius entered may fail at the low end of the band.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from catalog.core.ground.plain_values import KEPT_BY
from catalog.core.ground.units import TOLERANCE_MM, System, format_length
from catalog.core.materials.standards import Standards
from jobs.core.measure.bending import Bend
from jobs.core.measure.curve import Curve, CurvePiece, curve_of, resolve_line
from jobs.core.measure.entered_figures import AlongAndAcross, Swung, ThroughPoints, given_reading
from jobs.core.measure.findings import Finding
from jobs.core.measure.radius_readings import (
    BandReading,
    EndGaps,
    OnBlocks,
    RadiusAtHeight,
    RadiusBand,
    RadiusFound,
    Reading,
    ReadingAtHeight,
    base_and_crown,
    radii_by_lean,
    radii_by_readings,
    radius_of_readings,
)
from jobs.core.measure.site_measurements import ReadingTaken
from jobs.core.measure.survey import (
    ArcPiece,
    ChordRise,
    HeightProfile,
    Line,
    RadiusAngle,
    RadiusArcLength,
    RadiusChord,
    Survey,
    SurveyError,
)
from jobs.core.measure.wall_spec import AT_THE_FLOOR, FaceBuild, WallSpec

TAPE_STANDARD = "tape_accuracy_mm"
Standing = Literal["clear", "inside", "tighter", "no_limit"]
_SOURCE = "Plane geometry of the tape's accuracy; naming the low end of a band is our own convention"
_MIN_RADIUS_MM = 1e-3


@dataclass(frozen=True)
class ArcBand:
    """How well the radius of one arc is known.

    key: "wall/piece-n". piece_index: from 0. line: the line it was measured on; every radius here is of that line.
    entered_mm: the radius the wall is worked up at. tape_mm: accuracy the wall was read with. readings: what was read,
    the piece's own figures first, but no radius beside readings. found: what they give together. at_heights: radii
    above the floor, from the floor up, of readings at heights, or of the lean; empty where neither was read. findings:
    what must be read.
    """

    key: str
    piece_index: int
    line: Line
    entered_mm: float
    tape_mm: float
    readings: tuple[BandReading, ...]
    found: RadiusFound
    at_heights: tuple[RadiusAtHeight, ...]
    findings: tuple[Finding, ...]

    @property
    def band(self) -> RadiusBand:
        return self.found.band

    def at_radius(self, radius_mm: float) -> RadiusBand:
        """The band on the parallel line whose radius is radius_mm (> 0) when this one's is as entered.

        The least is kept over zero: a band that reaches further leaves that line no radius at all.
        """
        out = radius_mm - self.entered_mm
        low = max(self.band.low_mm + out, _MIN_RADIUS_MM)
        best = max(self.band.best_mm + out, low)
        return RadiusBand(low, best, max(self.band.high_mm + out, best))


@dataclass(frozen=True)
class CheckBand:
    """The band of one check of something bent, on the line it is bent against.

    key: of the check. standing: "clear" when the whole band keeps the limit, "inside" when the limit lies in it,
    "tighter" when the whole band is tighter, "no_limit" when none is known. sentence: the same in words.
    """

    key: str
    band: RadiusBand
    standing: Standing
    sentence: str


def arc_bands(curve: Curve, wall: WallSpec, standards: Standards, system: System) -> tuple[ArcBand, ...]:
    """The radius band of every arc of a wall.

    Args:
        curve: the wall in plan. wall: its pieces with what was taken of them. standards: the firm's, for the accuracy
            of its tape. system: of the words.

    Returns:
        One entry an arc, as walked; none while neither wall nor firm says how far the tape may be out.

    Raises:
        nothing of its own.

    Source: as `readings`; that a piece's own figures are the first reading of it is our own convention.

    >>> from catalog.core.materials.standards import starter_standards
    >>> curve, wall = _example()
    >>> arc = arc_bands(curve, wall, starter_standards(), "imperial")[0]
    >>> arc.band.words("imperial")
    '15\\' 11-1/8" to 16\\' 7", best 16\\' 3"'
    """
    tape_mm = tape_of(wall, standards)
    if tape_mm is None:
        return ()
    bands = []
    for piece, given in zip(curve.pieces, wall.pieces, strict=True):
        if piece.is_arc and isinstance(given, ArcPiece):
            bands.append(_band(curve, wall, piece, given, tape_mm, system))
    return tuple(bands)


def check_bands(bands: Sequence[ArcBand], checks: Iterable[Bend], system: System) -> tuple[CheckBand, ...]:
    """Where the limit of each check stands in the band of its arc.

    Args:
        bands: of the wall. checks: of its board, track and trim; those on a straight have none. system: of the words.

    Returns:
        One entry for each check on an arc whose band is known, in the order of the checks.

    Raises:
        nothing.

    Source: parallel curves: a band moves with the line it is compared on.

    >>> check_bands((), (), "metric")
    ()
    """
    by_piece = {band.piece_index: band for band in bands}
    return tuple(
        _check_band(by_piece[check.piece_index], check, system)
        for check in checks
        if check.radius_mm > 0 and check.piece_index in by_piece
    )


def band_findings(bands: Sequence[ArcBand], checked: Iterable[CheckBand], checks: Iterable[Bend]) -> Iterable[Finding]:
    """What must be read of the bands of a wall.

    bands: of its arcs. checked, checks: of `check_bands`. Yields the findings of each arc, then a caution for each
    check that passes at the radius entered and would fail at the low end of its band.

    >>> list(band_findings((), (), ()))
    []
    """
    for arc in bands:
        yield from arc.findings
    passes = {check.key for check in checks if check.verdict == "passes"}
    for band in checked:
        if band.standing == "inside" and band.key in passes:
            yield Finding(f"{band.key}/band", "caution", band.sentence, _SOURCE)


def tape_of(wall: WallSpec, standards: Standards) -> float | None:
    """How far the wall's tape may be out either way, in mm: its own, else the firm's; None where nobody states it."""
    if wall.taken.tape_accuracy_mm is not None:
        return wall.taken.tape_accuracy_mm
    fact = standards.fact(TAPE_STANDARD)
    return None if fact is None else fact.number


def _band(curve: Curve, wall: WallSpec, piece: CurvePiece, given: ArcPiece, tape_mm: float, system: System) -> ArcBand:
    key = f"{wall.key}/piece-{piece.index + 1}"
    line = resolve_line(given.measured_on or wall.measured_on, piece.turn)
    entered_mm = piece.radius_at(curve.offset_mm(line))
    taken = [reading for reading in wall.taken.readings if reading.piece == piece.index]
    findings: list[Finding] = []
    readings = _read([reading for reading in taken if reading.at_height_mm is None], tape_mm, key, findings)
    # A radius beside readings was worked out from them or read off a plan: nobody swung it.
    if not readings or not isinstance(given.given, RadiusAngle | RadiusArcLength | RadiusChord):
        readings = (*_own(given, entered_mm, tape_mm, key, findings), *readings)
    if not readings:
        # The tape is too coarse for anything of this arc: its own radius is all there is.
        readings = (_Entered(entered_mm),)
    radius = radius_of_readings(readings, key, system)
    findings += radius.findings
    if not radius.band.low_mm - TOLERANCE_MM <= entered_mm <= radius.band.high_mm + TOLERANCE_MM:
        message = (
            f"{wall.name}: piece {piece.index + 1} is worked up at {format_length(entered_mm, system)}, as entered, "
            f"outside its radius band of {radius.band.words(system)}: enter what is trusted as its figures."
        )
        findings.append(Finding(f"{key}/outside-band", "caution", message, _SOURCE))
    at_heights = _at_heights(curve, wall, piece, radius.band, taken, tape_mm, key, system, findings)
    note = base_and_crown(at_heights, key, system) if at_heights else None
    findings += [note] if note else []
    return ArcBand(key, piece.index, line, entered_mm, tape_mm, readings, radius, at_heights, tuple(findings))


@dataclass(frozen=True)
class _Entered:
    """A radius about whose accuracy nothing can be said."""

    radius_mm: float
    words_of_span: str = "radius entered"

    @property
    def span_mm(self) -> float:
        return self.radius_mm

    def band(self) -> RadiusBand:
        return RadiusBand(min(_MIN_RADIUS_MM, self.radius_mm), self.radius_mm, math.inf)


KEPT_BY[BandReading] = (Reading, OnBlocks, EndGaps, Swung, AlongAndAcross, ThroughPoints, _Entered)


def _own(
    given: ArcPiece, entered_mm: float, tape_mm: float, key: str, findings: list[Finding]
) -> tuple[BandReading, ...]:
    try:
        return (given_reading(given.given, tape_mm),)
    except SurveyError as error:
        message = f"The figures this arc is given by are no finer than the tape: {error.reason}."
        findings.append(Finding(f"{key}/tape", "caution", message, _SOURCE))
        return ()


def _read(taken: Sequence[ReadingTaken], tape_mm: float, key: str, findings: list[Finding]) -> tuple[BandReading, ...]:
    readings = []
    for number, reading in enumerate(taken, start=1):
        try:
            readings.append(reading.reading(tape_mm))
        except SurveyError as error:
            message = f"Reading {number} of this arc is left out of its band: {error.reason}."
            findings.append(Finding(f"{key}/reading-{number}", "caution", message, _SOURCE))
    return tuple(readings)


def _at_heights(
    curve: Curve,
    wall: WallSpec,
    piece: CurvePiece,
    base: RadiusBand,
    taken: Sequence[ReadingTaken],
    tape_mm: float,
    key: str,
    system: System,
    findings: list[Finding],
) -> tuple[RadiusAtHeight, ...]:
    read = [reading for reading in taken if reading.at_height_mm is not None]
    leans = [lean.lean for lean in wall.taken.leans if lean.piece == piece.index]
    result: list[RadiusAtHeight] = []
    try:
        if read:
            at = [ReadingAtHeight(reading.at_height_mm or 0.0, reading.reading(tape_mm)) for reading in read]
            result += radii_by_readings(at, key, system)
        if leans:
            known = {height.height_mm for height in result}
            heights = _heights_to_tell(curve, wall, piece, [lean.height_mm for lean in leans])
            sweep_rad = min(piece.sweep_rad, 2 * math.pi - 1e-9)
            result += radii_by_lean(base, sweep_rad, leans, [height for height in heights if height not in known])
    except SurveyError as error:
        message = f"{wall.name}, piece {piece.index + 1}: no radius at each height: {error.reason}."
        findings.append(Finding(f"{key}/heights", "decide", message, _SOURCE))
        return ()
    return tuple(sorted(result, key=lambda height: height.height_mm))


def _heights_to_tell(curve: Curve, wall: WallSpec, piece: CurvePiece, leans_mm: Sequence[float]) -> tuple[float, ...]:
    """The floor, where the leans were read, where trim stands that follows neither floor nor ceiling, the ceiling."""
    feet = {run.foot_mm for run in wall.trims if run.foot_mm is not None and run.position not in AT_THE_FLOOR}
    return tuple(sorted({0.0, *leans_mm, *feet, curve.heights.greatest_between(piece.start_mm, piece.end_mm)}))


def _check_band(arc: ArcBand, check: Bend, system: System) -> CheckBand:
    band, limit = arc.at_radius(check.radius_mm), check.least_radius_mm
    words, standing = band.words(system), _standing(band, limit)
    if limit is None or standing == "no_limit":
        return CheckBand(check.key, band, "no_limit", f"Radius band {words}.")
    least = format_length(limit, system)
    passes = check.radius_mm >= limit - TOLERANCE_MM
    texts = {
        "clear": f"Even the tightest of {words} keeps the least radius of {least}.",
        "tighter": f"Even the widest of {words} is tighter than the least radius of {least}.",
        "inside": (
            f"Piece {check.piece_index + 1}: the least radius of {least} lies inside the radius band, {words}: it "
            + (
                "passes at the radius entered and fails at the low end. Measure again before you rely on it."
                if passes
                else "would pass at the high end. Measure again."
            )
        ),
    }
    return CheckBand(check.key, band, standing, texts[standing])


def _standing(band: RadiusBand, limit_mm: float | None) -> Standing:
    if limit_mm is None:
        return "no_limit"
    if band.low_mm >= limit_mm - TOLERANCE_MM:
        return "clear"
    return "inside" if band.high_mm >= limit_mm - TOLERANCE_MM else "tighter"


def _example() -> tuple[Curve, WallSpec]:
    # The trade's worked figures: 8 ft across and 6 in deep on the centreline, nothing hung.
    pieces, heights = (ArcPiece(ChordRise(2438.4, 152.4), "left"),), HeightProfile(((0.0, 2400.0),))
    wall = WallSpec("w", "Wall", "centre", pieces, heights, "T", "S", FaceBuild(()), FaceBuild(()))
    return curve_of(Survey(pieces, heights, "centre", 92.0, 0.0, 0.0)), wall
