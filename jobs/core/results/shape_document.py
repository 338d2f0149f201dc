"""The shape of a wall as results: its top and ends, arches and casings, caps, mitres, backing and track lengths."""

from __future__ import annotations

import math
from typing import Any

from catalog.core.ground.lengths import length
from catalog.core.ground.units import System
from jobs.core.framing.arch import Casing
from jobs.core.measure.curve import Face
from jobs.core.measure.survey import LINES, TemplatePiece
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.core.trim.arches_and_backing import ArchWork
from jobs.core.trim.casings import CasedOpening
from jobs.core.trim.trim import CapPiece, Mitre, TrimPlan

Document = dict[str, Any]


def shape_part(wall: WallWorkUp, system: System) -> Document:
    """What the shape of a wall adds to its results.

    wall: worked up. system: of the words. Top edges follow slopes; the uprights of steps are told apart.
    """
    curve = wall.curve
    return {
        "top": wall.spec.top,
        "ends": ends_document(wall),
        "top_edges": {line: length(curve.top_edge_mm(line, 0.0, curve.centre_length_mm), system) for line in LINES},
        "top_steps": length(curve.top_steps_mm, system),
        "arches": [_arch(arch, system) for arch in wall.arches],
        "casings": [_casing(opening, face, made, system) for opening in wall.cased for face, made in opening.made],
        "track_pieces": [
            {"run": piece.kind, "number": piece.run, "length": length(piece.length_mm, system)}
            for piece in wall.track_pieces
        ],
        "backing": [
            {
                "trim": line.trim,
                "face": line.face,
                "foot": None if line.foot_mm is None else length(line.foot_mm, system),
                "head": None if line.head_mm is None else length(line.head_mm, system),
                "below_ceiling": None if line.below_mm is None else length(line.below_mm, system),
                "length": length(line.length_mm, system),
            }
            for line in wall.backing
        ],
    }


def ends_document(wall: WallWorkUp) -> Document | None:
    """The ends of a wall; None where it closes on itself and has none."""
    if wall.curve.is_closed:
        return None
    ends = wall.spec.ends
    return {"start": ends.start, "end": ends.end, "studs": ends.studs}


def template_part(wall: WallWorkUp, piece_index: int, system: System) -> Document:
    """A piece built to a template only: its ends and taped length, and the template.

    wall: worked up. piece_index: from 0, of such a piece. system: of the words.
    """
    given, piece = wall.spec.pieces[piece_index], wall.curve.pieces[piece_index]
    return {
        "chord": length(piece.chord_mm or 0.0, system),
        "turned_deg": round(math.degrees(piece.turned_rad), 4),
        "template": given.template if isinstance(given, TemplatePiece) else None,
    }


def cap_document(cap: CapPiece, system: System) -> Document:
    """A cap on one piece of the wall: both edges and the flat blank that holds it."""
    return {
        "piece": cap.piece_index + 1,
        "inner_radius": length(cap.inner_radius_mm, system),
        "outer_radius": length(cap.outer_radius_mm, system),
        "inner": length(cap.inner_mm, system),
        "outer": length(cap.outer_mm, system),
        "blank": None if cap.blank_mm is None else [length(side, system) for side in cap.blank_mm],
    }


def mitre_documents(plan: TrimPlan) -> list[Document]:
    """The mitres of a run, in walking order, two at each kink."""
    return [_mitre(mitre) for span in plan.spans for mitre in span.mitres]


def _mitre(mitre: Mitre) -> Document:
    return {
        "after_piece": mitre.after_piece + 1,
        "cut_deg": round(math.degrees(mitre.cut_rad), 4),
        "corner": mitre.corner,
    }


def _arch(work: ArchWork, system: System) -> Document:
    head = work.head
    return {
        "opening": work.name,
        "span": length(head.span_mm, system),
        "rise": length(head.rise_mm, system),
        "spring": length(head.spring_mm, system),
        "radius": length(head.radius_mm, system),
        "sweep_deg": round(math.degrees(head.sweep_rad), 4),
        "soffit": length(head.soffit_mm, system),
        "soffit_depth": length(work.soffit_depth_mm, system),
    }


def _casing(cased: CasedOpening, face: Face, casing: Casing, system: System) -> Document:
    chosen = cased.chosen
    named: Document = {
        "opening": cased.name,
        "face": face,
        "legs": chosen.legs,
        "head": chosen.head or chosen.legs,
    }
    figures = {
        "reveal": casing.reveal_mm,
        "width": casing.width_mm,
        "inner_radius": casing.inner_radius_mm,
        "outer_radius": casing.outer_radius_mm,
        "head_inner": casing.inner_mm,
        "head_outer": casing.outer_mm,
        "leg_inner": casing.legs_inner_mm,
        "leg_outer": casing.legs_outer_mm,
    }
    written = named | {name: length(figure, system) for name, figure in figures.items()}
    return written | {"mitre_deg": round(math.degrees(casing.mitre_rad), 4)}
