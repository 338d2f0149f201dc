"""What went back to the supplier, and what it credits for it."""

from collections.abc import Collection
from dataclasses import asdict, dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.declared import As, Money, Number, read
from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import RequestKey, refuse_another
from catalog.services.row_sync import save_if_changed
from catalog.services.typed_money import entry_reader
from jobs.deliveries.models import ReturnedGoods
from jobs.deliveries.services.order_events import MAX_QUANTITY, day_come, day_of, held_order, line_at
from jobs.orders.models import OrderLine
from jobs.orders.services.order_changes import orders_changed
from quoting.platform.models.columns import normalized, quantized
from quoting.platform.people.signatures import Signature


@dataclass(frozen=True)
class NewReturn:
    """Goods that go back."""

    request_key: RequestKey
    quantity: Annotated[Decimal, Number(high=MAX_QUANTITY), As(label="How many")]
    reason: Annotated[str, As(label="Why", rows=2)]
    sent_on: Annotated[date | None, As(label="Sent back on")] = None
    credit_expected: Annotated[Decimal | None, Money(), As(hint="Blank = not known.")] = None


@dataclass(frozen=True)
class NewCredit:
    """What the supplier credited."""

    credited: Annotated[Decimal, Money()]
    credited_on: Annotated[date | None, As(label="On")] = None


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
    """Goods that go back, as a NewReturn. Sent twice it is one return."""
    order = held_order(line.order_id)
    line = line_at(order, line.place)
    asked = read(NewReturn, entry_reader(document))
    day = day_of(order, asked.sent_on, "sent_on", signature)
    quantity = quantized(asked.quantity)
    figures = asdict(asked) | {"line_id": line.pk, "sent_on": day, "quantity": quantity}
    present = ReturnedGoods.objects.filter(request_key=asked.request_key).first()
    if present is not None:
        refuse_another(any(getattr(present, name) != value for name, value in figures.items()), "another return")
        return present, False
    here = on_hand(line)
    if not 0 < quantity <= here:
        there = f"of {line.what} {normalized(here):f} {line.unit} came and did not go back yet"
        raise DocumentError.at("quantity", f"{normalized(quantity):f} cannot go back; {there}")
    row = ReturnedGoods.objects.create(**figures, entered_at=now, entered_by_name=signature.by)
    orders_changed([line.job_id])
    return row, True


def on_hand(line: OrderLine) -> Decimal:
    """What came of a line, in whatever state, and did not go back."""
    came = sum((receipt.good + receipt.damaged + receipt.wrong for receipt in line.receipts.all()), Decimal(0))
    return came - sum((goods.quantity for goods in line.returns.all()), Decimal(0))


@transaction.atomic
def credit_return(row: ReturnedGoods, document: dict[str, Any], signature: Signature) -> ReturnedGoods:
    """What the supplier credited, as a NewCredit. Said twice it is one; another sum is refused."""
    held_order(row.line.order_id)
    row = ReturnedGoods.objects.select_related("line").get(pk=row.pk)
    asked = read(NewCredit, entry_reader(document))
    day = day_come(asked.credited_on, "credited_on", signature, not_before=row.sent_on, why="the day it was sent")
    if row.credited is not None and row.credited != asked.credited:
        raise Refused(f"{row.credited} is credited for it already; nothing was changed.")
    if row.credited is None:
        save_if_changed(row, {"credited": asked.credited, "credited_on": day})
        orders_changed([row.line.job_id])
    return row
