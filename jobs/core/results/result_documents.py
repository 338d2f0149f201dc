"""Results as JSON values: the same figures for the command's files, the API and the pages.

Lengths are given as {"mm", "in", "text"}, areas as {"m2", "sqft"}, money as text with two places, days as ISO text.
"""

from __future__ import annotations

import math
from dataclasses import asdict
from datetime import date
from decimal import Decimal
from typing import Any

from catalog.core.ground.lengths import length, length_at
from catalog.core.ground.plain_text import money, plain
from catalog.core.ground.units import System, sqft_from_mm2, sqm_from_mm2
from jobs.core.boards.boards import FacePlan
from jobs.core.framing.framing import Station
from jobs.core.measure.bending import BendCheck, TrackCheck
from jobs.core.measure.board_ways import BoardWay
from jobs.core.measure.curve import CurvePiece
from jobs.core.measure.explanation import Explanation, Quantity
from jobs.core.measure.findings import Finding
from jobs.core.measure.survey import LINES
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.ordering.needs import SAFE_FROM, DatedNeed
from jobs.core.ordering.order_by import days_in_hand_in_words, standing
from jobs.core.results.shape_document import cap_document, mitre_documents, shape_part, template_part
from jobs.core.results.survey_document import arc_band, check_band, hold_document, order_band, survey_part
from jobs.core.takeoff.takeoff import RULE_VERSION, Purchase, Takeoff, TakeoffLine
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.core.trim.trim import TrimArc, TrimPlan

Document = dict[str, Any]


def area(area_mm2: float) -> Document:
    """An area in square metres and square feet.

    >>> area(1_000_000.0)
    {'m2': 1.0, 'sqft': 10.76391}
    """
    return {"m2": round(sqm_from_mm2(area_mm2), 6), "sqft": round(sqft_from_mm2(area_mm2), 6)}


def explanation(why: Explanation) -> Document:
    """Why a figure is what it is."""
    return {
        "rule": why.rule,
        "inputs": [{"label": label, "value": value} for label, value in why.inputs],
        "source": why.source,
        "rules": RULE_VERSION,
    }


def finding(row: Finding) -> Document:
    """One sentence somebody must read."""
    return asdict(row)


def takeoff_document(work_up: JobWorkUp) -> Document:
    """The whole takeoff: every wall with its lengths, radii, areas, stations, checks, trim; lines and purchases."""
    system = work_up.read.book.firm.display_units
    return {
        "job": work_up.read.job.key,
        "title": work_up.read.job.title,
        "on": work_up.today.isoformat(),
        "walls": [wall_document(wall, system) for wall in work_up.walls],
        **purchases_document(work_up.takeoff),
        "findings": [finding(row) for row in work_up.takeoff.findings],
    }


def purchases_document(takeoff: Takeoff) -> Document:
    """Lines of every wall and purchases merged over the job."""
    return {
        "lines": [_line(line) for line in takeoff.lines],
        "purchases": [_purchase(purchase) for purchase in takeoff.purchases],
        "material_cost": money(takeoff.cost),
    }


