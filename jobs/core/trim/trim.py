"""Trim along a face: the radius at its back, the length it really needs, the pieces, and the maker's order."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from catalog.core.ground.units import System
from catalog.core.materials.specs import Fact, Material
from jobs.core.framing.edge_radius_check import reaches_top
from jobs.core.measure.curve import Curve, curve_of
from jobs.core.measure.findings import Finding
from jobs.core.measure.survey import ArcPiece, ChordRise, HeightProfile, Line, Survey
from jobs.core.measure.wall_spec import ON_TOP, FaceBuild, TrimRun, WallSpec
from jobs.core.trim.trim_bend import (
    STRIP_SOURCE,
    Side,
    StripAdvice,
    TrimArc,
    bend_findings,
    bend_of,
    card_findings,
    strip_advice,
)
from jobs.core.trim.trim_order import OrderData, OrderRadius, order_of
from jobs.core.trim.trim_pieces import PieceCurve, TrimPiece, cut_to_pieces, pieces_for, with_curves
from jobs.core.trim.trim_spans import (
    Mitre,
    TrimSpan,
    backing_pieces_mm,
    openings_in_the_way,
    shape_findings,
    spans_of,
)
from jobs.core.trim.trim_top import CapPiece, cap_pieces, capped, top_findings, top_spans


@dataclass(frozen=True)
class TrimPlan:
    """One run of trim worked out.

    key: "wall/trim-n". line: the finished face its back lies on. face_length_mm: of that whole face;
    taken_mm: what openings take out of it; returns_mm: added for returns; net_mm: the profile needed.
    backing_pieces_mm: on the framing face between openings, empty when none is asked for. pieces: empty when the
    length rules have a gap. splice_count: joints within spans. order: None for stocked profiles. cap: both edges on
    each piece of the wall, of a cap on top of a half wall, whose lengths are those of its longer edge; else empty.
    """

    key: str
    run: TrimRun
    line: Line
    face_length_mm: float
    taken_mm: float
    returns_mm: float
    net_mm: float
    backing_pieces_mm: tuple[float, ...]
    arcs: tuple[TrimArc, ...]
    spans: tuple[TrimSpan, ...]
    pieces: tuple[TrimPiece, ...]
    splice_count: int
    order: OrderData | None
    findings: tuple[Finding, ...]
    cap: tuple[CapPiece, ...] = ()

    @property
    def backing_mm(self) -> float:
        """Length of all backing behind the run, 0 when none is asked for."""
        return sum(self.backing_pieces_mm)

    @property
    def mitred_mm(self) -> float:
        """What the run gains at its mitres, negative when it loses."""
        return sum(span.mitred_mm for span in self.spans)

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

    >>> curve, wall, materials = example()
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

    >>> curve, wall, materials = example()
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


def example() -> tuple[Curve, WallSpec, dict[str, Material]]:
    """The dental screen's arc without its opening, with one custom base on its convex face, for examples.

    Returns the curve, the wall and the catalog.

    >>> example()[1].trims[0].name
    'Base'
    """
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
    wall = WallSpec("w", "Wall", "convex_framing", pieces, heights, "T", "S", bare, bare, trims=(run,))
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
    findings: list[Finding] = top_findings(curve, wall, run, key, material, system)
    if run.position == ON_TOP:
        return _cap_plan(curve, wall, run, key, material, findings, system)
    if material is None:
        sentence = f"{run.name}: the profile {run.material} is not in the catalog; add it with its limits."
        findings.append(Finding(f"{key}/material", "gap", sentence))
    arcs = tuple(bend_of(curve, wall, run, key, piece, line, material, system) for piece in curve.pieces)
    findings += [finding for arc in arcs for finding in bend_findings(arc)]
    cutting = openings_in_the_way(curve, run, key, material, findings)
    spans = spans_of(curve, run, line, cutting)
    findings += shape_findings(curve, run, key)
    pieces, splices = cut_to_pieces(wall, run, key, spans, material, findings, system)
    pieces = with_curves(pieces, spans, arcs, curve, line)
    findings += card_findings(run, key, material)
    taken_mm = sum(laid.taken_mm[line] for laid in cutting)
    plan = TrimPlan(
        key,
        run,
        line,
        curve.length_mm(line),
        taken_mm,
        run.returns_mm,
        sum(span.length_mm for span in spans) + run.returns_mm,
        backing_pieces_mm(curve, run, cutting),
        arcs,
        spans,
        pieces,
        splices,
        None,
        tuple(findings),
    )
    if material is None or material.supply == "stocked":
        return plan
    return replace(plan, order=order_of(curve, run, line, material, arcs, spans, pieces, splices, system))


def _cap_plan(
    curve: Curve,
    wall: WallSpec,
    run: TrimRun,
    key: str,
    material: Material | None,
    findings: list[Finding],
    system: System,
) -> TrimPlan:
    """The cap of a half wall: its edges stand for finished faces, its pieces end at every change of piece."""
    width = material.fact("width_mm") if material else None
    if material is None or width is None or any(finding.key == f"{key}/top" for finding in findings):
        if material is None:
            sentence = f"{run.name}: the profile {run.material} is not in the catalog; add it with its limits."
            findings.append(Finding(f"{key}/material", "gap", sentence))
        return TrimPlan(key, run, "centre", 0.0, 0.0, 0.0, 0.0, (), (), (), (), 0, None, tuple(findings))
    cap = capped(curve, width.number)
    edges = cap_pieces(cap)
    line: Line = max(("left_finished", "right_finished"), key=lambda side: cap.length_mm(side))
    inner = [cap.line_of(piece, "concave", "finished") for piece in cap.pieces]
    bends = zip(cap.pieces, inner, strict=True)
    arcs = tuple(bend_of(cap, wall, run, key, piece, edge, material, system) for piece, edge in bends)
    findings += [finding for arc in arcs for finding in bend_findings(arc)]
    cutting = tuple(laid for laid in cap.openings if reaches_top(cap, laid.span_mm, laid.opening.head_mm))
    spans = top_spans(cap, line, cutting)
    pieces, splices = cut_to_pieces(wall, run, key, spans, material, findings, system)
    pieces = with_curves(pieces, spans, arcs, cap, line)
    findings += card_findings(run, key, material)
    net_mm, whole_mm = sum(span.length_mm for span in spans), sum(edge.outer_mm for edge in edges)
    plan = TrimPlan(
        key,
        run,
        line,
        whole_mm,
        whole_mm - (net_mm - sum(span.mitred_mm for span in spans)),
        run.returns_mm,
        net_mm + run.returns_mm,
        (),
        arcs,
        spans,
        pieces,
        splices,
        None,
        tuple(findings),
        edges,
    )
    if material.supply == "stocked":
        return plan
    order = order_of(cap, run, line, material, arcs, spans, pieces, splices, system)
    return replace(plan, order=replace(order, radii=_both_edges(edges)))


def _both_edges(edges: tuple[CapPiece, ...]) -> tuple[OrderRadius, ...]:
    radii: list[OrderRadius] = []
    for edge in edges:
        if edge.outer_radius_mm > 0:
            radii.append(
                OrderRadius(edge.piece_index, "concave", edge.inner_radius_mm, "inner edge of the cap", edge.inner_mm)
            )
            radii.append(
                OrderRadius(edge.piece_index, "convex", edge.outer_radius_mm, "outer edge of the cap", edge.outer_mm)
            )
    return tuple(radii)


__all__ = [
    "STRIP_SOURCE",
    "CapPiece",
    "Mitre",
    "OrderData",
    "OrderRadius",
    "PieceCurve",
    "Side",
    "StripAdvice",
    "TrimArc",
    "TrimPiece",
    "TrimPlan",
    "TrimSpan",
    "example",
    "pieces_for",
    "plan_trims",
    "strip_advice",
    "with_need_date",
]
