"""What is still to come to the sites: open lines of placed orders, the one due first on top."""

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from jobs.core.ordering.order_lines import StatedRun
from jobs.core.ordering.receiving import ReceiptState
from jobs.deliveries.services.receiving import state_of
from jobs.orders.models import Order, OrderLine, OrderState
from jobs.orders.services.line_statement import statement_of_line
from jobs.orders.services.pieces import PieceCame, how_pieces_came


@dataclass(frozen=True)
class DueLine:
    """expected_on: by the last promise, else as quoted; None where neither is known. pieces: one by one; none of goods
    that are counted.

    What came damaged or wrong is not awaited: it comes by the order that replaces it.
    """

    line: OrderLine
    state: ReceiptState
    runs: tuple[StatedRun, ...]
    pieces: tuple[PieceCame, ...] = ()

    @property
    def to_come(self) -> tuple[PieceCame, ...]:
        return tuple(piece for piece in self.pieces if not piece.state)

    @property
    def awaited(self) -> Decimal:
        return self.state.open

    @property
    def expected_on(self) -> date | None:
        return self.line.promised_on or self.line.quoted_dock_on


@dataclass(frozen=True)
class DueOrder:
    """An order with what is still to come of it."""

    order: Order
    lines: tuple[DueLine, ...]

    @property
    def expected_on(self) -> date | None:
        return min((line.expected_on for line in self.lines if line.expected_on), default=None)


def due_orders(order_id: int | None = None) -> list[DueOrder]:
    """Of one order, or of all in a number of queries that does not grow with them."""
    parts = ("lines__receipts__pieces", "lines__job__client", "lines__material", "deliveries")
    return _due(None if order_id is None else [order_id], parts, due_line)


def due_in_short(order_ids: Collection[int] | None = None) -> list[DueOrder]:
    """The same without the runs and pieces of their lines, for lists that say when orders come."""
    return _due(order_ids, ("lines__receipts", "lines__job"), _in_short)


def _in_short(line: OrderLine) -> DueLine:
    return DueLine(line, state_of(line), ())


def _due(
    order_ids: Collection[int] | None, parts: Iterable[str], due: Callable[[OrderLine], DueLine]
) -> list[DueOrder]:
    placed = Order.objects.filter(state=OrderState.PLACED).select_related("supplier")
    placed = placed if order_ids is None else placed.filter(pk__in=order_ids)
    rows = placed.prefetch_related(*parts)
    orders = [DueOrder(order, tuple(line for line in map(due, order.lines.all()) if line.awaited)) for order in rows]
    awaited = [order for order in orders if order.lines]
    return sorted(
        awaited, key=lambda order: (order.expected_on is None, order.expected_on or date.max, order.order.number)
    )


def due_lines(order: Order) -> list[DueLine]:
    return [due_line(line) for line in order.lines.all()]


def due_line(line: OrderLine) -> DueLine:
    return DueLine(line, state_of(line), stated_runs(line), how_pieces_came(line))


def stated_runs(line: OrderLine) -> tuple[StatedRun, ...]:
    statement = statement_of_line(line)
    return statement.runs if statement else ()
