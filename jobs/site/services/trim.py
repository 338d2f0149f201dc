"""The runs of trim and the pieces each comes in."""

from catalog.core.materials.catalog_data import Catalog
from jobs.core.measure.wall_spec import AT_THE_CEILING
from jobs.core.takeoff.held_templates import TEMPLATE
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.core.trim.trim import TrimArc, TrimPiece, TrimPlan
from jobs.site.papers.site_parts import SiteSection, SiteTable
from jobs.site.services.words import LINE_WORDS, Say, lengths_in

FORM_WORDS = {
    "stock": "as stocked",
    "bendable": "bendable",
    "pre_curved": "curved by the maker",
    "template": "template",
}


def trim(work_up: WallWorkUp, book: Catalog) -> SiteSection | None:
    if not work_up.trims:
        return None
    say = lengths_in(book.firm.display_units)
    runs = SiteTable(
        "Runs of trim",
        ("Run", "Profile", "Behind it", "Radius at its back", "Net length", "Splices"),
        tuple(_run(plan, book, say) for plan in work_up.trims),
        words=(0, 1, 2, 3),
        front=2,
    )
    rows = tuple(row for plan in work_up.trims for row in _pieces(plan, say))
    says = ["Radii are those of the finished face at the back of the piece. Keep fixings clear of screws and track."]
    says += [
        f"Blocked because: {hold.finding.sentence}"
        for hold in work_up.holds
        if hold.dimension == TEMPLATE and hold.is_open
    ]
    tables = [runs]
    if rows:
        columns = ("Run", "Follows, in order", "Needed, with splices", "Comes as")
        tables.append(SiteTable("Trim pieces", columns, rows, words=(0, 1), front=2))
    else:
        says.append("The pieces are not known yet: what is missing is named above.")
    backing = tuple(_backing(plan, book, say) for plan in work_up.trims if plan.backing_mm)
    if backing:
        columns = ("Behind", "Face", "Middle of the backing", "Length")
        tables.append(SiteTable("Backing behind trim", columns, backing, words=(0, 1, 2)))
    return SiteSection("Trim", tuple(says), tuple(tables))


def _run(plan: TrimPlan, book: Catalog, say: Say) -> tuple[str, ...]:
    material = book.materials.get(plan.run.material)
    profile = material.name if material else plan.run.material
    arcs = ", ".join(_arc(arc, say) for arc in plan.arcs) or "straight"
    behind = f"{LINE_WORDS[plan.line]}, {plan.run.position}"
    return (
        plan.run.name,
        f"{profile}, {FORM_WORDS[plan.run.form]}",
        behind,
        arcs,
        say(plan.net_mm),
        str(plan.splice_count),
    )


def _arc(arc: TrimArc, say: Say) -> str:
    if arc.side == "template":
        return f"piece {arc.piece_index + 1} to the template, not checked"
    if arc.side == "straight":
        return f"piece {arc.piece_index + 1} straight"
    return f"piece {arc.piece_index + 1} {say(arc.radius_mm)} {arc.side}"


def _backing(plan: TrimPlan, book: Catalog, say: Say) -> tuple[str, str, str, str]:
    """The line of a backing follows the height of its trim."""
    run, material = plan.run, book.materials.get(plan.run.material)
    width = material.fact("width_mm") if material else None
    half_mm = width.number / 2 if width else 0.0
    if width is None:
        where = "not known: the profile states no width"
    elif run.foot_mm is None and run.position in AT_THE_CEILING:
        where = f"{say(half_mm)} under the ceiling"
    else:
        where = f"{say((run.foot_mm or 0.0) + half_mm)} above the floor"
    return run.name, f"{run.face} framing face", where, say(plan.backing_mm)


def _follows(piece: TrimPiece, say: Say) -> str:
    words = [
        f"{say(curve.length_mm)} {curve.side}" + (f" {say(curve.radius_mm)}" if curve.radius_mm else "")
        for curve in piece.curves
    ]
    return "; ".join(words)


def _pieces(plan: TrimPlan, say: Say) -> list[tuple[str, str, str, str]]:
    return [
        (
            f"{plan.run.name}{'' if piece.span is not None else ', returns'}",
            _follows(piece, say),
            say(piece.needed_mm),
            say(piece.ordered_mm),
        )
        for piece in plan.pieces
    ]
