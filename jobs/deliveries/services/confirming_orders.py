"""What a supplier wrote back to an order, entered line by line; a day it gives becomes a promise."""

from collections import Counter
from collections.abc import Iterable
from datetime import datetime
from typing import Any

from django.db import transaction

from catalog.core.ground.day_words import day_words
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.request_keys import refuse_another, request_key_of
from catalog.core.ground.units import BareLengthUnit
from catalog.services.typed_money import entry_reader
from jobs.core.ordering.confirmation import FACES, Confirmed
from jobs.deliveries.models import Confirmation, ConfirmedLine
from jobs.deliveries.services.known_radii import radius_lines_of
from jobs.deliveries.services.order_events import MAX_QUANTITY, held_order, line_named, lines_by_place, past_day
from jobs.deliveries.services.promises import CONFIRMED, keep_promise
from jobs.orders.models import Order, OrderLine
from jobs.orders.services.order_changes import orders_changed
from quoting.platform.models.columns import normalized, quantized, quantized_or_none
from quoting.platform.people.signatures import Signature

MAX_PIECES = 500


def enter_confirmation(
    order: Order,
    document: dict[str, Any],
    signature: Signature,
    *,
    now: datetime,
    bare_unit: BareLengthUnit = "in",
) -> tuple[Confirmation, bool]:
    """A confirmation: request_key, reference, received_on, note, and lines of place, quantity, lengths, radii,
    radius_face, amount, promised_on; what it does not say is left out. A day it gives becomes a promise.

    The confirmation, and whether it is new. Raises DocumentError and Refused.
    """
    with transaction.atomic():
        order = held_order(order.pk)
        reader = entry_reader(document, bare_unit=bare_unit)
        key, reference = request_key_of(reader), reader.text("reference", "", longest=100)
        day = past_day(reader, "received_on", signature, not_before=order.placed_on, why="the day it was ordered")
        note, lines = reader.text("note", ""), lines_by_place(order)
        confirmed_lines = reader.items(
            "lines", lambda line: (line_named(line, lines, order), _confirmed(line, order)), 500
        )
        reader.finish()
        _refuse_nothing_or_twice([line for line, _ in confirmed_lines])
        present = Confirmation.objects.filter(request_key=key).first()
        if present is not None:
            refuse_another(
                not _is_same(present, order, reference, confirmed_lines), "another confirmation, or other figures,"
            )
            return present, False
        row = Confirmation.objects.create(
            order=order,
            request_key=key,
            reference=reference,
            received_on=day,
            note=note,
            entered_at=now,
            entered_by_name=signature.by,
        )
        for line, confirmed in confirmed_lines:
            _keep(row, line, confirmed, signature, now)
        orders_changed(line.job_id for line, _ in confirmed_lines)
        return row, True


def _confirmed(reader: Reader, order: Order) -> Confirmed:
    promised_on = reader.optional_day("promised_on")
    if promised_on is not None and order.placed_on is not None and promised_on < order.placed_on:
        reason = f"{day_words(promised_on)} lies before {day_words(order.placed_on)}, the day it was ordered"
        raise reader.error("promised_on", reason)
    quantity = reader.optional_decimal("quantity", "0", MAX_QUANTITY)
    if quantity is not None and not quantized(quantity):
        raise reader.error("quantity", "0 is no quantity; leave it out where it is not confirmed")
    return Confirmed(
        None if quantity is None else normalized(quantized(quantity)),
        _lengths(reader, "lengths"),
        _lengths(reader, "radii"),
        reader.choice("radius_face", FACES, ""),
        reader.optional_money("amount"),
        promised_on,
    )


def _lengths(reader: Reader, name: str) -> tuple[float, ...]:
    lengths_mm = []
    for place, value in enumerate(reader.values(name, MAX_PIECES)):
        length_mm = reader.length_of(f"{name}[{place}]", value)
        if not length_mm > 0:
            raise reader.error(f"{name}[{place}]", f"{value} is no length; it is more than zero")
        lengths_mm.append(round(length_mm, 3))
    return tuple(lengths_mm)


def _refuse_nothing_or_twice(lines: list[OrderLine]) -> None:
    if not lines:
        raise DocumentError.at("lines", "say of at least one line what was confirmed")
    twice = [place for place, count in Counter(line.place for line in lines).items() if count > 1]
    if twice:
        raise DocumentError.at("lines", f"line {twice[0]} is named twice; say once what was confirmed of it")


def _keep(row: Confirmation, line: OrderLine, confirmed: Confirmed, signature: Signature, now: datetime) -> None:
    lines = radius_lines_of(line, confirmed, signature.on)
    ConfirmedLine.objects.create(confirmation=row, line=line, radius_lines=lines, **_figures(confirmed))
    if confirmed.promised_on is not None and confirmed.promised_on != line.promised_on:
        keep_promise(
            line,
            confirmed.promised_on,
            reason=CONFIRMED,
            told_by=row.reference,
            told_on=row.received_on,
            by=signature.by,
            now=now,
        )


def _figures(confirmed: Confirmed) -> dict[str, Any]:
    return {
        "quantity": quantized_or_none(confirmed.quantity),
        "lengths_mm": list(confirmed.lengths_mm),
        "radii_mm": list(confirmed.radii_mm),
        "radius_face": confirmed.radius_face,
        "amount": confirmed.amount,
        "promised_on": confirmed.promised_on,
    }


def _is_same(
    present: Confirmation, order: Order, reference: str, confirmed_lines: Iterable[tuple[OrderLine, Confirmed]]
) -> bool:
    there = {row.line_id: {name: getattr(row, name) for name in _figures(Confirmed())} for row in present.lines.all()}
    given = {line.pk: _figures(confirmed) for line, confirmed in confirmed_lines}
    return (present.order_id, present.reference) == (order.pk, reference) and there == given
