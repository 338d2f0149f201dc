"""What the page of an order says of what became of it: templates/deliveries/_blocks.html takes this context."""

from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal
from typing import Any

from catalog.core.ground.plain_text import plain
from catalog.core.ground.units import System
from catalog.services.book import firm_of
from jobs.core.ordering.deviations import OF_CONFIRMATIONS, Deviation
from jobs.core.ordering.receiving import ReceiptState
from jobs.deliveries.services.claims import needs_claim, standing_words
from jobs.deliveries.services.comparing_orders import ComparedLine, compared_lines
from jobs.deliveries.services.deviation_remedies import remedies_of
from jobs.deliveries.services.deviations import otherwise_of_order
from jobs.deliveries.services.receiving import pack_of, state_of, surplus_of
from jobs.deliveries.services.returns import returns_of
from jobs.orders.models import Order, OrderLine, OrderState
from jobs.orders.pages.shown import piece_place, piece_words
from jobs.orders.services.pieces import PieceCame, how_pieces_came


@dataclass(frozen=True)
class EventLine:
    """One line with what became of it. confirmed: as last confirmed, None while nothing is. otherwise: what goes
    otherwise than ordered."""

    line: OrderLine
    state: ReceiptState
    confirmed: ComparedLine | None
    receipts: list[tuple[Any, str]]
    pieces: list[tuple[str, str]] = field(default_factory=list)
    otherwise: list[Deviation] = field(default_factory=list)

    @property
    def came_words(self) -> str:
        figures = (("good", self.state.good), ("damaged", self.state.damaged), ("wrong", self.state.wrong))
        came = ", ".join(f"{plain(count)} {word}" for word, count in figures if count)
        return came or "nothing yet"

    @property
    def surplus(self) -> Decimal:
        return surplus_of(self.line)

    @property
    def is_shelved(self) -> bool:
        return pack_of(self.line) is not None

    @property
    def moved(self) -> list[Any]:
        return list(self.line.promises.all())


def events_of(order: Order, moment: datetime) -> dict[str, Any]:
    """For the page of an order, whose template then includes "deliveries/_blocks.html"."""
    if order.placed_on is None:
        return {"event_lines": []}
    lines = order.lines.select_related("job", "material", "replaces__order").prefetch_related(
        "receipts__delivery", "receipts__pieces", "promises", "settlements", "replaced_by__order"
    )
    system = firm_of().display_units
    found = otherwise_of_order(order.pk, moment.date())
    by_line: dict[int, list[Deviation]] = {}
    for one in found:
        if one.found.kind not in OF_CONFIRMATIONS:
            by_line.setdefault(one.line.pk, []).append(one.found)
    confirmed = {one.row.line_id: one for one in compared_lines(order, system)}
    return {
        "order": order,
        "event_lines": [
            EventLine(
                row, state_of(row), confirmed.get(row.pk), _receipts(row), _pieces(row, system), by_line.get(row.pk, [])
            )
            for row in lines
        ],
        "ways": remedies_of(found, moment),
        "confirmations": list(order.confirmations.all()),
        "deliveries": list(order.deliveries.all()),
        "returned": returns_of(order.pk),
        "is_on_order": order.state == OrderState.PLACED,
    }


def _pieces(line: OrderLine, system: System) -> list[tuple[str, str]]:
    """Each piece with how it came."""
    return [
        (f"{piece_words(one.piece, system)} ({piece_place(one.piece)})", _came(one)) for one in how_pieces_came(line)
    ]


def _came(one: PieceCame) -> str:
    return f"{one.state}, kept as it is" if one.kept and one.state != "good" else one.state or "to come"


def _receipts(line: OrderLine) -> list[tuple[Any, str]]:
    return [(row, standing_words(row) if needs_claim(row) else "") for row in line.receipts.all()]
