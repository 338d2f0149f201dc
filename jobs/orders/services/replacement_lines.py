"""Lines that order again what came damaged or wrong: just those pieces, under the release of the line they replace."""

from collections.abc import Collection, Iterator
from decimal import Decimal
from typing import Any

from catalog.core.ground.declared import write
from catalog.core.ground.money import to_cents
from jobs.core.ordering.line_pieces import LinePiece
from jobs.jobs.models import Job
from jobs.orders.models import OrderLine, OrderState
from jobs.orders.services.line_statement import statement_of_line
from jobs.orders.services.ordered_so_far import carried_line
from jobs.orders.services.pieces import statement_of_pieces, to_order_again
from jobs.orders.services.replaced_pieces import stated_part
from quoting.platform.models.columns import normalized

REPLACED_PARTS = (
    "receipts__pieces",
    "returns",
    "replaced_by__order",
    "replaced_by__receipts__pieces",
    "replaced_by__returns",
)


def left_short(line: OrderLine) -> Decimal:
    """How much of a line came damaged or wrong and stands on no order in its place."""
    again = sum((stands_for(replacement) for replacement in line.replaced_by.all()), Decimal(0))
    return normalized(max(Decimal(0), carried_line(line).short - again))


def stands_for(line: OrderLine) -> Decimal:
    """For how much of the line it replaces; what came bad of it is its own to make good."""
    if line.order.state == OrderState.CALLED_OFF:
        return Decimal(0)
    carried = carried_line(line)
    return carried.good + carried.short if carried.ended else carried.quantity


def short_lines(job: Job, material: str) -> Iterator[tuple[OrderLine, Decimal]]:
    """Placed lines of an item with what of each is to be ordered again, the first ordered first."""
    rows = OrderLine.objects.filter(job=job, material=material, order__state=OrderState.PLACED)
    for line in rows.select_related("release", "order").prefetch_related(*REPLACED_PARTS).order_by("pk"):
        left = left_short(line)
        if left:
            yield line, left


def replacement_figures(line: OrderLine, quantity: Decimal, pieces: Collection[LinePiece] = ()) -> dict[str, Any]:
    """pieces: just these, as many as quantity says; none where nobody said which. They cost what the first did until
    the supplier says who pays."""
    bad = to_order_again(line)
    part = statement_of_pieces(line, pieces or (bad if len(bad) == quantity else ())) or stated_part(
        statement_of_line(line), quantity
    )
    return {
        "material_id": line.material_id,
        "what": line.what,
        "quantity": quantity,
        "unit": line.unit,
        "statement": write(part) if part else line.statement,
        "statement_mark": part.mark if part else line.statement_mark,
        "release": line.release if line.release and line.release.ended_at is None else None,
        "unit_price": line.unit_price,
        "amount": worth_of(line, quantity),
        "need_by": line.need_by,
        "replaces": line,
    }


def worth_of(line: OrderLine, quantity: Decimal) -> Decimal | None:
    """What so much of a line cost, money; None where the line has no price."""
    return None if line.amount is None else to_cents(line.amount * quantity / line.quantity)
