"""The cap of a half wall: laid flat on its free top over the whole thickness, so that both its edges count.

A cap is centred on the wall. On an arc its outer edge is the longer, and that is what is bought; a maker is told both
radii, and whoever cuts it out of flat stock needs the blank that holds it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from catalog.core.ground.declared import View
from catalog.core.ground.units import TOLERANCE_MM, System, format_measure
from catalog.core.materials.specs import Material
from jobs.core.measure.curve import Curve, CurvePiece, Joint, OpeningOnCurve
from jobs.core.measure.findings import Finding
from jobs.core.measure.survey import Line
from jobs.core.measure.wall_spec import AT_THE_CEILING, ON_TOP, TrimRun, WallSpec
from jobs.core.trim.trim_spans import MITRE_FROM_RAD, Mitre, TrimSpan

_EDGES: tuple[Line, ...] = ("left_finished", "right_finished")


@dataclass(frozen=True)
class CapPiece(View):
    """The cap on one piece of the wall.

    inner_radius_mm, outer_radius_mm: of its edges, 0 on a straight and to a template. inner_mm, outer_mm: lengths
    along both edges. blank_mm: length and width of the flat stock it can be cut from in one; None to a template.
    """

    piece_index: int
    inner_radius_mm: float
    outer_radius_mm: float
    inner_mm: float
    outer_mm: float
    blank_mm: tuple[float, float] | None


def capped(curve: Curve, width_mm: float) -> Curve:
    """The wall with the edges of a cap for its finished faces.

    curve: the wall. width_mm: of the cap across the wall, > 0; it is centred. Source: plane geometry of parallels.

    >>> from jobs.core.measure.curve import curve_of, _example
    >>> capped(curve_of(_example()), 150.0).offset_mm("left_finished")
    75.0
    """
    over_mm = (width_mm - curve.stud_depth_mm) / 2
    return replace(curve, left_build_up_mm=over_mm, right_build_up_mm=over_mm)


def outer_line(cap: Curve, piece: CurvePiece) -> Line:
    """The longer edge of a cap on one piece, as a line of the capped wall."""
    return cap.line_of(piece, "convex", "finished")


def cap_pieces(cap: Curve) -> tuple[CapPiece, ...]:
    """The cap on each piece of the wall.

    cap: of `capped`. Returns radii and lengths of both edges and the blank of each. Source: radius x sweep; the blank
    of an arc is 2R sin(sweep/2) long, the rise over its inner chord wide, that of more than half a circle 2R square to
    the whole.

    >>> from jobs.core.measure.curve import curve_of, _example
    >>> piece = cap_pieces(capped(curve_of(_example()), 150.0))[0]
    >>> round(piece.outer_radius_mm - piece.inner_radius_mm, 6), round(piece.blank_mm[0]), round(piece.blank_mm[1])
    (150.0, 4304, 885)
    """
    findings = []
    for piece in cap.pieces:
        inner, outer = (cap.offset_mm(cap.line_of(piece, side, "finished")) for side in ("concave", "convex"))
        findings.append(
            CapPiece(
                piece.index,
                piece.radius_at(inner),
                piece.radius_at(outer),
                piece.length_at(inner),
                piece.length_at(outer),
                _blank(piece, piece.radius_at(inner), piece.radius_at(outer), abs(outer - inner)),
            )
        )
    return tuple(findings)


def _blank(piece: CurvePiece, inner_mm: float, outer_mm: float, width_mm: float) -> tuple[float, float] | None:
    if piece.is_template:
        return None
    if not piece.is_arc:
        return piece.length_mm, width_mm
    half_rad = piece.sweep_rad / 2
    across_mm = 2 * outer_mm * math.sin(min(half_rad, math.pi / 2))
    # Past half a circle its ends come back under the widest place, on the outer edge.
    lowest_mm = min(inner_mm * math.cos(half_rad), outer_mm * math.cos(half_rad))
    return across_mm, outer_mm - lowest_mm


def top_spans(cap: Curve, line: Line, openings: tuple[OpeningOnCurve, ...]) -> tuple[TrimSpan, ...]:
    """The stretches of a cap: it ends at every change of piece, and at openings that are open to the top.

    cap: of `capped`. line: its finished face that from and to are stated on. openings: those open to the top. Returns
    the stretches in walking order, each as long as the cap's longer edge there, to its mitres at kinks.

    >>> from jobs.core.measure.curve import curve_of, _example
    >>> cap = capped(curve_of(_example()), 150.0)
    >>> [round(span.length_mm) for span in top_spans(cap, "right_finished", ())]
    [4661]
    """
    spans = []
    for piece in cap.pieces:
        outer = outer_line(cap, piece)
        cuts = sorted(
            (laid.centre_mm - piece.start_mm, laid.taken_mm[outer] / piece.length_at(cap.offset_mm(outer)) / 2)
            for laid in openings
            if laid.piece_index == piece.index
        )
        shares = [0.0]
        for middle_mm, half in cuts:
            shares += [middle_mm / piece.length_mm - half, middle_mm / piece.length_mm + half]
        shares.append(1.0)
        for low, high in zip(shares[::2], shares[1::2], strict=True):
            length_mm = (high - low) * piece.length_at(cap.offset_mm(outer))
            joints = (
                _kink_before(cap, piece) if low == 0.0 else None,
                _kink_after(cap, piece) if high == 1.0 else None,
            )
            mitred_mm = _mitred_mm(cap, piece, high - low, joints) - length_mm
            length_mm += mitred_mm
            if length_mm > TOLERANCE_MM:
                ends = [cap.developed_mm(line, piece.start_mm + share * piece.length_mm) for share in (low, high)]
                tails = () if piece.is_arc or piece.is_template else (length_mm,)
                cuts_at = [
                    Mitre(joint.after_piece, abs(joint.kink_rad) / 2, "flat") if joint else None for joint in joints
                ]
                spans.append(TrimSpan(ends[0], ends[1], length_mm, tails, cuts_at[0], cuts_at[1], mitred_mm))
    return tuple(spans)


def _kink_before(cap: Curve, piece: CurvePiece) -> Joint | None:
    return _kink_after(cap, cap.pieces[piece.index - 1]) if piece.index or cap.is_closed else None


def _kink_after(cap: Curve, piece: CurvePiece) -> Joint | None:
    mine = (kink for kink in cap.kinks if kink.after_piece == piece.index and abs(kink.kink_rad) >= MITRE_FROM_RAD)
    return next(mine, None)


def _mitred_mm(cap: Curve, piece: CurvePiece, share: float, joints: tuple[Joint | None, Joint | None]) -> float:
    """Length of the longer of a piece's edges, each to its mitres: a cut may make the inner edge the longer."""
    lengths = []
    for line in _EDGES:
        gains_mm = cap.mitred_mm(joints[0], line)[1] if joints[0] else 0.0
        gains_mm += cap.mitred_mm(joints[1], line)[0] if joints[1] else 0.0
        lengths.append(share * piece.length_at(cap.offset_mm(line)) + gains_mm)
    return max(lengths)


