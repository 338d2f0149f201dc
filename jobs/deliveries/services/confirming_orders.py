"""What a supplier wrote back to an order, entered line by line; a day it gives becomes a promise."""

from collections.abc import Iterable
from dataclasses import asdict, dataclass, replace
from datetime import date, datetime
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import As, Declared, Items, Text, read
from catalog.core.ground.refusal import EntryError
from catalog.core.ground.request_keys import RequestKey, refuse_another
from catalog.core.ground.units import BareLengthUnit
from catalog.services.typed_money import entry_reader
from jobs.core.ordering.confirmation import Confirmed
from jobs.core.ordering.order_lines import Place
from jobs.deliveries.models import Confirmation, ConfirmedLine
from jobs.deliveries.services.comparing_orders import confirmed_of
from jobs.deliveries.services.known_radii import radius_lines_of
from jobs.deliveries.services.order_events import (
    day_of,
    held_order,
    judged_lines,
    line_named,
    lines_by_place,
    refuse_nothing_or_twice,
)
from jobs.deliveries.services.promises import CONFIRMED, NewPromise, keep_promise
from jobs.orders.models import Order, OrderLine
from jobs.orders.services.order_changes import orders_changed
from quoting.platform.models.columns import normalized, quantized_or_none
from quoting.platform.people.signatures import Signature


@dataclass(frozen=True)
class LineConfirmed:
    """What was confirmed of one line."""

    place: Place
    confirmed: Annotated[Confirmed, As(spread=True)]


@dataclass(frozen=True)
class NewConfirmation:
    """What the supplier confirmed; what it does not say is left out. A day becomes a promise."""

    request_key: RequestKey
    lines: Annotated[tuple[LineConfirmed, ...], Items(Declared(LineConfirmed), 500), "At least one."]
    reference: Annotated[str, Text(longest=100)] = ""
    received_on: date | None = None
    note: str = ""

    def __post_init__(self) -> None:
        refuse_nothing_or_twice([line.place for line in self.lines], "what was confirmed", "what was confirmed of it")


def enter_confirmation(
    order: Order,
    document: dict[str, Any],
    signature: Signature,
    *,
    now: datetime,
    bare_unit: BareLengthUnit = "in",
) -> tuple[Confirmation, bool]:
    """A NewConfirmation. Returns the confirmation, and whether it is new. Raises DocumentError and Refused."""
    with transaction.atomic():
        order = held_order(order.pk)
        asked = read(NewConfirmation, entry_reader(document, bare_unit=bare_unit))
        day, lines = day_of(order, asked.received_on, "received_on", signature), lines_by_place(order)
        confirmed_lines = judged_lines(
            asked.lines, lambda line: (line_named(line.place, lines, order), _confirmed(line.confirmed, order))
        )
        present = Confirmation.objects.filter(request_key=asked.request_key).first()
        if present is not None:
            is_same = _is_same(present, order, asked.reference, confirmed_lines)
            refuse_another(not is_same, "another confirmation, or other figures,")
            return present, False
        row = Confirmation.objects.create(
            order=order,
            request_key=asked.request_key,
            reference=asked.reference,
            received_on=day,
            note=asked.note,
            entered_at=now,
            entered_by_name=signature.by,
        )
        for line, confirmed in confirmed_lines:
            _keep(row, line, confirmed, signature, now)
        orders_changed(line.job_id for line, _ in confirmed_lines)
        return row, True


def _confirmed(confirmed: Confirmed, order: Order) -> Confirmed:
    promised_on = confirmed.promised_on
    if promised_on is not None and order.placed_on is not None and promised_on < order.placed_on:
        reason = f"{day_words(promised_on)} is before {day_words(order.placed_on)}, the day it was ordered"
        raise EntryError("promised_on", reason)
    quantity = quantized_or_none(confirmed.quantity)
    return replace(confirmed, quantity=None if quantity is None else normalized(quantity))


def _keep(row: Confirmation, line: OrderLine, confirmed: Confirmed, signature: Signature, now: datetime) -> None:
    figures = asdict(confirmed) | {"radius_lines": radius_lines_of(line, confirmed, signature.on)}
    ConfirmedLine.objects.create(confirmation=row, line=line, **figures)
    if confirmed.promised_on is not None and confirmed.promised_on != line.promised_on:
        promise = NewPromise(confirmed.promised_on, CONFIRMED, row.reference, row.received_on)
        keep_promise(line, promise, by=signature.by, now=now)


def _is_same(
    present: Confirmation, order: Order, reference: str, confirmed_lines: Iterable[tuple[OrderLine, Confirmed]]
) -> bool:
    there = {row.line_id: replace(confirmed_of(row), radius_lines=()) for row in present.lines.all()}
    given = {line.pk: confirmed for line, confirmed in confirmed_lines}
    return (present.order_id, present.reference) == (order.pk, reference) and there == given
