"""What became of an order, for its page."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal
from typing import Any

from catalog.core.ground.units import System
from catalog.services.book import firm_of
from jobs.core.ordering.receiving import ReceiptState
from jobs.core.ordering.wall_moves import OrderedFit
from jobs.deliveries.pages.order_rows import OrderRow, rows_of_line
from jobs.deliveries.services.claims import needs_claim, standing_words
from jobs.deliveries.services.comparing_orders import ComparedLine, compared_lines
from jobs.deliveries.services.deviation_remedies import remedies_of
from jobs.deliveries.services.deviations import otherwise_of_order
from jobs.deliveries.services.ordered_pieces import changed_since
from jobs.deliveries.services.receiving import pack_of, state_of, surplus_of
from jobs.deliveries.services.returns import returns_of
from jobs.orders.models import Order, OrderLine, OrderState


@dataclass(frozen=True)
class EventLine:
    """One line with what became of it. confirmed: as last confirmed, None while nothing is. runs: its rows, run by run.
    receipts: each with how its claim stands, empty where there is none."""

    line: OrderLine
    state: ReceiptState
    confirmed: ComparedLine | None
    receipts: list[tuple[Any, str]]
    runs: list[tuple[str, list[OrderRow]]] = field(default_factory=list)

    @property
    def claims(self) -> list[tuple[Any, str]]:
        return [(row, standing) for row, standing in self.receipts if standing]

    @property
    def not_said(self) -> tuple[str, ...]:
        return self.confirmed.comparison.not_said if self.confirmed else ()

    @property
    def surplus(self) -> Decimal:
        return surplus_of(self.line)

    @property
    def is_shelved(self) -> bool:
        return pack_of(self.line) is not None


def events_of(order: Order, moment: datetime) -> dict[str, Any]:
    """For the page of a placed order."""
    if order.placed_on is None:
        return {"event_lines": []}
    lines = order.lines.select_related("job", "material", "order", "replaces__order").prefetch_related(
        "receipts__delivery", "receipts__pieces", "promises", "settlements", "replaced_by__order", "returns"
    )
    system, rows = firm_of().display_units, list(lines)
    changed = changed_since(rows)
    confirmed = {line.row.line_id: line for line in compared_lines(order, system)}
    return {
        "event_lines": [_event_line(row, confirmed.get(row.pk), changed.get(row.pk, ()), system) for row in rows],
        "is_changed": any(changed.values()),
        "ways": remedies_of(otherwise_of_order(order.pk, moment.date()), moment),
        "confirmations": list(order.confirmations.all()),
        "deliveries": list(order.deliveries.all()),
        "returned": returns_of(order.pk),
        "is_on_order": order.state == OrderState.PLACED,
    }


def _event_line(
    row: OrderLine, confirmed: ComparedLine | None, changed: Sequence[OrderedFit], system: System
) -> EventLine:
    state = state_of(row)
    runs = rows_of_line(row, state, confirmed, changed, system)
    return EventLine(row, state, confirmed, _receipts(row), runs)


def _receipts(line: OrderLine) -> list[tuple[Any, str]]:
    return [(row, standing_words(row) if needs_claim(row) else "") for row in line.receipts.all()]
