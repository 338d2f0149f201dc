"""Where a run of trim goes along its face: the stretches between openings, their lengths, and the backing."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from catalog.core.specs import Material
from catalog.core.units import TOLERANCE_MM
from jobs.core.build import AT_THE_CEILING, AT_THE_FLOOR, TrimRun
from jobs.core.curve import Curve, OpeningOnCurve
from jobs.core.findings import Finding
from jobs.core.survey import Line


@dataclass(frozen=True)
class TrimSpan:
    """One unbroken stretch between openings.

    from_mm, to_mm: along the finished face from the start of the wall; to is under from where the stretch
    passes the seam of a closed column. length_mm: of profile. straight_tails_mm: its straight parts.
    """

    from_mm: float
    to_mm: float
    length_mm: float
    straight_tails_mm: tuple[float, ...]


def openings_in_the_way(
    curve: Curve, run: TrimRun, key: str, material: Material | None, found: list[Finding]
) -> tuple[OpeningOnCurve, ...]:
    width = material.fact("width_mm") if material else None
    cutting = []
    for laid in curve.openings:
        verdict = _is_cut(curve, run, laid, width.number if width else None)
        if verdict is None:
            told = (
                f"{run.name}: fill in width_mm of {run.material}: without it nobody can say whether "
                f"{laid.opening.name} interrupts it."
            )
            found.append(Finding(f"{key}/width/{laid.opening.name}", "gap", told))
        elif verdict:
            cutting.append(laid)
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
    if curve.is_closed and len(ranges) > 1 and ranges[0][0] == 0.0 and ranges[-1][1] == total_mm:
        # The seam of a closed column is nobody's end: the last stretch runs on into the first.
        first, last = ranges[0], ranges.pop()
        ranges[0] = (last[0], first[1])
    spans = []
    for from_mm, to_mm in ranges:
        parts = [(from_mm, to_mm)] if from_mm < to_mm else [(from_mm, total_mm), (0.0, to_mm)]
        length_mm = sum(_run_length(curve, run, line, a, b) for a, b in parts)
        tails = tuple(tail for a, b in parts for tail in _straights(curve, line, a, b))
        spans.append(TrimSpan(from_mm, to_mm, length_mm, tails))
    return tuple(spans)


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


def backing_mm(curve: Curve, run: TrimRun, cutting: tuple[OpeningOnCurve, ...]) -> float:
    if not run.needs_backing:
        return 0.0
    framing: Line = "left_framing" if run.face == "left" else "right_framing"
    cut_mm = sum(high - low for low, high in _cuts(curve, framing, cutting))
    return max(curve.length_mm(framing) - cut_mm, 0.0)


def shape_findings(curve: Curve, run: TrimRun, key: str) -> list[Finding]:
    found = []
    for joint in curve.joints:
        if abs(joint.kink_rad) > 1e-6:
            told = (
                f"{run.name}: the wall kinks by {abs(math.degrees(joint.kink_rad)):.1f} degrees after piece "
                f"{joint.after_piece + 1}; lengths are to the joint of the centrelines: check the mitre."
            )
            found.append(Finding(f"{key}/kink-{joint.after_piece + 1}", "caution", told))
    if run.position in AT_THE_CEILING and run.foot_mm is None and not curve.heights.is_level:
        told = (
            f"{run.name} follows a ceiling that is not level: its length is taken along the slope, without "
            "the uprights of steps, and on an arc the profile twists. Ask the maker."
        )
        found.append(Finding(f"{key}/slope", "caution", told))
    return found
