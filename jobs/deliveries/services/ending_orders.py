"""What will not come: the rest of a line given up, or the whole order called off by the supplier or by us."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated, Any, Literal

from django.db import transaction

from catalog.core.ground.declared import As, read
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import Refused
from catalog.services.row_sync import save_if_changed
from jobs.deliveries.services.order_events import day_of, held_order, line_at
from jobs.deliveries.services.receiving import state_of
from jobs.orders.models import Order, OrderLine, OrderState
from jobs.orders.services.order_changes import orders_changed
from quoting.platform.people.signatures import Signature

WORDS = {"supplier": "The supplier called it off", "us": "We called it off"}


@dataclass(frozen=True)
class NewEnd:
    """No more of the line is expected."""

    reason: Annotated[str, As(label="Why no more comes", rows=2)]
    ended_on: Annotated[date | None, As(label="From")] = None


@dataclass(frozen=True)
class NewCallOff:
    """Nothing more of the order comes."""

    by: Annotated[Literal["supplier", "us"], As(label="Called off by", words=(("supplier", "the supplier"),))]
    reason: Annotated[str, As(label="Why", rows=2)]


@transaction.atomic
def end_line(line: OrderLine, document: dict[str, Any], signature: Signature) -> OrderLine:
    """No more of it is expected, as a NewEnd. Said twice it is one end."""
    order = held_order(line.order_id)
    line = line_at(order, line.place)
    asked = read(NewEnd, Reader(document))
    day = day_of(order, asked.ended_on, "ended_on", signature)
    if line.ended_on is None and state_of(line).is_complete:
        raise Refused(f"All of {line.what} has come: nothing is left to end.")
    if line.ended_on is None:
        save_if_changed(line, {"ended_on": day, "ended_reason": asked.reason})
        orders_changed([line.job_id])
    return line


@transaction.atomic
def call_off(order: Order, document: dict[str, Any], signature: Signature, *, now: datetime) -> Order:
    """Nothing more of a placed order comes, as a NewCallOff. Safe to repeat.

    Where part of it has come, what came stays and the rest of each line is ended: the order itself was no mistake.
    """
    order = held_order(order.pk)
    asked = read(NewCallOff, Reader(document))
    if order.state == OrderState.CALLED_OFF:
        return order
    lines = list(order.lines.prefetch_related("receipts"))
    open_lines = [line for line in lines if not state_of(line).is_complete]
    if not open_lines:
        raise Refused(f"All of {order} has come or was ended: nothing is left to call off.")
    note = f"{WORDS[asked.by]}: {asked.reason}"
    for line in open_lines:
        save_if_changed(line, {"ended_on": signature.on, "ended_reason": note})
    if not any(line.receipts.all() for line in lines):
        save_if_changed(
            order,
            {
                "state": OrderState.CALLED_OFF,
                "called_off_at": now,
                "called_off_by_name": signature.by,
                "called_off_reason": note,
                "version": order.version + 1,
            },
        )
    orders_changed(line.job_id for line in lines)
    return order
