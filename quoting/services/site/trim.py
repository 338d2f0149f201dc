"""The runs of trim and the pieces each comes in."""

from catalog.core.book import Book
from jobs.core.assembly import WallWorkUp
from jobs.core.trim import TrimArc, TrimPlan
from quoting.papers.site_parts import SiteSection, SiteTable
from quoting.services.site.words import LINE_WORDS, Say, lengths_in

FORM_WORDS = {
    "stock": "as stocked",
    "bendable": "bendable",
    "pre_curved": "curved by the maker",
    "template": "template",
}


def trim(done: WallWorkUp, book: Book) -> SiteSection | None:
    if not done.trims:
        return None
    say = lengths_in(book.firm.display_units)
    runs = SiteTable(
        "Runs of trim",
        ("Run", "Profile", "Behind it", "Radius at its back", "Net length", "Splices"),
        tuple(_run(plan, book, say) for plan in done.trims),
        words=(0, 1, 2, 3),
    )
    rows = tuple(row for plan in done.trims for row in _pieces(plan, say))
    says = ("Radii are those of the finished face at the back of the piece. Keep fixings clear of screws and track.",)
    if not rows:
        return SiteSection("Trim", (*says, "The pieces are not known yet: what is missing is named above."), (runs,))
    pieces = SiteTable("Trim pieces", ("Run", "Needed, with splices", "Comes as"), rows)
    return SiteSection("Trim", says, (runs, pieces))


def _run(plan: TrimPlan, book: Book, say: Say) -> tuple[str, ...]:
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
    if arc.side == "straight":
        return f"piece {arc.piece_index + 1} straight"
    return f"piece {arc.piece_index + 1} {say(arc.radius_mm)} {arc.side}"


def _pieces(plan: TrimPlan, say: Say) -> list[tuple[str, str, str]]:
    return [
        (
            f"{plan.run.name}{'' if piece.span is not None else ', returns'}",
            say(piece.needed_mm),
            say(piece.ordered_mm),
        )
        for piece in plan.pieces
    ]
