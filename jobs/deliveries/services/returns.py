"""What went back to the supplier, and what it credits for it."""

from collections.abc import Collection
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.db import transaction

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import refuse_another, request_key_of
from catalog.services.row_sync import save_if_changed
from catalog.services.typed_money import entry_reader
from jobs.deliveries.models import ReturnedGoods
from jobs.deliveries.services.order_events import MAX_QUANTITY, held_order, line_at, past_day
from jobs.orders.models import OrderLine
from jobs.orders.services.order_changes import orders_changed
from quoting.platform.models.columns import normalized, quantized
from quoting.platform.people.signatures import Signature

SAID = ("line_id", "quantity", "sent_on", "reason", "credit_expected")


def returns_of(order_id: int) -> list[ReturnedGoods]:
    return list(ReturnedGoods.objects.filter(line__order=order_id).select_related("line"))


def uncredited_returns(order_ids: Collection[int] | None = None) -> list[ReturnedGoods]:
    """What went back and is not credited yet, of some orders or of all, the longest away first."""
    rows = ReturnedGoods.objects.filter(credited=None)
    rows = rows if order_ids is None else rows.filter(line__order__in=order_ids)
    return list(rows.select_related("line__order__supplier", "line__job").order_by("sent_on", "pk"))


@transaction.atomic
def send_back(
    line: OrderLine, document: dict[str, Any], signature: Signature, *, now: datetime
) -> tuple[ReturnedGoods, bool]:
    """Goods that go back: request_key, quantity, sent_on, reason, credit_expected. Sent twice it is one return."""
    order = held_order(line.order_id)
    line = line_at(order, line.place)
    reader = entry_reader(document)
    key, quantity = request_key_of(reader), quantized(reader.decimal("quantity", "0", MAX_QUANTITY))
    day = past_day(reader, "sent_on", signature, not_before=order.placed_on, why="the day it was ordered")
    reason, expected = reader.text("reason"), reader.optional_money("credit_expected")
    reader.finish()
    figures = dict(zip(SAID, (line.pk, quantity, day, reason, expected), strict=True))
    present = ReturnedGoods.objects.filter(request_key=key).first()
    if present is not None:
        refuse_another(any(getattr(present, name) != value for name, value in figures.items()), "another return")
        return present, False
    here = on_hand(line)
    if not 0 < quantity <= here:
        there = f"of {line.what} {normalized(here):f} {line.unit} came and did not go back yet"
        raise DocumentError.at("quantity", f"{normalized(quantity):f} cannot go back; {there}")
    row = ReturnedGoods.objects.create(request_key=key, **figures, entered_at=now, entered_by_name=signature.by)
    orders_changed([line.job_id])
    return row, True


def on_hand(line: OrderLine) -> Decimal:
    """What came of a line, in whatever state, and did not go back."""
    came = sum((receipt.good + receipt.damaged + receipt.wrong for receipt in line.receipts.all()), Decimal(0))
    return came - sum((goods.quantity for goods in line.returns.all()), Decimal(0))


@transaction.atomic
def credit_return(row: ReturnedGoods, document: dict[str, Any], signature: Signature) -> ReturnedGoods:
    """What the supplier credited: credited, credited_on. Said twice it is one; another sum is refused."""
    held_order(row.line.order_id)
    row = ReturnedGoods.objects.select_related("line").get(pk=row.pk)
    reader = entry_reader(document)
    credited = reader.money("credited")
    day = past_day(reader, "credited_on", signature, not_before=row.sent_on, why="the day it was sent")
    reader.finish()
    if row.credited is not None and row.credited != credited:
        raise Refused(f"{row.credited} is credited for it already; nothing was changed.")
    if row.credited is None:
        save_if_changed(row, {"credited": credited, "credited_on": day})
        orders_changed([row.line.job_id])
    return row