def wall_document(wall: WallWorkUp, system: System) -> Document:
    """One wall: curve, openings, checks, framing, boards, trim and quantities."""
    curve = wall.curve
    return {
        "key": wall.spec.key,
        "name": wall.spec.name,
        "measured_on": wall.spec.measured_on,
        "stud_depth": length(curve.stud_depth_mm, system),
        "build_up": {
            "left": length(curve.left_build_up_mm, system),
            "right": length(curve.right_build_up_mm, system),
        },
        "pieces": [_piece(wall, piece, system) for piece in curve.pieces],
        "lengths": {line: length(curve.length_mm(line), system) for line in LINES},
        "longer_framing": length(curve.longer_framing_mm, system),
        "areas": {
            line: {"gross": area(curve.gross_area_mm2(line)), "net": area(curve.net_area_mm2(line))} for line in LINES
        },
        "end": {
            "x": length_at(curve.end[0], system),
            "y": length_at(curve.end[1], system),
            "heading_deg": round(math.degrees(curve.end_heading_rad), 4),
            "closure": length(curve.closure_mm, system),
            "closed": curve.is_closed,
        },
        "joints": [
            {
                "after_piece": joint.after_piece + 1,
                "at": length(joint.at_mm, system),
                "kink_deg": round(math.degrees(joint.kink_rad), 4),
                "tangent": abs(joint.kink_rad) < 1e-9,
            }
            for joint in curve.joints
        ],
        "openings": [
            {
                "name": laid.opening.name,
                "piece": laid.piece_index + 1,
                "centre_at": length(laid.centre_mm, system),
                "taken": {line: length(taken, system) for line, taken in laid.taken_mm.items()},
                "bulge": length(laid.bulge_mm, system),
            }
            for laid in curve.openings
        ],
        "checks": [
            *(_check(check, wall, system) for check in wall.bend_checks),
            *(_check(check, wall, system) for check in wall.track_checks),
        ],
        "framing": _framing(wall, system),
        "boards": [_boards(plan, system) for plan in wall.face_plans],
        "trim": [_trim(plan, wall, system) for plan in wall.trims],
        "uses": [_use(quantity) for quantity in wall.quantities if quantity.material is None],
        **shape_part(wall, system),
        **survey_part(wall, system),
        "findings": [finding(row) for row in wall.findings],
    }


def _piece(wall: WallWorkUp, piece: CurvePiece, system: System) -> Document:
    curve = wall.curve
    written: Document = {
        "number": piece.index + 1,
        "shape": "arc" if piece.is_arc else "template" if piece.is_template else "straight",
        "lengths": {line: length(piece.length_at(curve.offset_mm(line)), system) for line in LINES},
    }
    if piece.is_template:
        written |= template_part(wall, piece.index, system)
    if piece.is_arc:
        sides = {
            f"{side}_{depth}": curve.line_of(piece, side, depth)
            for side in ("concave", "convex")
            for depth in ("framing", "finished")
        }
        written |= {
            "turn": "left" if piece.turn > 0 else "right",
            "sweep_deg": round(math.degrees(piece.sweep_rad), 4),
            "radii": {line: length(piece.radius_at(curve.offset_mm(line)), system) for line in LINES},
            "by_side": {
                name: {
                    "line": line,
                    "radius": length(piece.radius_at(curve.offset_mm(line)), system),
                    "length": length(piece.length_at(curve.offset_mm(line)), system),
                }
                for name, line in sides.items()
            },
            "band": arc_band(wall, piece.index, system),
        }
    return written


def _check(check: BendCheck | TrackCheck, wall: WallWorkUp, system: System) -> Document:
    written: Document = {
        "key": check.key,
        "what": check.board if isinstance(check, BendCheck) else check.track,
        "piece": check.piece_index + 1,
        "radius": length(check.radius_mm, system),
        "least_radius": None if check.least_radius_mm is None else length(check.least_radius_mm, system),
        "verdict": check.verdict,
        "sentence": check.sentence,
        "band": check_band(wall, check.key, system),
        "source": check.source,
        "sure": check.sure,
        "override": asdict(check.override) if check.override else None,
    }
    if isinstance(check, BendCheck):
        written |= {
            "face": check.face,
            "layer": check.layer_number,
            "direction": check.direction,
            "moisture": check.moisture,
            "would_pass": [_way(way, system) for way in check.would_pass],
        }
    return written


def _way(way: BoardWay, system: System) -> Document:
    return {
        "board": way.board,
        "direction": way.direction,
        "moisture": way.moisture,
        "layers": way.layers,
        "least_radius": length(way.least_radius_mm, system),
        "sure": way.sure,
    }


def _place(wall: WallWorkUp, station: Station) -> Document:
    """Where a station stands in plan; nobody knows within a piece that is built to a template only."""
    if wall.curve.pieces[station.piece_index].is_template:
        return {"x_mm": None, "y_mm": None, "heading_deg": None}
    heading = round(math.degrees(station.heading), 4)
    return {"x_mm": round(station.x, 3), "y_mm": round(station.y, 3), "heading_deg": heading}


