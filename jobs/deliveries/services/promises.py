"""Days a supplier gave for a line: each kept with its reason, the last one standing."""

from dataclasses import asdict, dataclass, replace
from datetime import date, datetime
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import As, Text, read
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.refusal import Refused
from catalog.services.row_sync import save_if_changed
from jobs.deliveries.services.order_events import MAX_NAME_LENGTH, day_of, held_order, line_at
from jobs.orders.models import OrderLine, Promise
from jobs.orders.services.order_changes import orders_changed
from quoting.platform.people.signatures import Signature

CONFIRMED = "As confirmed."


@dataclass(frozen=True)
class NewPromise:
    """A day the supplier gave. A day that moves says why."""

    promised_on: Annotated[date, As(label="At the dock on")]
    reason: Annotated[str, As(label="Why it moves", hint="If another day was promised before.", rows=2)] = ""
    told_by: Annotated[
        str, Text(longest=MAX_NAME_LENGTH), As(label="Who said so", hint="And how: by phone, by mail.")
    ] = ""
    told_on: Annotated[date | None, As(label="Said on")] = None


@transaction.atomic
def add_promise(line: OrderLine, document: dict[str, Any], signature: Signature, *, now: datetime) -> Promise:
    """A day given, as a NewPromise. The day that stands already, given twice, is one.

    A day that moves says why. Raises DocumentError, and Refused where nothing of the line is awaited.
    """
    order = held_order(line.order_id)
    line = line_at(order, line.place)
    given = read(NewPromise, Reader(document))
    told_on = day_of(order, given.told_on, "told_on", signature)
    if line.ended_on is not None:
        raise Refused(f"Nothing more of {line.what} is expected since {day_words(line.ended_on)}.")
    _refuse_before_order(given.promised_on, order.placed_on)
    last = line.promises.last()
    if last is not None and last.promised_on == given.promised_on:
        return last
    if last is not None and not given.reason.strip():
        before = day_words(last.promised_on)
        raise DocumentError.at("reason", f"is missing; {before} was promised before, so say why it moves")
    promise = keep_promise(line, replace(given, told_on=told_on), by=signature.by, now=now)
    orders_changed([line.job_id])
    return promise


def keep_promise(line: OrderLine, given: NewPromise, *, by: str, now: datetime) -> Promise:
    """Whoever calls tells of it, once for all lines."""
    promise = Promise.objects.create(line=line, **asdict(given), entered_at=now, entered_by_name=by)
    save_if_changed(line, {"promised_on": given.promised_on})
    return promise


def _refuse_before_order(promised_on: date, placed_on: date | None) -> None:
    if placed_on is not None and promised_on < placed_on:
        reason = f"{day_words(promised_on)} is before {day_words(placed_on)}, the day it was ordered"
        raise DocumentError.at("promised_on", reason)
