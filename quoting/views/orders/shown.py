"""Items and lines of orders as pages show them."""

from dataclasses import dataclass

from catalog.core.units import System, format_both, format_length
from catalog.models.columns import plain
from jobs.core.order_lines import OrderStatement
from jobs.core.release import ReleaseHold
from quoting.services.orders.items import Item
from quoting.services.orders.releasing import ItemStanding
from quoting.services.wording import money_words


@dataclass(frozen=True)
class ItemRow:
    """One item that may be put on an order."""

    standing: ItemStanding
    key: str
    name: str
    quantity: str
    amount: str

    @property
    def item(self) -> Item:
        return self.standing.item

    @property
    def holds(self) -> tuple[ReleaseHold, ...]:
        return self.standing.holds

    @property
    def state(self) -> str:
        if not self.standing.needs_release:
            return "from stock, needs no release"
        if self.standing.release is not None:
            return f"released by {self.standing.release.released_by_name}"
        return "released as it stood before, not as it stands now" if self.standing.is_stale else "not released"


def item_row(standing: ItemStanding) -> ItemRow:
    item = standing.item
    statement, currency = item.statement, item.done.read.book.firm.currency
    quantity = "not known" if statement.quantity is None else f"{plain(statement.quantity):f} {statement.unit}"
    amount = "no price" if item.amount is None else money_words(item.amount, currency)
    return ItemRow(standing, item.key, item.need.name, quantity, amount)


@dataclass(frozen=True)
class ShownRun:
    """One run of pieces as the page tells it. radii: radius with its face; pieces: so many of each length."""

    name: str
    facts: tuple[tuple[str, str], ...]
    radii: tuple[tuple[str, str, str], ...]
    pieces: str


def shown_runs(statement: OrderStatement, system: System) -> list[ShownRun]:
    found = []
    for run in statement.runs:
        splices = {None: "not stated", True: "allowed", False: "not allowed"}[run.splices_allowed]
        facts = (
            ("Size", run.size or "not stated"),
            ("Grade", run.grade or "not stated"),
            ("Application", run.application or "not stated"),
            ("Shape", run.shape),
            ("Splices", splices),
        )
        radii = tuple(
            (f"Piece {one.piece}, {one.side}", format_both(one.radius_mm), one.measured_at) for one in run.radii
        )
        counted: dict[float, int] = {}
        for length_mm in run.piece_lengths_mm:
            counted[length_mm] = counted.get(length_mm, 0) + 1
        pieces = ", ".join(f"{count} x {format_length(one, system)}" for one, count in sorted(counted.items()))
        found.append(ShownRun(f"{run.run}, {run.wall}", facts, radii, pieces or "not stated"))
    return found
