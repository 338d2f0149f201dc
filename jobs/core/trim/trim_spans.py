"""Where a run of trim goes along its face: the stretches between openings, their lengths, and the backing."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import Annotated, Literal

from catalog.core.ground.declared import Numbered, View
from catalog.core.ground.units import TOLERANCE_MM, format_degrees
from catalog.core.materials.specs import Material
from jobs.core.measure.curve import Curve, OpeningOnCurve
from jobs.core.measure.findings import Finding
from jobs.core.measure.survey import Line
from jobs.core.measure.wall_spec import AT_THE_CEILING, AT_THE_FLOOR, TrimRun

MITRE_FROM_RAD = math.radians(1)
"""OURS: trim runs through a change of heading of less than one degree, as boards do; at more, pieces end in a mitre."""
Corner = Literal["inside", "outside", "flat"]


@dataclass(frozen=True)
class Mitre(View):
    """The cut at the end of a piece at a kink of the wall.

    after_piece: index of the piece of the wall before the kink. cut_rad: of the cut off square, half the kink, > 0.
    corner: as the face has it; "flat" across a cap.
    """

    after_piece: Annotated[int, Numbered()]
    cut_rad: float
    corner: Corner


@dataclass(frozen=True)
class TrimSpan:
    """One unbroken stretch between openings and mitres.

    from_mm, to_mm: along the finished face from the start of the wall, to the joints of the centrelines at kinks; to
    is under from where the stretch passes the seam of a closed column. length_mm: of profile, along its back, with
    what it gains or loses at its mitres. straight_tails_mm: its straight parts. start, end: its mitres, None at free
    ends and openings. mitred_mm: what of the length is gained at mitres; negative when lost.
    """

    from_mm: float
    to_mm: float
    length_mm: float
    straight_tails_mm: tuple[float, ...]
    start: Mitre | None = None
    end: Mitre | None = None
    mitred_mm: float = 0.0

    @property
    def mitres(self) -> tuple[Mitre, ...]:
        return tuple(mitre for mitre in (self.start, self.end) if mitre is not None)


def openings_in_the_way(
    curve: Curve, run: TrimRun, key: str, material: Material | None, findings: list[Finding]
) -> tuple[OpeningOnCurve, ...]:
    width = material.fact("width_mm") if material else None
    cutting = []
    for laid in curve.openings:
        verdict = _is_cut(curve, run, laid, width.number if width else None)
        if verdict is None:
            sentence = (
                f"{run.name}: fill in width_mm of {run.material}: without it nobody can say whether "
                f"{laid.opening.name} interrupts it."
            )
            findings.append(Finding(f"{key}/width/{laid.opening.name}", "gap", sentence))
        elif verdict:
            # Through the haunches of an arch it is cut no wider than the arch is there, at its lowest.
            low_mm = run.foot_mm or 0.0
            if run.foot_mm is None and run.position in AT_THE_CEILING and width:
                low_mm = curve.heights.least_between(*laid.span_mm) - width.number
            cutting.append(laid.at_height(low_mm))
    return tuple(sorted(cutting, key=lambda laid: laid.centre_mm))


def _is_cut(curve: Curve, run: TrimRun, laid: OpeningOnCurve, width_mm: float | None) -> bool | None:
    opening = laid.opening
    if run.foot_mm is not None or run.position in AT_THE_FLOOR:
        foot_mm = run.foot_mm or 0.0
        if opening.sill_mm <= foot_mm + TOLERANCE_MM:
            return opening.head_mm > foot_mm + TOLERANCE_MM
        return None if width_mm is None else opening.sill_mm < foot_mm + width_mm - TOLERANCE_MM
    ceiling_mm = curve.heights.least_between(*laid.span_mm)
    if opening.head_mm >= ceiling_mm - TOLERANCE_MM:
        return True
    return None if width_mm is None else opening.head_mm > ceiling_mm - width_mm + TOLERANCE_MM


def spans_of(curve: Curve, run: TrimRun, line: Line, cutting: tuple[OpeningOnCurve, ...]) -> tuple[TrimSpan, ...]:
    total_mm = curve.length_mm(line)
    cuts = _cuts(curve, line, cutting)
    edges = [0.0, *(edge for cut in cuts for edge in cut), total_mm]
    ranges = [(a, b) for a, b in zip(edges[::2], edges[1::2], strict=True) if b - a > TOLERANCE_MM]
    kinks = _kinks(curve, run, line)
    seam = next((kink for kink in kinks if kink.at_mm >= total_mm - TOLERANCE_MM), None)
    stretches = ranges
    if curve.is_closed and seam is None and ranges and ranges[0][0] == 0.0 and ranges[-1][1] == total_mm:
        # The seam of a closed column is nobody's end: the last stretch runs on into the first.
        if len(ranges) > 1:
            stretches = [(ranges[-1][0], total_mm + ranges[0][1]), *ranges[1:-1]]
        elif kinks:
            stretches = [(kinks[0].at_mm, total_mm + kinks[0].at_mm)]
    return tuple(span for stretch in stretches for span in _between_mitres(curve, run, line, stretch, kinks))


@dataclass(frozen=True)
class _Kink:
    """A kink on one line: where, its mitre, and what a mitred line gains before and after it; mm."""

    at_mm: float
    mitre: Mitre
    before_mm: float
    after_mm: float


def _kinks(curve: Curve, run: TrimRun, line: Line) -> list[_Kink]:
    spans = []
    for joint in curve.kinks:
        if abs(joint.kink_rad) < MITRE_FROM_RAD:
            continue
        towards = (joint.kink_rad > 0) == (run.face == "left")
        mitre = Mitre(joint.after_piece, abs(joint.kink_rad) / 2, "inside" if towards else "outside")
        at_mm = sum(piece.length_at(curve.offset_mm(line)) for piece in curve.pieces[: joint.after_piece + 1])
        spans.append(_Kink(at_mm, mitre, *curve.mitred_mm(joint, line)))
    return spans


def _between_mitres(
    curve: Curve, run: TrimRun, line: Line, stretch: tuple[float, float], kinks: list[_Kink]
) -> Iterable[TrimSpan]:
    """A stretch parted at its kinks; it may run past the seam of a closed column, over the length of the line."""
    from_mm, to_mm = stretch
    total_mm = curve.length_mm(line)
    at: dict[float, _Kink] = {}
    for kink in kinks:
        for place in (kink.at_mm - total_mm, kink.at_mm, kink.at_mm + total_mm):
            if from_mm - TOLERANCE_MM <= place <= to_mm + TOLERANCE_MM and (curve.is_closed or place == kink.at_mm):
                at[min(max(place, from_mm), to_mm)] = kink
    for low, high in pairwise(sorted({from_mm, to_mm, *at})):
        first, last = at.get(low), at.get(high)
        parts = [(low, high)] if high <= total_mm + TOLERANCE_MM else [(low, total_mm), (0.0, high - total_mm)]
        parts = [(a, b) for a, b in parts if b - a > TOLERANCE_MM]
        if low >= total_mm - TOLERANCE_MM:
            parts = [(low - total_mm, high - total_mm)]
        mitred_mm = (first.after_mm if first else 0.0) + (last.before_mm if last else 0.0)
        length_mm = sum(_run_length(curve, run, line, a, b) for a, b in parts) + mitred_mm
        if length_mm > TOLERANCE_MM:
            yield TrimSpan(
                parts[0][0],
                parts[-1][1],
                length_mm,
                tuple(tail for a, b in parts for tail in _straights(curve, line, a, b)),
                first.mitre if first else None,
                last.mitre if last else None,
                mitred_mm,
            )


def _cuts(curve: Curve, line: Line, cutting: tuple[OpeningOnCurve, ...]) -> list[tuple[float, float]]:
    cuts: list[tuple[float, float]] = []
    for laid in cutting:
        middle_mm, half_mm = curve.developed_mm(line, laid.centre_mm), laid.taken_mm[line] / 2
        low_mm, high_mm = middle_mm - half_mm, middle_mm + half_mm
        if cuts and low_mm <= cuts[-1][1] + TOLERANCE_MM:
            cuts[-1] = (cuts[-1][0], max(cuts[-1][1], high_mm))
        else:
            cuts.append((low_mm, high_mm))
    return cuts


def _run_length(curve: Curve, run: TrimRun, line: Line, from_mm: float, to_mm: float) -> float:
    if run.position not in AT_THE_CEILING or run.foot_mm is not None or curve.heights.is_level:
        return to_mm - from_mm
    # Along a sloping ceiling the profile rises as it goes; a step adds nothing (its upright is a return).
    starts_mm = [curve.developed_mm(line, piece.start_mm) for piece in curve.pieces]
    breaks_mm = [
        curve.developed_mm(line, along) for along, _ in curve.heights.stations if along <= curve.centre_length_mm
    ]
    places = sorted({from_mm, to_mm, *(p for p in (*starts_mm, *breaks_mm) if from_mm < p < to_mm)})
    length_mm = 0.0
    for a, b in pairwise(places):
        nudge = (b - a) * 1e-9
        low = curve.heights.at(curve.centre_mm_of(line, a + nudge))
        high = curve.heights.at(curve.centre_mm_of(line, b - nudge))
        length_mm += math.hypot(b - a, high - low)
    return length_mm


def _straights(curve: Curve, line: Line, from_mm: float, to_mm: float) -> list[float]:
    tails, start_mm = [], 0.0
    for piece in curve.pieces:
        end_mm = start_mm + piece.length_at(curve.offset_mm(line))
        shared_mm = min(end_mm, to_mm) - max(start_mm, from_mm)
        if not piece.is_arc and shared_mm > TOLERANCE_MM:
            tails.append(shared_mm)
        start_mm = end_mm
    return tails


def backing_pieces_mm(curve: Curve, run: TrimRun, cutting: tuple[OpeningOnCurve, ...]) -> tuple[float, ...]:
    if not run.needs_backing:
        return ()
    framing: Line = "left_framing" if run.face == "left" else "right_framing"
    cuts = _cuts(curve, framing, cutting)
    starts = [0.0, *(high for _, high in cuts)]
    ends = [*(low for low, _ in cuts), curve.length_mm(framing)]
    pieces = [high - low for low, high in zip(starts, ends, strict=True)]
    if curve.is_closed and cuts:
        pieces = [pieces[0] + pieces[-1], *pieces[1:-1]]
    return tuple(piece for piece in pieces if piece > TOLERANCE_MM)


def shape_findings(curve: Curve, run: TrimRun, key: str) -> list[Finding]:
    spans = []
    for joint in curve.kinks:
        if abs(joint.kink_rad) >= MITRE_FROM_RAD:
            towards = (joint.kink_rad > 0) == (run.face == "left")
            kink, mitre = format_degrees(abs(joint.kink_rad)), format_degrees(abs(joint.kink_rad) / 2)
            sentence = (
                f"{run.name}: the wall kinks by {kink} degrees after piece {joint.after_piece + 1}. Its pieces end "
                f"there in a mitre of {mitre} degrees, an {'inside' if towards else 'outside'} corner; their "
                "lengths are to the mitre along the back."
            )
            spans.append(Finding(f"{key}/kink-{joint.after_piece + 1}", "caution", sentence))
    if run.position in AT_THE_CEILING and run.foot_mm is None and not curve.heights.is_level:
        sentence = (
            f"{run.name} follows a ceiling that is not level. Its length is along the slope, without the uprights "
            "of steps; on an arc the profile twists. Ask the maker."
        )
        spans.append(Finding(f"{key}/slope", "caution", sentence))
    return spans