def _framing(wall: WallWorkUp, system: System) -> Document:
    framing = wall.framing
    return {
        "base_station_count": framing.base_station_count,
        "stud_count": wall.stud_count,
        "laid_flat_count": wall.laid_flat_count,
        "spacing": [
            {
                "piece": choice.piece_index + 1,
                "convex_length": length(choice.length_mm, system),
                "greatest": length(choice.greatest_mm, system),
                "chosen": length(choice.chosen_mm, system),
                "links": choice.links,
                "bays": choice.bays,
                "from": choice.came_from,
                "facet_sagitta": length(choice.sagitta_mm, system),
                "why": explanation(choice.explanation),
            }
            for choice in framing.spacings
        ],
        "stations": [
            {
                "number": station.number,
                "along": length(station.along_mm, system),
                "convex": length(station.convex_mm, system),
                **_place(wall, station),
                "kind": station.kind,
                "count": station.count,
                "stud_length": length(station.stud_length_mm, system),
            }
            for station in framing.stations
        ],
        "stud_list": [{"length": length(group.length_mm, system), "count": group.count} for group in framing.stud_list],
        "track": [
            {"run": run.kind, "opening": run.name, "length": length(run.length_mm, system)} for run in framing.track
        ],
        "track_lengths": {
            kind: length(framing.track_length_mm(kind), system) for kind in ("top", "bottom", "head", "sill", "arch")
        },
    }


def _boards(plan: FacePlan, system: System) -> Document:
    return {
        "face": plan.face,
        "layers": [
            {
                "layer": layer.number,
                "board": layer.board,
                "direction": layer.direction,
                "developed": length(layer.developed_mm, system),
                "net_area": area(layer.net_area_mm2),
                "courses": [
                    {
                        "number": course.number,
                        "foot": length(course.foot_mm, system),
                        "head": length(course.head_mm, system),
                    }
                    for course in layer.courses
                ],
                "pieces": [
                    {
                        "number": piece.number,
                        "course": piece.course,
                        "from": length(piece.from_mm, system),
                        "to": length(piece.to_mm, system),
                        "sheet": piece.sheet_number,
                        "pack": piece.pack_code,
                    }
                    for piece in layer.pieces
                ],
                "butt_joints": [
                    {"course": joint.course, "along": length(joint.along_mm, system)} for joint in layer.joints
                ],
                "joint_length": length(layer.joint_length_mm, system),
            }
            for layer in plan.layers
        ],
        "sheets": [{"board": count.board, "pack": count.pack_code, "count": count.count} for count in plan.purchase],
    }


def _trim(plan: TrimPlan, wall: WallWorkUp, system: System) -> Document:
    order = plan.order
    return {
        "key": plan.key,
        "name": plan.run.name,
        "face": plan.run.face,
        "position": plan.run.position,
        "profile": plan.run.material,
        "form": plan.run.form,
        "bent": plan.run.way,
        "line": plan.line,
        "face_length": length(plan.face_length_mm, system),
        "taken": length(plan.taken_mm, system),
        "returns": length(plan.returns_mm, system),
        "net": length(plan.net_mm, system),
        "arcs": [_trim_arc(arc, wall, system) for arc in plan.arcs],
        "pieces": [
            {
                "needed": length(piece.needed_mm, system),
                "ordered": length(piece.ordered_mm, system),
                "follows": [
                    {
                        "piece": curve.piece_index + 1,
                        "side": curve.side,
                        "radius": length(curve.radius_mm, system) if curve.radius_mm else None,
                        "length": length(curve.length_mm, system),
                    }
                    for curve in piece.curves
                ],
            }
            for piece in plan.pieces
        ],
        "ordered": length(plan.ordered_mm, system),
        "splices": plan.splice_count,
        "backing": length(plan.backing_mm, system),
        "cap": [cap_document(cap, system) for cap in plan.cap],
        "mitres": mitre_documents(plan),
        "order": None
        if order is None
        else {
            "profile": order.profile,
            "size": order.size,
            "grade": order.grade,
            "application": order.application,
            "radii": [
                {
                    "piece": radius.piece_index + 1,
                    "side": radius.side,
                    "radius": length(radius.radius_mm, system),
                    "band": order_band(wall, plan.key, radius.piece_index, system),
                    "measured_at": radius.measured_at,
                }
                for radius in order.radii
            ],
            "shape": order.true_arc_or_template,
            "piece_lengths": [length(piece_mm, system) for piece_mm in order.piece_lengths_mm],
            "need_by": _day(order.need_by),
            "missing": list(order.missing),
            "missing_said": list(order.missing_sentences),
        },
    }


