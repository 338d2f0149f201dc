"""What a sheet says of pieces made for walls: each piece, where it goes, and why they are shorter than the arc."""

from collections import Counter
from collections.abc import Iterable, Sequence

from catalog.core.ground.units import System, format_both, format_degrees, format_length
from jobs.core.measure.curve import OpeningOnCurve
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.ordering.line_pieces import LinePiece, curves_from_left, left_out_mm, pieces_of, starts_at
from jobs.core.ordering.order_lines import OrderStatement, StatedCurve, StatedRadius, StatedRun
from jobs.core.trim.trim import TrimPlan
from jobs.core.trim.trim_spans import openings_in_the_way
from jobs.orders.models import OrderLine
from jobs.orders.papers.order_sheet import SheetRadius, SheetRun
from jobs.orders.papers.pieces import PieceBend, PieceRow
from quoting.platform.models.columns import normalized
from quoting.platform.papers.parts import Measure

NOTHING_SAID = "not stated"
SAME_MM = 1.0
"""Two lengths of one arc within this are the same: statements are kept to a thousandth, walls may be measured anew."""


def runs_of(line: OrderLine, statement: OrderStatement, result: JobWorkUp | None, system: System) -> Iterable[SheetRun]:
    """done: its job as it stands, to name the openings that are left out."""
    pieces = pieces_of(statement, normalized(line.quantity))
    for run in statement.runs:
        mine = [piece for piece in pieces if (piece.wall, piece.run) == (run.wall, run.run)]
        is_each = bool(mine) and bool(run.pieces)
        yield SheetRun(
            f"{run.run}, {run.wall}",
            tuple(_facts(run, statement, system)),
            () if is_each else tuple(_radius(radius, system) for radius in run.radii),
            () if is_each else _counts(run, system),
            piece_rows(mine, run, system) if is_each else (),
            tuple(_arcs(run, result, system)) if is_each and line.replaces_id is None else (),
        )


def piece_rows(pieces: Iterable[LinePiece], run: StatedRun, system: System) -> tuple[PieceRow, ...]:
    hand = starts_at(run)
    return tuple(
        PieceRow(
            str(piece.number),
            format_length(piece.length_mm, system),
            tuple(_bends(curves_from_left(run, piece), system)),
            f"{piece.place} from the {hand}" if hand else f"{piece.place} from the start of the wall",
        )
        for piece in pieces
    )


def _bends(curves: Sequence[StatedCurve], system: System) -> Iterable[PieceBend]:
    for curve in curves:
        along = format_length(curve.length_mm, system) if len(curves) > 1 else ""
        yield PieceBend(curve.side, format_both(curve.radius_mm) if curve.radius_mm else "–", along)


def _arcs(run: StatedRun, result: JobWorkUp | None, system: System) -> Iterable[str]:
    """Why the pieces of a run do not add up to its arcs."""
    covered_mm = sum(curve.length_mm for piece in run.pieces for curve in piece.curves)
    for radius in run.radii:
        out_mm = left_out_mm(run, radius)
        if out_mm is not None and out_mm > SAME_MM:
            arc = format_length(radius.arc_length_mm, system)
            which = "The arc" if len(run.radii) == 1 else f"The arc of piece {radius.piece} of the wall"
            yield f"{which} is {arc} long. {_left_out(run, radius, out_mm, result, system)}"
    bought = format_length(sum(run.piece_lengths_mm), system)
    yield f"The run is {format_length(covered_mm, system)} long; its pieces come to {bought}."


def _left_out(run: StatedRun, radius: StatedRadius, out_mm: float, result: JobWorkUp | None, system: System) -> str:
    along = format_length(out_mm, system)
    plan, laid = _openings(run, radius, result)
    if plan is None or abs(sum(cut.taken_mm[plan.line] for cut in laid) - out_mm) > SAME_MM:
        return f"Left out at openings: {along} along the arc."
    names = ", ".join(f"{cut.opening.name} {format_length(cut.opening.width_mm, system)}" for cut in laid)
    return f"Left out: {names}, which is {along} along the arc."


def _openings(
    run: StatedRun, radius: StatedRadius, result: JobWorkUp | None
) -> tuple[TrimPlan | None, list[OpeningOnCurve]]:
    """The run as its wall stands now, with the openings that interrupt it on this arc."""
    plans = [(wall, plan) for wall in (result.walls if result else ()) for plan in wall.trims]
    for wall, plan in plans:
        if result and (wall.spec.name, plan.run.name) == (run.wall, run.run):
            material = result.read.book.materials.get(plan.run.material)
            cutting = openings_in_the_way(wall.curve, plan.run, plan.key, material, [])
            return plan, [cut for cut in cutting if cut.piece_index == radius.piece - 1]
    return None, []


def _radius(radius: StatedRadius, system: System) -> SheetRadius:
    along = format_length(radius.arc_length_mm, system)
    return SheetRadius(f"piece {radius.piece}", radius.side, format_both(radius.radius_mm), radius.measured_at, along)


def _facts(run: StatedRun, statement: OrderStatement, system: System) -> Iterable[Measure]:
    splices = {None: NOTHING_SAID, True: "allowed", False: "not allowed"}[run.splices_allowed]
    if run.profile != statement.what:
        yield Measure("Profile", run.profile)
    yield Measure("Size", run.size or NOTHING_SAID)
    yield Measure("Grade", run.grade or NOTHING_SAID)
    yield Measure("Shape", run.shape)
    joints = f", {run.splice_count} on this run{_joined(statement)}" if run.splice_count else ""
    yield Measure("Splices", splices + joints)
    yield Measure("Application", run.application or NOTHING_SAID)
    if run.radii:
        yield Measure("Radius measured at", ", ".join(dict.fromkeys(radius.measured_at for radius in run.radii)))
    if run.straight_tails_mm:
        yield Measure(
            "Straight tails", ", ".join(format_length(length_mm, system) for length_mm in run.straight_tails_mm)
        )
    if run.mitres:
        cuts = (
            f"after piece {mitre.after_piece}, {mitre.corner}, {format_degrees(mitre.cut_rad)}°" for mitre in run.mitres
        )
        yield Measure("Mitres", "; ".join(cuts), "each angle is of the cut, off square")


def _joined(statement: OrderStatement) -> str:
    return f", joined by {statement.splice}" if statement.splice else ""


def _counts(run: StatedRun, system: System) -> tuple[Measure, ...]:
    # Which radius is whose is said where the run has more than one.
    bends = [piece.bends for piece in run.pieces] if len(run.radii) > 1 else []
    counted = Counter(zip(run.piece_lengths_mm, bends or [()] * len(run.piece_lengths_mm), strict=True))
    return tuple(
        Measure(str(count), format_length(length_mm, system), _bent(bent))
        for (length_mm, bent), count in sorted(counted.items(), reverse=True)
    )


def _bent(bends: Iterable[tuple[str, float]]) -> str:
    return ", ".join(f"{side} {format_both(radius_mm)}" for side, radius_mm in bends)
