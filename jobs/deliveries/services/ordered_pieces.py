"""The pieces made for the walls of a job, on drafts, on order and on site."""

from collections.abc import Iterator
from decimal import Decimal

from jobs.core.ordering.wall_moves import OrderedPieces
from jobs.deliveries.services.due_deliveries import due_line
from jobs.orders.models import OrderLine, OrderState
from jobs.orders.services.line_statement import statement_of_line


def ordered_pieces(job_id: int) -> tuple[OrderedPieces, ...]:
    """In a number of queries that does not grow with the orders."""
    rows = OrderLine.objects.filter(job=job_id, order__state__in=[OrderState.DRAFT, OrderState.PLACED])
    rows = rows.select_related("order").prefetch_related("receipts", "replaced_by__order")
    return tuple(found for line in rows.order_by("order__number", "place") for found in _of_line(line))


def _of_line(line: OrderLine) -> Iterator[OrderedPieces]:
    statement = statement_of_line(line)
    if statement is None or not statement.runs:
        return
    if line.order.state == OrderState.DRAFT:
        yield OrderedPieces(line.order.number, "draft", statement)
        return
    due = due_line(line)
    if due.awaited > 0:
        yield OrderedPieces(line.order.number, "on_order", statement)
    if due.state.good > Decimal(0):
        yield OrderedPieces(line.order.number, "on_site", statement)
