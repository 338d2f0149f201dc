"""Trim along a face: the radius at its back, the length it really needs, the pieces, and the maker's order.

The back of the piece lies on the finished face, so radii and lengths are those of the finished face and
never of the framing. A maker's rules of length are figures of the material; a rule nobody stated is not
applied, and a greatest piece is asked for wherever the profile does not come as plain stock.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from itertools import pairwise
from typing import Literal

from catalog.core.specs import Fact, Material, Sureness
from catalog.core.units import TOLERANCE_MM, System, format_both, format_measure
from jobs.core.bending import Verdict, decision_at, overridden, override_of
from jobs.core.build import AT_THE_CEILING, AT_THE_FLOOR, FaceBuild, TrimForm, TrimRun, WallSpec
from jobs.core.curve import Curve, CurvePiece, Face, OpeningOnCurve, curve_of
from jobs.core.findings import Finding, Override
from jobs.core.survey import ArcPiece, ChordRise, HeightProfile, Line, Survey

Side = Literal["concave", "convex", "straight"]
STRIP_SOURCE = "Bending of a strip, strain t/(2R); E/MOR about 100 for MDF grades, ANSI A208.2. Advice only"
MADE_FORMS: frozenset[TrimForm] = frozenset({"bendable", "pre_curved", "template"})


@dataclass(frozen=True)
class StripAdvice:
    """What bending theory says of a rigid strip: strain as a share; radii in mm. Advice, never a limit."""

    strain: float
    breaks_near_mm: float
    easy_from_mm: float
    sentence: str


@dataclass(frozen=True)
class TrimArc:
    """The profile on one piece of the wall.

    key: "wall/trim-n/piece-n/bend"; an override names it. side: which way the back of the piece is bent.
    radius_mm: of the finished face, at the back of the piece; 0 on a straight. sweep_rad: 0 on a straight.
    verdict and the fields after it as in `bending.BendCheck`. advice: for plain stock of known thickness.
    """

    key: str
    piece_index: int
    side: Side
    radius_mm: float
    sweep_rad: float
    least_radius_mm: float | None
    verdict: Verdict
    sentence: str
    source: str
    sure: Sureness | None
    override: Override | None = None
    advice: StripAdvice | None = None


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


@dataclass(frozen=True)
class TrimPiece:
    """One piece to be made or cut.

    span: index of its span, None for returns. needed_mm: with its share of splices; ordered_mm: after the
    maker's additions and rounding.
    """

    span: int | None
    needed_mm: float
    ordered_mm: float


@dataclass(frozen=True)
class OrderRadius:
    """A radius a maker is told, with the face it is measured at."""

    piece_index: int
    side: Literal["concave", "convex"]
    radius_mm: float
    measured_at: str
    arc_length_mm: float


@dataclass(frozen=True)
class OrderData:
    """All an order for curved trim states. `missing` names what has not been said; empty means complete."""

    profile: str
    size: str
    grade: str
    application: str
    radii: tuple[OrderRadius, ...]
    true_arc_or_template: str
    piece_lengths_mm: tuple[float, ...]
    splice_count: int
    splices_allowed: bool | None
    straight_tails_mm: tuple[float, ...]
    need_by: date | None
    missing: tuple[str, ...]

    @property
    def piece_count(self) -> int:
        return len(self.piece_lengths_mm)


@dataclass(frozen=True)
class TrimPlan:
    """One run of trim worked out.

    key: "wall/trim-n". line: the finished face its back lies on. face_length_mm: of that whole face;
    taken_mm: what openings take out of it; returns_mm: added for returns; net_mm: the profile needed.
    backing_mm: length of backing on the framing face, 0 when none is asked for. pieces: empty when the length
    rules have a gap. splice_count: joints within spans. order: None for stocked profiles.
    """

    key: str
    run: TrimRun
    line: Line
    face_length_mm: float
    taken_mm: float
    returns_mm: float
    net_mm: float
    backing_mm: float
    arcs: tuple[TrimArc, ...]
    spans: tuple[TrimSpan, ...]
    pieces: tuple[TrimPiece, ...]
    splice_count: int
    order: OrderData | None
    findings: tuple[Finding, ...]

    @property
    def ordered_mm(self) -> float:
        return sum(piece.ordered_mm for piece in self.pieces)


def plan_trims(
    curve: Curve, wall: WallSpec, materials: Mapping[str, Material], system: System = "imperial"
) -> tuple[TrimPlan, ...]:
    """Work out every run of trim of a wall.

    Args:
        curve: the wall in plan.
        wall: its trim runs and overrides.
        materials: the catalog by code.
        system: the units of the sentences.

    Returns:
        One plan for each run, in the order given. Missing limits and sizes are findings of the plan.

    Raises:
        nothing of its own.

    Source: radius and length at the back of the piece, on the finished face: plane geometry of parallel
    curves; the length rules are the maker's.

    >>> curve, wall, materials = _example()
    >>> plan = plan_trims(curve, wall, materials)[0]
    >>> round(plan.net_mm / 25.4, 2), [arc.verdict for arc in plan.arcs]
    (182.63, ['passes'])
    """
    return tuple(_plan(curve, wall, run, n, materials, system) for n, run in enumerate(wall.trims, start=1))


def with_need_date(plan: TrimPlan, need_by: date) -> TrimPlan:
    """The plan with the day its trim must be on site, where the run itself states none.

    Args:
        plan: as worked out.
        need_by: from the activities.

    Returns:
        The plan; unchanged when it has no order or its own date stands.

    Raises:
        nothing of its own.

    Source: own rule: a date set for the run goes before one worked out.

    >>> curve, wall, materials = _example()
    >>> plan = plan_trims(curve, wall, materials)[0]
    >>> "need date" in plan.order.missing
    True
    >>> "need date" in with_need_date(plan, date(2027, 1, 25)).order.missing
    False
    """
    if plan.order is None or plan.order.need_by is not None:
        return plan
    missing = tuple(name for name in plan.order.missing if name != "need date")
    return replace(plan, order=replace(plan.order, need_by=need_by, missing=missing))


def strip_advice(thickness_mm: float, radius_mm: float, system: System = "imperial") -> StripAdvice:
    """What to expect of a rigid strip bent to a radius.

    Args:
        thickness_mm: measured along the radius, mm, > 0.
        radius_mm: of the bend, mm, > 0.
        system: the units of the sentence.

    Returns:
        The strain t/(2R), the radius near which MDF breaks (50 t) and the one with a safety of 2.5 (125 t).

    Raises:
        ValueError: a figure not more than zero.

    Source: bending of a strip; E/MOR about 100 from the grades of ANSI A208.2. Advice only: the catalog's own
    limit for the profile wins.

    >>> strip_advice(12.7, 3368.04).easy_from_mm
    1587.5
    """
    if not (thickness_mm > 0 and radius_mm > 0):
        raise ValueError(
            "a strip needs a thickness and a radius over zero, "
            f"not {format_both(thickness_mm)} and {format_both(radius_mm)}"
        )
    strain = thickness_mm / (2 * radius_mm)
    breaks_mm, easy_mm = 50 * thickness_mm, 125 * thickness_mm
    if radius_mm >= easy_mm - TOLERANCE_MM:
        told = "should follow it with a safety of 2.5 or more"
    elif radius_mm > breaks_mm + TOLERANCE_MM:
        told = "may follow it, with less than the safety of 2.5"
    else:
        told = "would be expected to break"
    thick, bend, breaks, easy = (format_measure(one, system) for one in (thickness_mm, radius_mm, breaks_mm, easy_mm))
    sentence = f"Advice only: an MDF strip {thick} thick on {bend} {told} (breaks near {breaks}, easy from {easy})."
    return StripAdvice(strain, breaks_mm, easy_mm, sentence)


def pieces_for(
    span_mm: float,
    *,
    greatest_mm: float | None,
    least_mm: float | None = None,
    add_mm: float | None = None,
    round_to_mm: float | None = None,
    overlap_mm: float | None = None,
) -> tuple[tuple[float, float], ...]:
    """Divide one stretch into equal pieces and round each by the maker's rules.

    Args:
        span_mm: length of profile needed, mm, > 0.
        greatest_mm: longest piece made, mm, > 0, None for one piece whatever its length. It bounds the length
            needed; what the maker adds or rounds up comes on top.
        least_mm: shortest piece sold, mm. add_mm: added to each piece, mm. round_to_mm: each piece is rounded
            up to the next multiple, mm. overlap_mm: length lost at each splice, mm. None: no such rule.

    Returns:
        (needed, ordered) of each piece in mm; the needed lengths add up to the span and its overlaps.

    Raises:
        ValueError: the span is not more than zero, or the greatest piece no longer than a splice's overlap.

    Source: the maker's own rules, as data.

    >>> [ordered for _, ordered in pieces_for(17.6 * 304.8, greatest_mm=9 * 304.8, round_to_mm=2 * 304.8)]
    [3048.0, 3048.0]
    """
    overlap = overlap_mm or 0.0
    if not span_mm > 0:
        raise ValueError(f"a stretch of trim must be longer than zero, not {format_both(span_mm)}")
    count = 1
    if greatest_mm is not None:
        if greatest_mm <= overlap:
            raise ValueError(
                f"the greatest piece, {format_both(greatest_mm)}, must be longer than a splice loses, "
                f"{format_both(overlap)}"
            )
        count = max(1, math.ceil((span_mm - overlap - TOLERANCE_MM) / (greatest_mm - overlap)))
    needed_mm = (span_mm + (count - 1) * overlap) / count
    ordered_mm = needed_mm + (add_mm or 0.0)
    if round_to_mm:
        ordered_mm = math.ceil((ordered_mm - TOLERANCE_MM) / round_to_mm) * round_to_mm
    return ((needed_mm, max(ordered_mm, least_mm or 0.0)),) * count


def _example() -> tuple[Curve, WallSpec, dict[str, Material]]:
    # The dental screen's arc without its opening, one custom base on the convex face.
    limit = Fact(Decimal("1000"), "Its maker's sheet", "maker")
    longest = Fact(Decimal("2743.2"), "Its maker's sheet", "maker")
    base = Material(
        "BASE",
        "Bendable base",
        "trim",
        "custom_made",
        "ft",
        "piece",
        None,
        facts={"least_radius_mm": limit, "greatest_piece_mm": longest},
    )
    pieces, heights = (ArcPiece(ChordRise(4267.2, 762.0), "left"),), HeightProfile(((0.0, 2743.2),))
    run = TrimRun("Base", "right", "base", "BASE", "bendable")
    bare = FaceBuild(())
    wall = WallSpec("w", "Wall", pieces, heights, "convex_framing", "T", "S", bare, bare, trims=(run,))
    curve = curve_of(Survey(pieces, heights, "convex_framing", 92.075, 12.7, 12.7))
    return curve, wall, {"BASE": base}


def _plan(
    curve: Curve,
    wall: WallSpec,
    run: TrimRun,
    number: int,
    materials: Mapping[str, Material],
    system: System,
) -> TrimPlan:
    key = f"{wall.key}/trim-{number}"
    line: Line = "left_finished" if run.face == "left" else "right_finished"
    material = materials.get(run.material)
    found: list[Finding] = []
    if material is None:
        told = f"{run.name}: the profile {run.material} is not in the catalog; add it with its limits."
        found.append(Finding(f"{key}/material", "gap", told))
    arcs = tuple(_arc(curve, wall, run, key, piece, line, material, system) for piece in curve.pieces)
    found += [finding for arc in arcs for finding in _arc_findings(arc)]
    cutting = _openings_in_the_way(curve, run, key, material, found)
    spans = _spans(curve, run, line, cutting)
    found += _shape_findings(curve, run, key)
    pieces, splices = _pieces(wall, run, key, spans, material, found, system)
    taken_mm = sum(laid.taken_mm[line] for laid in cutting)
    plan = TrimPlan(
        key,
        run,
        line,
        curve.length_mm(line),
        taken_mm,
        run.returns_mm,
        sum(span.length_mm for span in spans) + run.returns_mm,
        _backing_mm(curve, run, cutting),
        arcs,
        spans,
        pieces,
        splices,
        None,
        tuple(found),
    )
    if material is None or material.supply == "stocked":
        return plan
    return replace(plan, order=_order(curve, plan, material, system))


def _side(curve: Curve, piece: CurvePiece, face: Face) -> Side:
    if not piece.is_arc:
        return "straight"
    return "concave" if (piece.turn > 0) == (face == "left") else "convex"


def _arc(
    curve: Curve,
    wall: WallSpec,
    run: TrimRun,
    plan_key: str,
    piece: CurvePiece,
    line: Line,
    material: Material | None,
    system: System,
) -> TrimArc:
    key = f"{plan_key}/piece-{piece.index + 1}/bend"
    side = _side(curve, piece, run.face)
    if side == "straight":
        sentence = f"{run.name}: piece {piece.index + 1} is straight."
        return TrimArc(key, piece.index, side, 0.0, 0.0, None, "flat", sentence, "", None)
    radius_mm = piece.radius_at(curve.offset_mm(line))
    limit = material.fact("least_radius_mm") if material else None
    place = f"{run.name}, piece {piece.index + 1}, {side}, back of the piece on the {run.face} finished face: "
    verdict: Verdict = "gap"
    if material is None:
        sentence = f"the profile {run.material} is not in the catalog; add it with its least radius."
    elif limit is None:
        sentence = (
            f"{material.name} ({material.code}) states no least radius: fill in least_radius_mm before "
            f"{format_measure(radius_mm, system)} can be judged."
        )
    else:
        passes = radius_mm >= limit.number - TOLERANCE_MM
        verdict = "passes" if passes else "fails"
        unverified = " (unverified)" if limit.sure == "memory" else ""
        sentence = (
            f"{format_measure(radius_mm, system)} {'meets' if passes else 'is tighter than'} the least radius of "
            f"{format_measure(limit.number, system)}{unverified} of {material.name}."
        )
    if material is not None:
        sentence += _flex_told(material, radius_mm, system)
    advice = _advice(run, material, radius_mm, system)
    if advice:
        sentence += f" {advice.sentence}"
    override = None
    if verdict == "fails":
        override, told = decision_at(wall.overrides, key, radius_mm, system)
        sentence += told
        verdict = "overridden" if override else "fails"
    return TrimArc(
        key,
        piece.index,
        side,
        radius_mm,
        piece.sweep_rad,
        limit.number if limit else None,
        verdict,
        place + sentence,
        limit.source if limit else "",
        limit.sure if limit else None,
        override,
        advice,
    )


def _flex_told(material: Material, radius_mm: float, system: System) -> str:
    inside, outside = material.fact("flex_inside_mm"), material.fact("flex_outside_mm")
    told = []
    if inside is not None:
        to = format_measure(max(radius_mm - inside.number, 0.0), system)
        told.append(f"{format_measure(inside.number, system)} tighter (to {to})")
    if outside is not None:
        to = format_measure(radius_mm + outside.number, system)
        told.append(f"{format_measure(outside.number, system)} easier (to {to})")
    return f" A piece made to this radius may be flexed {' or '.join(told)}." if told else ""


def _advice(run: TrimRun, material: Material | None, radius_mm: float, system: System) -> StripAdvice | None:
    thickness = material.fact("thickness_mm") if material else None
    return strip_advice(thickness.number, radius_mm, system) if thickness and run.form == "stock" else None


def _arc_findings(arc: TrimArc) -> list[Finding]:
    if arc.verdict == "gap":
        return [Finding(arc.key, "gap", arc.sentence, arc.source)]
    if arc.verdict == "fails":
        ask = " Choose another profile or form, or a named person must override it with a reason."
        return [Finding(arc.key, "decide", arc.sentence + ask, arc.source, arc.radius_mm)]
    if arc.verdict == "overridden" or (arc.verdict == "passes" and arc.sure == "memory"):
        return [Finding(arc.key, "caution", arc.sentence, arc.source)]
    if arc.advice and arc.radius_mm < arc.advice.easy_from_mm - TOLERANCE_MM:
        return [Finding(f"{arc.key}/strip", "note", arc.advice.sentence, STRIP_SOURCE)]
    return []


def _openings_in_the_way(
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


def _spans(curve: Curve, run: TrimRun, line: Line, cutting: tuple[OpeningOnCurve, ...]) -> tuple[TrimSpan, ...]:
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


def _backing_mm(curve: Curve, run: TrimRun, cutting: tuple[OpeningOnCurve, ...]) -> float:
    if not run.needs_backing:
        return 0.0
    framing: Line = "left_framing" if run.face == "left" else "right_framing"
    cut_mm = sum(high - low for low, high in _cuts(curve, framing, cutting))
    return max(curve.length_mm(framing) - cut_mm, 0.0)


def _shape_findings(curve: Curve, run: TrimRun, key: str) -> list[Finding]:
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


def _number(material: Material | None, name: str) -> float | None:
    fact = material.fact(name) if material else None
    return fact.number if fact else None


def _pieces(
    wall: WallSpec,
    run: TrimRun,
    key: str,
    spans: tuple[TrimSpan, ...],
    material: Material | None,
    found: list[Finding],
    system: System,
) -> tuple[tuple[TrimPiece, ...], int]:
    if material is None:
        return (), 0
    greatest_mm = _number(material, "greatest_piece_mm")
    if greatest_mm is None and run.form not in MADE_FORMS:
        # A stocked profile with no rule of its own comes no longer than its longest stick.
        greatest_mm = max((pack.length_mm for pack in material.packs if pack.length_mm), default=None)
    if greatest_mm is None and run.form in MADE_FORMS:
        told = (
            f"{run.name}: {material.name} ({material.code}) states no greatest piece: fill in "
            "greatest_piece_mm before its pieces can be counted."
        )
        found.append(Finding(f"{key}/greatest_piece", "gap", told))
        return (), 0
    overlap_mm = _number(material, "splice_overlap_mm")
    if greatest_mm is not None and overlap_mm is not None and greatest_mm <= overlap_mm:
        told = (
            f"{run.name}: the greatest piece of {material.code} ({format_measure(greatest_mm, system)}) is no longer "
            f"than a splice loses ({format_measure(overlap_mm, system)}): correct one of them."
        )
        found.append(Finding(f"{key}/greatest_piece", "gap", told))
        return (), 0
    stretches: list[tuple[int | None, float]] = [(n, span.length_mm) for n, span in enumerate(spans)]
    if run.returns_mm > TOLERANCE_MM:
        stretches.append((None, run.returns_mm))
    pieces, splices = [], 0
    for span, length_mm in stretches:
        cut = pieces_for(
            length_mm,
            greatest_mm=greatest_mm,
            least_mm=_number(material, "least_piece_mm"),
            add_mm=_number(material, "add_per_piece_mm"),
            round_to_mm=_number(material, "round_piece_to_mm"),
            overlap_mm=overlap_mm,
        )
        splices += len(cut) - 1
        pieces += [TrimPiece(span, needed, ordered) for needed, ordered in cut]
    if splices and run.splices_allowed is False:
        longest = format_measure(greatest_mm or 0.0, system)
        told = (
            f"{run.name} is to have no splices, but {material.name} is made at most "
            f"{longest} long: {splices} would be needed."
        )
        found.append(_splices_decided(wall, f"{key}/splices", told, splices))
    return tuple(pieces), splices


def _splices_decided(wall: WallSpec, key: str, told: str, splices: int) -> Finding:
    override = override_of(wall.overrides, key)
    if override and (override.original is None or splices <= override.original):
        return Finding(key, "caution", told + overridden(override), "", float(splices))
    if override:
        told += f" Decided by {override.by} on {override.on} for {override.original:g}: decide again."
    return Finding(key, "decide", f"{told} Allow them, or choose another profile.", "", float(splices))


def _order(curve: Curve, plan: TrimPlan, material: Material, system: System) -> OrderData:
    run = plan.run
    width, thickness = material.fact("width_mm"), material.fact("thickness_mm")
    sizes = [format_measure(fact.number, system) for fact in (width, thickness) if fact]
    radii = tuple(
        OrderRadius(
            arc.piece_index,
            arc.side,
            arc.radius_mm,
            f"back of the piece, on the {run.face} finished face",
            curve.pieces[arc.piece_index].length_at(curve.offset_mm(plan.line)),
        )
        for arc in plan.arcs
        if arc.side != "straight"
    )
    needs_template = run.form == "template"
    missing = {
        "size": width is None or thickness is None,
        "grade": run.grade is None,
        "application": not run.application.strip(),
        "held template": needs_template and not (run.template or "").strip(),
        "number and lengths of pieces": not plan.pieces and plan.net_mm > TOLERANCE_MM,
        "splices": run.splices_allowed is None,
        "need date": run.need_by is None,
    }
    return OrderData(
        f"{material.name} ({material.code})",
        " x ".join(sizes),
        run.grade or "",
        run.application.strip(),
        radii,
        f"template {run.template or 'not named'}" if needs_template else "true arc",
        tuple(piece.ordered_mm for piece in plan.pieces),
        plan.splice_count,
        run.splices_allowed,
        tuple(tail for span in plan.spans for tail in span.straight_tails_mm),
        run.need_by,
        tuple(name for name, is_missing in missing.items() if is_missing),
    )
