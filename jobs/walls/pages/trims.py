"""What a wall's page says of its trim: every bend, what each piece asks for, what blocks it, the cheapest way."""

from dataclasses import dataclass
from datetime import date

from catalog.core.ground.units import System, format_length
from catalog.core.materials.catalog_data import Catalog
from catalog.pages.words import FORM_WORDS
from jobs.core.takeoff.held_templates import TEMPLATE
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.core.trim.trim import TrimPiece, TrimPlan
from jobs.core.trim.trim_bend import WAY_WORDS, TrimArc
from jobs.core.trim.trim_choice import ANSWER_WORDS, TrimChoice, TrimWay, choices_of
from quoting.platform.formatting import money_words


@dataclass(frozen=True)
class BendRow:
    piece: int
    radius: str
    side: str
    way: str
    answer: str
    reason: str


@dataclass(frozen=True)
class WayRow:
    """One way to have the run. price and difference are for those who see costs."""

    what: str
    standing: str
    price: str
    is_chosen: bool


@dataclass(frozen=True)
class TrimSheet:
    """cheapest: a sentence with money, for those who see costs. missing: of its order, sentence by sentence."""

    name: str
    profile: str
    face: str
    form: str
    net: str
    bends: tuple[BendRow, ...]
    pieces: tuple[str, ...]
    backing: str
    blocked: tuple[str, ...]
    is_ordered: bool
    shape: str
    missing: tuple[str, ...]
    ways: tuple[WayRow, ...]
    cheapest: str


def trim_sheets(wall: WallWorkUp, book: Catalog, on_day: date) -> tuple[TrimSheet, ...]:
    return tuple(_sheet(plan, wall, book, on_day) for plan in wall.trims)


def _sheet(plan: TrimPlan, wall: WallWorkUp, book: Catalog, on_day: date) -> TrimSheet:
    system, currency, run = book.firm.display_units, book.firm.currency, plan.run
    choice = choices_of(plan, wall.spec, book.materials, on_day, system)
    material, order = book.materials.get(run.material), plan.order
    answers = zip(plan.arcs, choice.pieces, strict=False)
    blocked = [hold for hold in wall.holds if hold.line == plan.key and hold.dimension == TEMPLATE and hold.is_open]
    return TrimSheet(
        run.name,
        material.name if material else run.material,
        run.face,
        FORM_WORDS[run.form],
        format_length(plan.net_mm, system),
        tuple(
            BendRow(arc.piece_index + 1, _radius(arc, system), arc.side, _way(arc, plan), answer.verdict, answer.reason)
            for arc, answer in answers
        ),
        tuple(_piece(number, piece, system) for number, piece in enumerate(plan.pieces, start=1)),
        format_length(plan.backing_mm, system) if plan.backing_mm else "",
        tuple(hold.finding.sentence for hold in blocked),
        order is not None,
        order.true_arc_or_template if order else "",
        order.missing_sentences if order else (),
        tuple(_way_row(way, currency) for way in choice.ways),
        _cheapest(choice, currency),
    )


def _radius(arc: TrimArc, system: System) -> str:
    return format_length(arc.radius_mm, system) if arc.radius_mm else ""


def _way(arc: TrimArc, plan: TrimPlan) -> str:
    if not arc.radius_mm:
        return ""
    return WAY_WORDS[arc.way] if plan.run.form in ("stock", "bendable") else "made so"


def _piece(number: int, piece: TrimPiece, system: System) -> str:
    """A piece with every curve it follows, in order."""
    along = "; ".join(
        f"{format_length(curve.length_mm, system)} "
        + (f"{curve.side} at {format_length(curve.radius_mm, system)}" if curve.radius_mm else curve.side)
        for curve in piece.curves
    )
    ordered = f"Piece {number}: {format_length(piece.ordered_mm, system)}"
    return f"{ordered}, follows {along}." if along else f"{ordered}, for returns."


def _way_row(way: TrimWay, currency: str) -> WayRow:
    what = f"{way.name}, {ANSWER_WORDS[way.form]}"
    standing = "Allowed." if way.is_allowed else f"Not allowed: {'; '.join(way.why_not)}."
    price = money_words(way.cost, currency) if way.cost is not None else f"{way.why_no_cost}."
    return WayRow(what, standing, price, way.is_chosen)


def _cheapest(choice: TrimChoice, currency: str) -> str:
    way, difference = choice.cheapest, choice.difference
    if way is None or way.cost is None:
        return "No allowed way has a price."
    named = f"Cheapest allowed: {way.name}, {ANSWER_WORDS[way.form]}, {money_words(way.cost, currency)}"
    if way.is_chosen:
        return f"{named}: the way chosen."
    if difference is None:
        return f"{named}. The way chosen has no price to compare with."
    if difference == 0:
        return f"{named}, as much as the way chosen."
    more = "less" if difference < 0 else "more"
    return f"{named}: {money_words(abs(difference), currency)} {more} than the way chosen."
