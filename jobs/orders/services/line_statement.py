"""What a line of an order stated when it was ordered."""

from catalog.core.ground.declared import write
from catalog.core.ground.document_reader import DocumentError
from jobs.core.ordering.order_lines import OrderStatement, read_statement, states_the_same
from jobs.orders.models import OrderLine, Release


def statement_of_line(line: OrderLine) -> OrderStatement | None:
    """What the line stated when it was ordered; None for one that states nothing but its quantity."""
    if not line.statement:
        return None
    try:
        return read_statement(line.statement)
    except DocumentError:
        # Kept by a form of the statement nobody reads any more: the words of the line still say what it is.
        return None


def still_states(row: OrderLine | Release, statement: OrderStatement) -> bool:
    """Whether a maker is told the same now as by what was kept."""
    if row.statement_mark != statement.mark:
        return False
    return not row.statement or states_the_same(row.statement, write(statement))