def top_findings(
    curve: Curve, wall: WallSpec, run: TrimRun, key: str, material: Material | None, system: System
) -> list[Finding]:
    """What must be known of a run by whether the wall's top is free.

    curve, wall: the wall. run: the trim. key: of the run. material: its profile. system: of the sentences. Returns a
    gap where the width of a cap is missing, and decisions where run and wall do not go together.

    >>> from jobs.core.measure.wall_spec import FaceBuild
    >>> from jobs.core.measure.curve import curve_of, _example
    >>> curve, bare = curve_of(_example()), FaceBuild(())
    >>> wall = WallSpec("w", "Wall", "centre", (), curve.heights, "T", "S", bare, bare)
    >>> [one.key for one in top_findings(curve, wall, TrimRun("Cap", "left", "top", "C"), "w/trim-1", None, "metric")]
    ['w/trim-1/top']
    """
    if run.position != ON_TOP:
        if wall.is_half_wall and run.position in AT_THE_CEILING and run.foot_mm is None:
            sentence = f"{run.name} hangs from the free top of a half wall: there is no ceiling to hold it."
            return [Finding(f"{key}/top", "caution", sentence)]
        return []
    if not wall.is_half_wall:
        sentence = (
            f"{run.name} is on top of a half wall, but this wall goes up to a ceiling: set its top free, or move it."
        )
        return [Finding(f"{key}/top", "decide", sentence)]
    width = material.fact("width_mm") if material else None
    if material is not None and width is None:
        sentence = f"{run.name}: fill in width_mm of {material.name} ({material.code}): its edges hang on it."
        return [Finding(f"{key}/width", "gap", sentence)]
    thick_mm = curve.stud_depth_mm + curve.left_build_up_mm + curve.right_build_up_mm
    if width is not None and width.number < thick_mm - TOLERANCE_MM:
        sentence = (
            f"{run.name} is {format_measure(width.number, system)} wide and does not cover the wall, "
            f"{format_measure(thick_mm, system)} thick: choose a wider profile."
        )
        return [Finding(f"{key}/width", "decide", sentence)]
    return []
