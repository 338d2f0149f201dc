"""What the shape of a wall asks for on site: arches to strike, casings, caps, mitres, lengths of track, backing."""

from collections.abc import Iterable

from catalog.core.ground.units import format_degrees
from catalog.core.materials.catalog_data import Catalog
from jobs.core.framing.arch import heights_of_arch
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.core.trim.arches_and_backing import ArchWork, BackingLine
from jobs.core.trim.casings import CasedOpening
from jobs.core.trim.trim import TrimPlan
from jobs.site.papers.site_parts import SiteSection, SiteTable
from jobs.site.services.words import INTERVAL_MM, Say, lengths_in


def shape(work_up: WallWorkUp, book: Catalog, interval_mm: float | None = None) -> SiteSection | None:
    system = book.firm.display_units
    say = lengths_in(system)
    tables = [table for work in work_up.arches for table in _arch(work, say, interval_mm or INTERVAL_MM[system] / 2)]
    tables += [_casing(opening, say) for opening in work_up.cased if opening.made]
    tables += [_cap(plan, say) for plan in work_up.trims if plan.cap]
    tables += [_mitres(work_up.trims)] if any(span.mitres for plan in work_up.trims for span in plan.spans) else []
    tables += [_track(work_up, say)] if len(work_up.track_pieces) > len(_runs(work_up)) else []
    tables += [_backing(work_up.backing, say)] if work_up.backing else []
    says = tuple(_says(work_up, say))
    return SiteSection("Top, openings and track lengths", says, tuple(tables)) if says or tables else None


def _says(work_up: WallWorkUp, say: Say) -> Iterable[str]:
    spec, curve = work_up.spec, work_up.curve
    if curve.is_closed:
        yield "The wall closes on itself: its start and its end are one stud, and track runs round."
    if spec.is_half_wall:
        yield "A half wall: nothing is fastened above; studs are cut to the full height, to the underside of the cap."
    if not curve.is_closed and (spec.ends.studs > 1 or (spec.ends.start, spec.ends.end) != ("free", "free")):
        studs = f"; {spec.ends.studs} studs stand together at a free end" if spec.ends.studs > 1 else ""
        words = {"free": "is free", "meets": "meets another wall", "column": "meets a column, masonry or a frame"}
        yield f"The start {words[spec.ends.start]}, the end {words[spec.ends.end]}{studs}."
    if not curve.heights.is_level:
        edges = [say(curve.top_edge_mm(line, 0.0, curve.centre_length_mm)) for line in _FINISHED]
        steps = f", and steps of {say(curve.top_steps_mm)} in all" if curve.top_steps_mm else ""
        yield f"The top edge is {edges[0]} long on the left finished face and {edges[1]} on the right{steps}."
    for piece in (piece for piece in curve.pieces if piece.is_template):
        ends = say(piece.chord_mm or 0.0)
        yield (
            f"Piece {piece.index + 1} is built to a template only: {say(piece.length_mm)} by tape along the "
            f"centreline, {ends} from end to end. Nothing on it has been checked against a radius."
        )


_FINISHED = ("left_finished", "right_finished")


def _arch(work: ArchWork, say: Say, interval_mm: float) -> Iterable[SiteTable]:
    head = work.head
    note = (
        f"Span {say(head.span_mm)}, rise {say(head.rise_mm)}, radius {say(head.radius_mm)}; the spring line is "
        f"{say(head.spring_mm)} above the floor, the centre {_above(head.centre_mm, say)}. The soffit is "
        f"{say(head.soffit_mm)} by {say(work.soffit_depth_mm)}."
    )
    rows = tuple((say(row.along_mm), say(row.ordinate_mm)) for row in heights_of_arch(head, interval_mm))
    heading = f"{work.name}: heights of the arch over its spring line"
    columns = ("Along the spring line", "Up")
    yield SiteTable(heading, columns, rows, words=(), notes=(note,), narrow=True)


def _casing(cased: CasedOpening, say: Say) -> SiteTable:
    columns = ("Face", "Reveal", "Head, inner R", "Head, outer R", "Head, inner", "Head, outer", "Leg, inner")
    rows = tuple(
        (
            face,
            say(made.reveal_mm),
            *((say(made.inner_radius_mm), say(made.outer_radius_mm)) if made.inner_radius_mm else ("–", "–")),
            *(say(length_mm) for length_mm in (made.inner_mm, made.outer_mm, made.legs_inner_mm, made.legs_outer_mm)),
            f"{format_degrees(made.mitre_rad)}°",
        )
        for face, made in cased.made
    )
    note = "Legs are measured from the floor; the mitre is off level, falling inwards."
    return SiteTable(f"{cased.name}: casing", (*columns, "Leg, outer", "Mitre"), rows, words=(0,), notes=(note,))


def _above(height_mm: float, say: Say) -> str:
    return f"{say(abs(height_mm))} {'above' if height_mm >= 0 else 'below'} the floor"


def _cap(plan: TrimPlan, say: Say) -> SiteTable:
    rows = tuple(
        (
            str(cap.piece_index + 1),
            *((say(cap.inner_radius_mm), say(cap.outer_radius_mm)) if cap.outer_radius_mm else ("–", "–")),
            say(cap.inner_mm),
            say(cap.outer_mm),
            " × ".join(say(side) for side in cap.blank_mm) if cap.blank_mm else "to the template",
        )
        for cap in plan.cap
    )
    columns = ("Piece", "Inner edge R", "Outer edge R", "Inner edge", "Outer edge", "Flat blank that holds it")
    note = "The cap is centred on the wall and ends at every change of piece."
    return SiteTable(f"{plan.run.name}: the cap on top", columns, rows, notes=(note,))


def _mitres(plans: Iterable[TrimPlan]) -> SiteTable:
    rows = tuple(
        (plan.run.name, f"after piece {mitre.after_piece + 1}", f"{format_degrees(mitre.cut_rad)}°", mitre.corner)
        for plan in plans
        for span in plan.spans
        for mitre in span.mitres
    )
    return SiteTable("Mitres of trim at kinks", ("Run", "Kink", "Cut off square", "Corner"), rows, words=(0, 1, 3))


def _runs(work_up: WallWorkUp) -> set[tuple[str, int]]:
    return {(piece.kind, piece.run) for piece in work_up.track_pieces}


def _track(work_up: WallWorkUp, say: Say) -> SiteTable:
    rows = tuple((f"{piece.kind} {piece.run}", say(piece.length_mm)) for piece in work_up.track_pieces)
    note = "Run by run from the longest stick, laps of splices included; off-cuts may start another run."
    return SiteTable("Lengths of track", ("Run", "Cut to"), rows, notes=(note,), narrow=True, front=2)


def _backing(lines: Iterable[BackingLine], say: Say) -> SiteTable:
    rows = tuple((line.trim, line.face, _heights(line, say), say(line.length_mm)) for line in lines)
    return SiteTable("Backing behind trim", ("Trim", "Face", "Height", "Length"), rows, words=(0, 1, 2))


def _heights(line: BackingLine, say: Say) -> str:
    if line.foot_mm is None:
        return f"under the ceiling{f', {say(line.below_mm)} deep' if line.below_mm is not None else ''}"
    return f"from {say(line.foot_mm)}{f' to {say(line.head_mm)}' if line.head_mm is not None else ''}"
