"""Checking in what came, on site or in the yard: sent twice it is kept once."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import As, Declared, Items, Whole, read
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import RequestKey, refuse_another
from catalog.core.ground.workdays import WorkCalendar
from catalog.models import OrderTerms, Pack
from jobs.core.ordering.order_lines import Place
from jobs.core.ordering.receiving import ReceiptState, Received, receipt_state, taken_workdays
from jobs.core.takeoff.cut_list import OnHand
from jobs.deliveries.models import Delivery, ReceiptLine, ReceivedPiece
from jobs.deliveries.services.order_events import (
    day_of,
    held_order,
    judged_lines,
    line_named,
    lines_by_place,
    refuse_nothing_or_twice,
)
from jobs.deliveries.services.received_pieces import (
    STATES,
    CameEntered,
    amounts_come,
    pieces_come,
)
from jobs.orders.models import Order, OrderLine
from jobs.orders.services.order_changes import orders_changed
from jobs.orders.services.ordered_so_far import received_of
from jobs.orders.services.pieces import how_pieces_came
from jobs.stock.services.stock import MAX_OF_A_ROW, put_on_shelf, take_off_shelf
from quoting.platform.models.columns import normalized
from quoting.platform.people.signatures import Signature


@dataclass(frozen=True)
class LineEntered:
    """What came of one line."""

    place: Place
    came: Annotated[CameEntered, As(spread=True)]
    note: str = ""


@dataclass(frozen=True)
class NewDelivery:
    """What came, by line. Of two people who check in the same goods the second is told of the first."""

    request_key: RequestKey
    seen_deliveries: Annotated[int, Whole(0, 10_000), "How many of the order you know of."]
    lines: Annotated[tuple[LineEntered, ...], Items(Declared(LineEntered), 500), "At least one."]
    received_on: date | None = None
    note: str = ""

    def __post_init__(self) -> None:
        refuse_nothing_or_twice([line.place for line in self.lines], "how much of it came", "how much of it came")


@dataclass(frozen=True)
class CameLine:
    """pieces: how each came, by number; empty for goods that are counted."""

    line: OrderLine
    came: Received
    note: str
    pieces: Mapping[int, str]

    @property
    def figures(self) -> tuple[Any, ...]:
        return self.line.pk, *(getattr(self.came, name) for name in STATES), self.note


def check_in(order: Order, document: dict[str, Any], signature: Signature, *, now: datetime) -> tuple[Delivery, bool]:
    """A NewDelivery. Returns the delivery, and whether it is new.

    Raises DocumentError naming the entry, Refused for an order that was never placed or of which more came in between.
    """
    with transaction.atomic():
        order = held_order(order.pk)
        asked = read(NewDelivery, Reader(document))
        received_on = day_of(order, asked.received_on, "received_on", signature)
        lines, present = lines_by_place(order), Delivery.objects.filter(request_key=asked.request_key).first()
        came = judged_lines(asked.lines, lambda line: _came(line, line_named(line.place, lines, order), present))
        if present is not None:
            is_same = _is_same(present, order, received_on, asked.note, came)
            refuse_another(not is_same, "another delivery, or other figures,")
            return present, False
        _refuse_unseen(order, asked.seen_deliveries)
        delivery = Delivery.objects.create(
            order=order,
            request_key=asked.request_key,
            received_on=received_on,
            note=asked.note,
            entered_at=now,
            entered_by_name=signature.by,
        )
        for line in came:
            before = surplus_of(line.line)
            _keep(delivery, line)
            shelve(line.line, before)
        orders_changed(line.line.job_id for line in came)
        return delivery, True


def _came(entry: LineEntered, line: OrderLine, present: Delivery | None) -> CameLine:
    """present: the same delivery, where it is sent again."""
    known = how_pieces_came(line, without_delivery=present.pk if present else None)
    pieces = pieces_come(entry.came, known)
    return CameLine(line, Received(**amounts_come(entry.came, pieces)), entry.note, pieces)


def _refuse_unseen(order: Order, seen: int) -> None:
    later = list(order.deliveries.order_by("pk")[seen:])
    if later:
        last = later[-1]
        raise Refused(
            f"{last.entered_by_name} has checked in a delivery of {order} since you opened this page, as come on "
            f"{day_words(last.received_on)}. Nothing was saved. If yours is the same, leave it; if not, "
            "send it again."
        )


def _is_same(present: Delivery, order: Order, received_on: date, note: str, came: Iterable[CameLine]) -> bool:
    """Whether this is what was sent before. What was corrected since counts as it was checked in."""
    first = {row.line_id: row.history.earliest() for row in present.lines.all()}
    there = {(pk, *(getattr(row, name) for name in STATES), row.note) for pk, row in first.items()}
    about = (present.order_id, present.received_on, present.note)
    same = about == (order.pk, received_on, note) and there == {line.figures for line in came}
    return same and all(_are_same_pieces(row, came) for row in present.lines.all())


def _are_same_pieces(row: ReceiptLine, came: Iterable[CameLine]) -> bool:
    sent = next((line.pieces for line in came if line.line.pk == row.line_id), {})
    return row.history.count() > 1 or dict(row.pieces.values_list("number", "state")) == dict(sent)


def _keep(delivery: Delivery, arrival: CameLine) -> ReceiptLine:
    order, line = delivery.order, arrival.line
    row = ReceiptLine.objects.create(
        delivery=delivery,
        line=line,
        good=arrival.came.good,
        damaged=arrival.came.damaged,
        wrong=arrival.came.wrong,
        note=arrival.note,
        quoted_workdays=line.quoted_workdays,
        promised_on=line.promised_on,
        actual_workdays=_taken(order, delivery.received_on),
        claim_by=claim_deadline(order, line, arrival.came, delivery.received_on),
    )
    ReceivedPiece.objects.bulk_create(ReceivedPiece(receipt=row, number=n, state=s) for n, s in arrival.pieces.items())
    return row


def _taken(order: Order, received_on: date) -> int:
    counted_from = order.counted_from or order.placed_on
    assert counted_from is not None
    # Fetched from the counter on the day of an order after the cut-off hour, it came before it counts.
    return taken_workdays(min(counted_from, received_on), received_on, calendar_of_supplier(order))


def calendar_of_supplier(order: Order) -> WorkCalendar:
    return order.supplier.to_core().calendar


def claim_deadline(
    order: Order, line: OrderLine, came: Received, received_on: date, before: Iterable[ReceiptLine] | None = None
) -> date | None:
    """The last day to tell the supplier; None where there is nothing to tell, or it never said how long it takes it."""
    earlier = line.receipts.all() if before is None else before
    excess = receipt_state(line.quantity, [*map(received_of, earlier), came]).excess
    if not came.to_claim and not excess:
        return None
    terms = OrderTerms.objects.filter(supplier=order.supplier).first()
    return terms.to_core().claim_by(received_on, calendar_of_supplier(order)) if terms else None


def state_of(line: OrderLine) -> ReceiptState:
    """What came of a line and what is still to come, in the unit it was ordered in."""
    came = map(received_of, line.receipts.all())
    return receipt_state(normalized(line.quantity), came, ended=line.ended_on is not None)


def surplus_of(line: OrderLine) -> Decimal:
    """How much came good of what was ordered beyond what the job needs."""
    beyond = state_of(line).good - normalized(line.quantity - line.extra)
    return max(Decimal(0), min(normalized(line.extra), beyond))


def shelve(line: OrderLine, before: Decimal) -> None:
    """What came beyond the need lies on the firm's shelf, where it is whole packs of one kind; of a receipt that is
    corrected, more or less of it. before: the surplus so far. Raises Refused."""
    more = surplus_of(OrderLine.objects.get(pk=line.pk)) - before
    pack = pack_of(line)
    if pack is None or more != more.to_integral_value():
        return
    length_mm = float(pack.length_mm) if pack.length_mm is not None and pack.width_mm is None else None
    move = put_on_shelf if more > 0 else take_off_shelf
    left = int(abs(more))
    while left:
        lot = min(left, MAX_OF_A_ROW)
        move(OnHand(line.material_id, length_mm, lot, pack.code, line.unit_price), f"From order {line.order}")
        left -= lot


def pack_of(line: OrderLine) -> Pack | None:
    """The one kind of pack a line orders; None for pieces made for a wall, and where there are several."""
    labels = [pack.get("label") for pack in line.statement.get("packs", ())]
    return line.material.packs.filter(label=labels[0]).first() if len(labels) == 1 else None
