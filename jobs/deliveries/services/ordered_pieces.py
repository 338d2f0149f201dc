"""The pieces made for the walls of a job, on drafts, on order and on site, and which of them their wall has no more."""

from collections.abc import Collection, Iterator
from decimal import Decimal

from catalog.core.ground.document_reader import DocumentError
from catalog.services.book import materials_with_parts
from jobs.core.ordering.order_lines import read_statement
from jobs.core.ordering.wall_moves import OrderedFit, OrderedPieces, ordered_fits, under_new_names
from jobs.deliveries.services.due_deliveries import due_line
from jobs.needs.models import StoredNeed
from jobs.orders.models import OrderLine, OrderState
from jobs.orders.services.line_statement import statement_of_line


def ordered_pieces(job_id: int) -> tuple[OrderedPieces, ...]:
    """In a number of queries that does not grow with the orders."""
    rows = OrderLine.objects.filter(job=job_id, order__state__in=[OrderState.DRAFT, OrderState.PLACED])
    rows = rows.select_related("order").prefetch_related("receipts", "replaced_by__order")
    return tuple(pieces for line in rows.order_by("order__number", "place") for pieces in _of_line(line))


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


def changed_since(lines: Collection[OrderLine]) -> dict[int, tuple[OrderedFit, ...]]:
    """By id of the line, each radius that is another now than was ordered, those that still fit as well.

    In a number of queries that does not grow with the lines.
    """
    made = [line for line in lines if line.statement.get("runs")]
    rows = StoredNeed.objects.filter(job__in={line.job_id for line in made}) if made else ()
    needs = {(row.job_id, row.material): row for row in rows}
    codes = {line.material_id for line in made}
    materials = {row.code: row.to_core() for row in materials_with_parts().filter(code__in=codes)} if made else {}
    fits: dict[int, tuple[OrderedFit, ...]] = {}
    for line in made:
        need, statement = needs.get((line.job_id, line.material_id)), statement_of_line(line)
        material = materials.get(line.material_id)
        if need is None or statement is None or material is None:
            continue
        try:
            now = read_statement(need.statement)
        except DocumentError:
            continue
        pieces = OrderedPieces(line.order.number, "on_order", under_new_names(statement, now))
        fits[line.pk] = tuple(ordered_fits(pieces, now, material))
    return fits
