"""Items and lines of orders as pages show them."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from django.urls import reverse

from catalog.core.ground.units import System, format_both, format_length
from jobs.core.ordering.line_pieces import LinePiece
from jobs.core.ordering.open_quantity import LeftToOrder
from jobs.core.ordering.order_lines import OrderStatement, StatedRun
from jobs.core.ordering.release import ReleaseHold, waits_for
from jobs.core.takeoff.held_templates import TEMPLATE
from jobs.orders.services.items import Item
from jobs.orders.services.releasing import ItemStanding
from jobs.walls.pages.release_hold_text import held_by_wall
from quoting.platform.formatting import money_words
from quoting.platform.models.columns import normalized

CLEARED_ON = {
    "quote": "quote",
    "deposit": "payments",
    "data": "job",
    "gap": "job_order_dates",
    "template": "templates",
    "field_check": "job",
}
DESPITE = {
    "quote": "quote not signed",
    "window": "client can still cancel",
    "deposit": "deposit not in",
    "gap": "a day missing",
    "template": "no template held",
    "sample": "sample not agreed",
    "field_check": "no field check",
}


@dataclass(frozen=True)
class ShownHold:
    """words: what is waited for, in a few. url: where it is cleared; empty where only time does."""

    words: str
    sentence: str
    who: str
    may_override: bool
    url: str = ""


def shown_holds(standing: ItemStanding) -> list[ShownHold]:
    """Dimensions are gathered into a sentence a wall; what is bought from stock waits for a signature alone."""
    job = standing.item.job.pk
    if not standing.needs_release:
        waived = [hold for hold in standing.holds if hold.kind == "quote" and standing.asks_reason]
        return [_shown(hold, job) for hold in (*standing.blocking, *waived)]
    by_dimension = [hold for hold in standing.holds if hold.kind == "dimension"]
    shown = [_shown(hold, job) for hold in standing.holds if hold not in by_dimension]
    return shown + [_of_wall(wall, standing, by_dimension) for wall in _walls(by_dimension)]


def _walls(holds: Sequence[ReleaseHold]) -> Iterable[str]:
    return dict.fromkeys(hold.key.split("/")[1] for hold in holds)


def _of_wall(wall: str, standing: ItemStanding, by_dimension: Sequence[ReleaseHold]) -> ShownHold:
    """Its dimensions as one."""
    here = [hold for hold in by_dimension if hold.key.split("/")[1] == wall]
    open_holds = [hold for hold in standing.item.need.open_holds if hold.dimension != TEMPLATE]
    sentences = " ".join(hold.sentence for hold in held_by_wall(open_holds) if hold.wall == wall)
    return ShownHold(waits_for(here), sentences, here[0].who, True, reverse("wall", args=[standing.item.job.pk, wall]))


def _shown(hold: ReleaseHold, job_id: int) -> ShownHold:
    page = CLEARED_ON.get(hold.kind)
    url = reverse(page, args=[job_id]) if page else "#sample" if hold.kind == "sample" else ""
    return ShownHold(waits_for([hold]), hold.sentence, hold.who, hold.may_override, url)


def despite_words(holds: Sequence[Mapping[str, str]]) -> str:
    """What a release was given in spite of. holds: as they were kept, with their keys."""
    keys = [hold["key"].split("/") for hold in holds]
    kinds = {key[0] for key in keys}
    words = [DESPITE[kind] for kind in DESPITE if kind in kinds]
    # Of one wall a dimension holds each of its runs, and is one all the same.
    dimensions = len({(key[1], key[-1]) for key in keys if key[0] == "dimension" and len(key) > 1})
    if dimensions:
        words.append(f"{dimensions} dimension{'' if dimensions == 1 else 's'} not measured or confirmed")
    return ", ".join(words)


@dataclass(frozen=True)
class ItemRow:
    """One item that may be put on an order. part: why only some of it, where the rest is on order.

    early: how many working days before its own day an order would buy it.
    """

    standing: ItemStanding
    key: str
    name: str
    quantity: str
    amount: str
    part: str = ""
    early: int = 0

    @property
    def item(self) -> Item:
        return self.standing.item

    @property
    def holds(self) -> list[ShownHold]:
        return shown_holds(self.standing)

    @property
    def state(self) -> str:
        if self.standing.asks_reason:
            return "from stock, not signed: placing the order asks why"
        if not self.standing.needs_release and self.standing.release is None:
            return "from stock, needs no release"
        if self.standing.release is not None:
            return f"released by {self.standing.release.released_by_name}"
        return "released as it stood before, not as it stands now" if self.standing.is_stale else "not released"


def item_row(standing: ItemStanding, part: LeftToOrder | None = None, early: int = 0) -> ItemRow:
    """part: what is left to order, where orders carry some of it."""
    item = standing.item
    statement, currency = item.statement, item.work_up.read.book.firm.currency
    wanted = statement.quantity if part is None else part.left
    quantity = "not known" if wanted is None else f"{normalized(wanted):f} {item.unit_of(wanted)}"
    cost = item.amount if wanted is None else item.amount_of(wanted)
    amount = "no price" if cost is None else money_words(cost, currency)
    return ItemRow(standing, item.key, item.need.name, quantity, amount, part.sentence if part else "", early)


def piece_words(piece: LinePiece, system: System) -> str:
    """Its length and what it is bent to."""
    bends = (f"{curve.side} R {format_length(curve.radius_mm, system)}" for curve in piece.curves if curve.radius_mm)
    return ", ".join((format_length(piece.length_mm, system), *dict.fromkeys(bends)))


def piece_place(piece: LinePiece) -> str:
    return f"{piece.run}, {piece.wall}, piece {piece.place}"


@dataclass(frozen=True)
class ShownRun:
    """One run of pieces as the page tells it. radii: radius with its face; pieces: so many of each length."""

    name: str
    facts: tuple[tuple[str, str], ...]
    radii: tuple[tuple[str, str, str], ...]
    pieces: str


def shown_runs(statement: OrderStatement, system: System) -> list[ShownRun]:
    """What is said of a run before is not said again; a wall is named where there are several."""
    shown, facts_shown, walls = list[ShownRun](), set[tuple[str, str]](), {run.wall for run in statement.runs}
    for run in statement.runs:
        facts = tuple(fact for fact in _facts(run) if fact not in facts_shown)
        facts_shown |= set(facts)
        radii = tuple(
            (f"Piece {radius.piece}, {radius.side}", format_both(radius.radius_mm), radius.measured_at)
            for radius in run.radii
        )
        name = f"{run.run}, {run.wall}" if len(walls) > 1 else run.run
        shown.append(ShownRun(name, facts, radii, _pieces(run, system) or "not stated"))
    return shown


def _facts(run: StatedRun) -> tuple[tuple[str, str], ...]:
    splices = {None: "not stated", True: "allowed", False: "not allowed"}[run.splices_allowed]
    return (
        ("Size", run.size or "not stated"),
        ("Grade", run.grade or "not stated"),
        ("Application", run.application or "not stated"),
        ("Shape", run.shape),
        ("Splices", splices),
    )


def _pieces(run: StatedRun, system: System) -> str:
    counted: dict[float, int] = {}
    for length_mm in run.piece_lengths_mm:
        counted[length_mm] = counted.get(length_mm, 0) + 1
    lengths = ((count, format_length(length_mm, system)) for length_mm, count in sorted(counted.items()))
    return ", ".join(f"{count} x {length}" if count > 1 else length for count, length in lengths)
