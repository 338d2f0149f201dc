"""What a quote says: scope in words, prices, tax, instalments, days, and what stands in the way of issuing it.

Nothing here names a cost, a margin or a supplier in what is meant for the client; `priced` is for the office.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import ROUND_HALF_UP, Decimal

from catalog.core.book import Book
from catalog.core.units import System, format_length
from jobs.core.activities import ActivityPlan, hours_gaps
from jobs.core.assembly import WallWorkUp
from jobs.core.bending import BendCheck
from jobs.core.build import FaceBuild, TrimRun
from jobs.core.curve import Curve, CurvePiece, Face
from jobs.core.explanation import Explanation
from jobs.core.findings import Finding
from jobs.core.takeoff import Takeoff
from jobs.core.trim import TrimPlan
from quoting.core.costs import CostLine, cost_line
from quoting.core.figures import PricingError
from quoting.core.job_file import JobFile, PricingSpec
from quoting.core.payments import Deposit, deposit
from quoting.core.pricing import PricedQuote, price_quote


@dataclass(frozen=True)
class WallScope:
    """One wall in plain words: its key and name, and sentences a client understands."""

    key: str
    name: str
    sentences: tuple[str, ...]


@dataclass(frozen=True)
class TrimScope:
    """One row of the schedule of trim: on which wall and face, the profile, concave or convex, radius and length.

    radius_mm: at the back of the piece, on the finished face, the tightest along the run; None on a straight run.
    """

    wall: str
    face: str
    profile: str
    curve: str
    radius_mm: float | None
    length_mm: float
    note: str


@dataclass(frozen=True)
class StepCost:
    """One step of the work as labour: how its hours came about, and the line of cost they make."""

    why: Explanation
    line: CostLine


@dataclass(frozen=True)
class QuoteSheet:
    """A quote as far as it can be worked out.

    priced: None while a gap stands in the way; `findings` then says which. deposit: None when no rule is set.
    valid_until: the last day on which it can be accepted, in the firm's time zone. hours: the walls' own hours,
    step by step, when labour is taken from them; their lines stand among `costs`.
    """

    walls: tuple[WallScope, ...]
    trim: tuple[TrimScope, ...]
    costs: tuple[CostLine, ...]
    priced: PricedQuote | None
    deposit: Deposit | None
    pricing: PricingSpec
    quoted_on: date
    valid_until: date
    exempt_certificate: str | None
    findings: tuple[Finding, ...]
    hours: tuple[StepCost, ...] = ()

    @property
    def blocking(self) -> tuple[Finding, ...]:
        """What must be filled in or decided before the quote can be issued."""
        return tuple(finding for finding in self.findings if finding.weight in ("gap", "decide"))


def sheet_of(
    read: JobFile, walls: Sequence[WallWorkUp], takeoff: Takeoff, plan: ActivityPlan, today: date
) -> QuoteSheet:
    """Work out the quote of a job.

    read: the job file; it must hold pricing (else ValueError). walls, takeoff, plan: worked up from it. today: the
    day it would be issued. Returns the quote; what cannot be priced is a finding, never a zero.
    Source: own convention; markup and margin as in `quoting.core.pricing`.
    """
    pricing = read.pricing
    if pricing is None:
        raise ValueError("this job is not priced yet: it has no pricing")
    findings = list(takeoff.findings)
    hours = _hours(pricing, walls, plan, findings)
    costs = (*_costs(read, pricing, takeoff, findings), *(step.line for step in hours or ()))
    certificate = read.job.client.tax_exempt_certificate
    priced, asked = (None, None) if hours is None else _price(read, pricing, costs, takeoff, certificate, findings)
    return QuoteSheet(
        tuple(_scope(wall, read.book) for wall in walls),
        tuple(row for wall in walls for row in _trim_rows(wall, read.book)),
        costs,
        priced,
        asked,
        pricing,
        today,
        today + timedelta(days=pricing.valid_days),
        certificate,
        tuple({finding.key: finding for finding in findings}.values()),
        hours or (),
    )


def _hours(
    pricing: PricingSpec, walls: Sequence[WallWorkUp], plan: ActivityPlan, findings: list[Finding]
) -> tuple[StepCost, ...] | None:
    """The walls' hours as lines of cost, to a tenth of an hour; None when a gap leaves some of the hours out."""
    if pricing.hour_cost is None:
        return ()
    gaps = hours_gaps(plan, walls)
    if not walls:
        gaps = (Finding("pricing/labour_from_hours", "gap", "Labour comes from the walls, and there is none yet."),)
    if gaps:
        findings.extend(gaps)
        return None
    if any(cost.category == "labour" for cost in pricing.costs):
        findings.append(
            Finding(
                "pricing/labour-twice",
                "caution",
                "Labour is taken from the walls' hours and entered by hand as well; see that no hour stands in both.",
            )
        )
    steps = []
    for activity in plan.activities:
        hours = Decimal(repr(activity.hours)).quantize(Decimal("0.1"), ROUND_HALF_UP)
        if hours:
            line = cost_line("labour", activity.name, hours, "h", pricing.hour_cost)
            steps.append(StepCost(activity.explanation, line))
    return tuple(steps)