def _trim_arc(arc: TrimArc, wall: WallWorkUp, system: System) -> Document:
    return {
        "key": arc.key,
        "piece": arc.piece_index + 1,
        "side": arc.side,
        "radius": length(arc.radius_mm, system),
        "least_radius": None if arc.least_radius_mm is None else length(arc.least_radius_mm, system),
        "verdict": arc.verdict,
        "sentence": arc.sentence,
        "band": check_band(wall, arc.key, system),
        "source": arc.source,
        "advice": arc.advice.sentence if arc.advice else None,
        "flex_tighter": None if arc.flex_inside_mm is None else length(arc.flex_inside_mm, system),
        "flex_easier": None if arc.flex_outside_mm is None else length(arc.flex_outside_mm, system),
        "override": asdict(arc.override) if arc.override else None,
    }


def _use(quantity: Quantity) -> Document:
    """What a wall uses and nobody buys, such as water."""
    return {
        "key": quantity.key,
        "label": quantity.label,
        "quantity": plain(Decimal(repr(quantity.value)).quantize(Decimal("0.000001"))),
        "unit": quantity.unit,
        "why": explanation(quantity.explanation),
    }


def _line(line: TakeoffLine) -> Document:
    return {
        "key": line.key,
        "wall": line.wall or None,
        "label": line.label,
        "material": line.material,
        "computed": plain(line.computed),
        "net": plain(line.net),
        "unit": line.unit,
        "why": explanation(line.explanation),
        "override": asdict(line.override) if line.override else None,
        "drift": plain(line.drift),
    }


def _purchase(purchase: Purchase) -> Document:
    return {
        "material": purchase.material,
        "name": purchase.name,
        "kind": purchase.kind,
        "supply": purchase.supply,
        "unit": purchase.unit,
        "net": plain(purchase.net),
        "waste": plain(purchase.waste),
        "rounding": plain(purchase.rounding),
        "buy": plain(purchase.buy),
        "packs": [
            {
                "pack": count.pack,
                "label": count.label,
                "count": count.count,
                "unit_price": money(count.unit_price),
                "amount": money(count.amount),
            }
            for count in purchase.packs
        ],
        "packs_wall_by_wall": purchase.apart_packs,
        "cost": money(purchase.cost),
        "on_hand": plain(purchase.on_hand),
        "stock_cost": money(purchase.stock_cost),
        "shares": [
            {"wall": share.wall or None, "net": plain(share.net), "cost": money(share.cost)}
            for share in purchase.shares
        ],
        "cuts": None
        if purchase.cuts is None
        else [
            {
                "stick": stick.stock_code,
                "cuts_mm": [round(cut.length_mm, 3) for cut in stick.cuts],
                "left_mm": round(stick.leftover_mm, 3),
            }
            for stick in purchase.cuts.sticks
        ],
        "lines": list(purchase.lines),
        "why": explanation(purchase.explanation),
    }


