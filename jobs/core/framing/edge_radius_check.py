"""Edges that curve in the plane of a wall's face or top: arched heads, and the free top of a half wall on an arc.

A straight bead does not follow them, nor does track of the usual kind: each takes a material of its own, whose least
radius is held against the edge.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from catalog.core.ground.units import TOLERANCE_MM, System, format_measure
from catalog.core.materials.specs import Material
from jobs.core.measure.curve import Curve, Face
from jobs.core.measure.findings import Finding
from jobs.core.measure.survey import Line
from jobs.core.measure.wall_spec import WallSpec


@dataclass(frozen=True)
class CurvedEdge:
    """One edge along an arc. key: within the wall. where: in words. radius_mm, length_mm: of the edge, > 0."""

    key: str
    where: str
    radius_mm: float
    length_mm: float


def arch_edges(curve: Curve) -> tuple[CurvedEdge, ...]:
    """The arrises of the arched heads, the same on both faces.

    curve: the wall. Returns one edge an arched opening, in the order given. Source: radius x sweep of the head.

    >>> from jobs.core.measure.curve import _example
    >>> from jobs.core.measure.curve import curve_of
    >>> arch_edges(curve_of(_example()))
    ()
    """
    return tuple(
        CurvedEdge(
            f"opening-{number}/arch",
            f"the arch of {laid.opening.name}",
            laid.opening.arch_radius_mm,
            laid.opening.arch_length_mm,
        )
        for number, laid in enumerate(curve.openings, 1)
        if laid.opening.is_arched
    )


def top_edges(curve: Curve, wall: WallSpec, face: Face) -> tuple[tuple[CurvedEdge, ...], float]:
    """The free top edge of a half wall's face: what of it runs along arcs, and the length that runs straight, in mm.

    curve: the wall. wall: says whether its top is free. face: whose arris. Returns no edges and 0 under a ceiling.
    Lengths follow the top where it slopes; the uprights of steps count with the straight. Openings as high as the
    wall are left out. Source: radius x sweep of the finished face, and hypot(run, rise) along a slope.

    >>> from jobs.core.measure.wall_spec import FaceBuild
    >>> from jobs.core.measure.curve import curve_of, _example
    >>> curve, bare = curve_of(_example()), FaceBuild(())
    >>> wall = WallSpec("w", "Wall", "centre", (), curve.heights, "T", "S", bare, bare, top="free")
    >>> edges, straight_mm = top_edges(curve, wall, "right")
    >>> round(edges[0].length_mm / 25.4, 2), straight_mm
    (182.63, 0.0)
    """
    if not wall.is_half_wall:
        return (), 0.0
    line: Line = "left_finished" if face == "left" else "right_finished"
    edges: list[CurvedEdge] = []
    straight_mm = curve.top_steps_mm
    for piece in curve.pieces:
        cut_mm = sum(
            laid.taken_mm[line]
            for laid in curve.openings
            if laid.piece_index == piece.index and reaches_top(curve, laid.span_mm, laid.opening.head_mm)
        )
        length_mm = curve.top_edge_mm(line, piece.start_mm, piece.end_mm) - cut_mm
        if length_mm <= TOLERANCE_MM:
            continue
        if piece.is_arc:
            radius_mm = piece.radius_at(curve.offset_mm(line))
            where = f"the top of piece {piece.index + 1}, {face} face"
            edges.append(CurvedEdge(f"{face}/piece-{piece.index + 1}/top", where, radius_mm, length_mm))
        else:
            straight_mm += length_mm
    return tuple(edges), straight_mm


def reaches_top(curve: Curve, span_mm: tuple[float, float], head_mm: float) -> bool:
    """Whether an opening with that span (mm along the centreline) and head is open up to the top of the wall.

    >>> from jobs.core.measure.curve import curve_of, _example
    >>> reaches_top(curve_of(_example()), (100.0, 900.0), 2743.2)
    True
    """
    return curve.heights.least_between(*span_mm) - head_mm <= TOLERANCE_MM


def too_tight(
    edges: Iterable[CurvedEdge], material: Material, wall_key: str, what: str, system: System = "imperial"
) -> tuple[Finding, ...]:
    """What must be said where a material is to follow curved edges.

    edges: to be followed. material: with its `least_radius_mm`. wall_key: begins the keys. what: the material is for.
    Returns a gap where it states no least radius, a decision for each edge tighter than it, a caution where the
    limit is unverified. Source: the material's own limit.

    >>> bead = Material("B", "Bead", "bead", "stocked", "ft", "stick", None)
    >>> [one.weight for one in too_tight([CurvedEdge("opening-1/arch", "the arch", 500.0, 900.0)], bead, "w", "bead")]
    ['gap']
    """
    edges = tuple(edges)
    if not edges:
        return ()
    limit = material.fact("least_radius_mm")
    if limit is None:
        message = (
            f"{material.name} ({material.code}) states no least radius: fill in least_radius_mm before it can be "
            f"judged on {edges[0].where}."
        )
        return (Finding(f"{wall_key}/{what}/{material.code}/least_radius", "gap", message),)
    findings = []
    least = format_measure(limit.number, system)
    for edge in edges:
        radius = format_measure(edge.radius_mm, system)
        if edge.radius_mm < limit.number - TOLERANCE_MM:
            message = (
                f"{material.name} on {edge.where}: R {radius} is tighter than its least radius of {least}. Choose "
                "another material, or a named person must override it with a reason."
            )
            findings.append(Finding(f"{wall_key}/{edge.key}/{what}", "decide", message, limit.source))
        elif limit.sure == "memory":
            message = f"{material.name} on {edge.where}: R {radius} meets a least radius of {least} that is unverified."
            findings.append(Finding(f"{wall_key}/{edge.key}/{what}", "caution", message, limit.source))
    return tuple(findings)