def _costs(read: JobFile, pricing: PricingSpec, takeoff: Takeoff, findings: list[Finding]) -> tuple[CostLine, ...]:
    names = {wall.key: wall.name for wall in read.job.walls}
    if pricing.entered_materials is not None:
        note = pricing.materials_note or "Materials as entered"
        material_lines = [cost_line("materials", note, Decimal(1), "sum", pricing.entered_materials)]
    else:
        material_lines = [
            cost_line("materials", purchase.name, Decimal(1), "sum", share.cost, names[share.wall])
            for purchase in takeoff.purchases
            for share in purchase.shares
            if share.cost
        ]
        if takeoff.cost is None and not any(finding.weight == "gap" for finding in findings):
            findings.append(Finding("pricing/materials", "gap", "The cost of materials has a gap; see the takeoff."))
    return (*material_lines, *pricing.costs)


def _price(
    read: JobFile,
    pricing: PricingSpec,
    costs: tuple[CostLine, ...],
    takeoff: Takeoff,
    certificate: str | None,
    findings: list[Finding],
) -> tuple[PricedQuote | None, Deposit | None]:
    if pricing.entered_materials is None and any(finding.weight == "gap" for finding in findings):
        return None, None
    tax = replace(pricing.tax, exempt_certificate=certificate or "")
    costed = {cost.section for cost in costs}
    sections = [wall.name for wall in read.job.walls if wall.name in costed]
    try:
        priced = price_quote(
            costs,
            pricing.policy,
            tax,
            sections=sections,
            instalments=pricing.instalments,
            whole_job=read.job.title,
        )
    except PricingError as error:
        findings.append(Finding("pricing", "gap", str(error)))
        return None, None
    if priced.below_minimum_margin:
        findings.append(_below_minimum(read))
    if pricing.deposit is None:
        return priced, None
    special = pricing.special_order_cost
    if special is None:
        special = _special_orders(takeoff)
    if special is None:
        told = "The deposit is to cover the special orders, and one of them has no cost; enter what they cost."
        findings.append(Finding("pricing/special-orders", "gap", told))
        return priced, None
    asked = deposit(priced.price, special, pricing.deposit)
    findings.extend(
        Finding(f"pricing/deposit-{number}", "caution", warning) for number, warning in enumerate(asked.warnings, 1)
    )
    return priced, asked


def _special_orders(takeoff: Takeoff) -> Decimal | None:
    """What everything not stocked costs, None while one of them has no cost."""
    costs = [purchase.cost for purchase in takeoff.purchases if purchase.supply != "stocked"]
    return None if None in costs else sum((cost for cost in costs if cost is not None), Decimal("0.00"))


def _below_minimum(read: JobFile) -> Finding:
    key, told = "pricing/minimum-margin", "The margin is below the firm's minimum; a second person decides."
    for override in read.job.overrides:
        if override.key == key:
            decided = f"{told} Decided by {override.by} on {override.on}: {override.reason}"
            return Finding(key, "caution", decided)
    return Finding(key, "decide", told)


def _scope(wall: WallWorkUp, book: Book) -> WallScope:
    system = book.firm.display_units
    sentences = [
        _shape_sentence(wall.curve, system),
        _frame_sentence(wall, book, system),
        *_face_sentences(wall, book),
        *_opening_sentences(wall.curve, system),
        *_trim_sentences(wall, book),
    ]
    if wall.spec.insulated:
        sentences.append("The cavity is filled with insulation.")
    return WallScope(wall.spec.key, wall.spec.name, tuple(sentences))


def _shape_sentence(curve: Curve, system: System) -> str:
    parts = [_piece_words(curve, piece, system) for piece in curve.pieces]
    walked = parts[0] if len(parts) == 1 else f"walked from its start: {'; then '.join(parts)}"
    height = f"{height_words(curve, system)} high"
    length = format_length(curve.centre_length_mm, system)
    closing = ", closed on itself" if curve.is_closed else ""
    return f"A wall {length} long on its centreline{closing} and {height}, {walked}."


def height_words(curve: Curve, system: System) -> str:
    """The height of a wall, or from its least to its greatest; heights measured beyond its end are no part of it."""
    least, greatest = (format_length(height, system) for height in (curve.least_height_mm, curve.greatest_height_mm))
    return least if least == greatest else f"{least} to {greatest}"