def schedule_document(work_up: JobWorkUp) -> Document:
    """Activities with their days, and every material with the days it must be decided, ordered and on site."""
    return {
        "job": work_up.read.job.key,
        "title": work_up.read.job.title,
        "today": work_up.today.isoformat(),
        "start_on": _day(work_up.read.job.start_on),
        "finish": _day(work_up.plan.finish),
        "promised_on": _day(work_up.plan.promised_on),
        "slack_workdays": work_up.plan.slack_workdays,
        "activities": [
            {
                "key": activity.key,
                "name": activity.name,
                "hours": round(activity.hours, 2),
                "workdays": activity.duration_workdays,
                "start": _day(activity.times.early_start) if activity.times else None,
                "finish": _day(activity.times.early_finish) if activity.times else None,
                "kind": activity.kind,
                "people": activity.people,
                "of_this_job": activity.is_own,
                "late_start": _day(activity.times.late_start) if activity.times else None,
                "late_finish": _day(activity.times.late_finish) if activity.times else None,
                "float_workdays": activity.times.total_float_workdays if activity.times else None,
                "free_float_workdays": activity.times.free_float_workdays if activity.times else None,
                "critical": activity.times.critical if activity.times else None,
                "late_start_for_promise": _day(activity.promised.late_start) if activity.promised else None,
                "late_finish_for_promise": _day(activity.promised.late_finish) if activity.promised else None,
                "float_to_promise_workdays": activity.promised.total_float_workdays if activity.promised else None,
                "began_on": _day(activity.actual.began_on) if activity.actual else None,
                "ended_on": _day(activity.actual.ended_on) if activity.actual else None,
                "why": explanation(activity.explanation),
                "days_why": explanation(activity.days_explanation),
            }
            for activity in work_up.plan.activities
        ],
        "links": [
            {
                "before": link.before,
                "after": link.after,
                "kind": link.kind,
                "lag_workdays": link.lag_workdays,
                "lag_elapsed_hours": link.lag_elapsed_hours,
            }
            for link in work_up.plan.links
        ],
        "waits": [
            {
                "before": wait.before,
                "after": wait.after,
                "hours": wait.hours,
                "workdays": wait.workdays,
                "for": wait.what,
            }
            for wait in work_up.plan.waits
        ],
        "items": [need_document(need) for need in work_up.needs],
        "findings": [
            finding(findings)
            for findings in (*work_up.plan.findings, *(f for need in work_up.needs for f in need.findings))
        ],
    }


def need_document(need: DatedNeed) -> Document:
    """One material with its dates and where they come from."""
    dates, term, today = need.dates, need.term, need.if_ordered_today
    return {
        "material": need.material,
        "name": need.name,
        "supply": need.supply,
        "supplier": need.supplier,
        "quantity": plain(need.quantity),
        "unit": need.unit,
        "driven_by": need.driven_by,
        "safe_to_order": SAFE_FROM[need.driven_by],
        "need_by": _day(need.need_by),
        "need_by_set_by": need.set_by,
        "dock": _day(dates.dock) if dates else None,
        "ship": _day(dates.ship) if dates else None,
        "order_by": _day(dates.order_by) if dates else None,
        "order_by_hour": dates.cut_off.isoformat("minutes") if dates and dates.cut_off else None,
        "decide_by": _day(dates.decide_by) if dates else None,
        "days_in_hand": need.in_hand,
        "standing": None if need.in_hand is None else standing(need.in_hand),
        "in_words": None if need.in_hand is None else days_in_hand_in_words(need.in_hand),
        "decide_days_in_hand": need.decide_in_hand,
        "if_ordered_today": None
        if today is None
        else {
            "ship": today.ship.isoformat(),
            "dock": today.dock.isoformat(),
            "usable": today.usable.isoformat(),
            "workdays_late": need.late_workdays,
        },
        "lead_term": None
        if term is None
        else {
            "production_days": term.production_days,
            "production_counts": term.production_counts,
            "transit_workdays": term.transit_workdays,
            "source": term.source,
            "stated_on": term.stated_on.isoformat(),
        },
        "planned_workdays": need.planned_workdays,
        "cushion_workdays": need.cushion_workdays,
        "sign_off_workdays": need.sign_off_workdays,
        "holds": [hold_document(hold) for hold in need.holds],
        "findings": [finding(row) for row in need.findings],
    }


def _day(day: date | None) -> str | None:
    return day.isoformat() if day else None
