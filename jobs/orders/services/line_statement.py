"""What a line of an order stated when it was ordered."""

from catalog.core.ground.document_reader import DocumentError
from jobs.core.ordering.order_lines import OrderStatement, read_statement
from jobs.orders.models import OrderLine


def statement_of_line(line: OrderLine) -> OrderStatement | None:
    """What the line stated when it was ordered; None for one that states nothing but its quantity."""
    if not line.statement:
        return None
    try:
        return read_statement(line.statement)
    except DocumentError:
        # Kept by a form of the statement nobody reads any more: the words of the line still say what it is.
        return None