def _piece_words(curve: Curve, piece: CurvePiece, system: System) -> str:
    if not piece.is_arc:
        return f"straight for {format_length(piece.length_mm, system)}"
    line = curve.line_of(piece, "concave", "finished")
    inner = format_length(piece.radius_at(curve.offset_mm(line)), system)
    outer_line = curve.line_of(piece, "convex", "finished")
    outer = format_length(piece.radius_at(curve.offset_mm(outer_line)), system)
    side = "left" if piece.turn > 0 else "right"
    return f"curving {side} at a finished radius of {inner} on the concave and {outer} on the convex face"


def _frame_sentence(wall: WallWorkUp, book: Book, system: System) -> str:
    depth = format_length(wall.curve.stud_depth_mm, system)
    bays = sorted({choice.chosen_mm for choice in wall.framing.spacings})
    spaced = f" at most {' and '.join(format_length(bay, system) for bay in bays)} apart" if bays else ""
    return f"Light steel studs {depth} deep{spaced}, in curvable track at floor and ceiling."


def _face_sentences(wall: WallWorkUp, book: Book) -> list[str]:
    sentences = []
    for face in ("left", "right"):
        build = wall.spec.face(face)
        side = _side_words(wall.curve, face)
        if not build.layers:
            sentences.append(f"{side}: no board.")
            continue
        painted = "primed and painted" if build.painted else "left unpainted"
        level = f"finished to level {build.level} (GA-214)" if build.level else "not finished"
        sentences.append(f"{side}: {_layer_words(build, book)}, {level}, {painted}.")
    return sentences


def _layer_words(build: FaceBuild, book: Book) -> str:
    names = [
        book.materials[layer.board].name if layer.board in book.materials else layer.board for layer in build.layers
    ]
    count = {1: "one layer", 2: "two layers", 3: "three layers"}.get(len(names), f"{len(names)} layers")
    if len(set(names)) == 1:
        return f"{count} of {names[0]}"
    return f"{count}: {', then '.join(names)}"


def _side_words(curve: Curve, face: Face) -> str:
    """The face as a client can find it: by its curve when all arcs turn one way, else by the walk."""
    turns = {piece.turn for piece in curve.pieces if piece.is_arc}
    if len(turns) == 1:
        left_is_concave = turns == {1}
        return "Concave side" if (face == "left") == left_is_concave else "Convex side"
    return f"{face.capitalize()} side"


def _opening_sentences(curve: Curve, system: System) -> list[str]:
    sentences = []
    for laid in curve.openings:
        opening = laid.opening
        size = f"{format_length(opening.width_mm, system)} wide and {format_length(opening.height_mm, system)} high"
        cut = "with a flat frame" if opening.frame == "flat" else "cut to the curve"
        sill = "" if opening.reaches_floor else f", its sill {format_length(opening.sill_mm, system)} above the floor"
        sentences.append(f"{opening.name}: rough opening {size}{sill}, {cut}.")
    return sentences


def _trim_sentences(wall: WallWorkUp, book: Book) -> list[str]:
    sentences = []
    for run in wall.spec.trims:
        side = _side_words(wall.curve, run.face)
        profile = _profile(run, book)
        # Many profiles carry their grade in their name; it is not said twice.
        grade = f", {run.grade} grade" if run.grade and "grade" not in profile.lower() else ""
        sentences.append(f"{run.name}: {profile}{grade}, on the {side[0].lower()}{side[1:]}.")
    return sentences


def _profile(run: TrimRun, book: Book) -> str:
    return book.materials[run.material].name if run.material in book.materials else run.material


def _trim_rows(wall: WallWorkUp, book: Book) -> list[TrimScope]:
    rows = []
    for plan in wall.trims:
        arcs = [arc for arc in plan.arcs if arc.radius_mm > 0]
        tightest = min(arcs, key=lambda arc: arc.radius_mm) if arcs else None
        sides = sorted({str(arc.side) for arc in arcs})
        rows.append(
            TrimScope(
                wall.spec.name,
                _side_words(wall.curve, plan.run.face),
                _profile(plan.run, book),
                " and ".join(sides) if sides else "straight",
                tightest.radius_mm if tightest else None,
                plan.net_mm,
                _trim_note(plan, _profile(plan.run, book)),
            )
        )
    return rows


def _trim_note(plan: TrimPlan, profile: str) -> str:
    notes = {
        "stock": "",
        "bendable": "bendable profile",
        "pre_curved": "made to the curve",
        "template": "made to a template",
    }
    grade = f"{plan.run.grade} grade" if plan.run.grade and "grade" not in profile.lower() else ""
    parts = [notes[plan.run.form], grade]
    return ", ".join(part for part in parts if part)


def overridden(checks: Sequence[BendCheck]) -> tuple[str, ...]:
    """Sentences on bends a named person has decided to go ahead with, for the office.

    >>> overridden(())
    ()
    """
    return tuple(check.sentence for check in checks if check.verdict == "overridden")
