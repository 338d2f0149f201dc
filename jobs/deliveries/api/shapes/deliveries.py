"""What the API shows of what is due and of what came: deliveries, receipts and their claims."""

from datetime import date
from decimal import Decimal
from typing import Annotated

from catalog.core.ground.declared import As, Choice, Of, Plain, View
from jobs.core.ordering.line_pieces import PIECE_STATES, PieceState
from jobs.core.ordering.receiving import ReceiptStanding
from jobs.deliveries.models import ClaimOutcome
from jobs.deliveries.services.receiving import NewDelivery, surplus_of
from jobs.orders.api.shapes.orders import LineNamed, Money
from quoting.platform.api.declared import answer_shapes, list_of, request_shapes

Millimetres = Annotated[float, Plain()]


class ReceiptState(View):
    """How much of a line came, and how it stands."""

    open: Decimal
    short: Decimal
    excess: Decimal
    good: Decimal
    damaged: Decimal
    wrong: Decimal
    standing: ReceiptStanding


class StatedCurve(View):
    """What a piece follows on one piece of the wall, from 1: the radius at its back, 0 on a straight, over a length."""

    piece: int
    side: str
    radius_mm: Annotated[Millimetres, As(name="radius_mm")]
    length_mm: Annotated[Millimetres, As(name="length_mm")]


class LinePiece(View):
    """One piece of an order line."""

    number: int
    wall: str
    run: str
    place: Annotated[int, "In its run, from 1 at the start of the wall."]
    length_mm: Annotated[Millimetres, As(name="length_mm")]
    curves: Annotated[tuple[StatedCurve, ...], "Empty where that was not stated when it was ordered."]


class PieceDue(View):
    """One piece of an order line, as it came last."""

    piece: Annotated[LinePiece, As(spread=True)]
    state: Annotated[str, Choice(("", *PIECE_STATES)), "Empty while it has not come."]


class DueLine(View):
    """A line that is on order and has not come."""

    line: Annotated[LineNamed, As(spread=True)]
    state: Annotated[ReceiptState, As(spread=True)]
    expected_on: date | None
    pieces: Annotated[tuple[PieceDue, ...], "One by one, none of goods that are counted."]
    pieces_mm: Annotated[
        tuple[Millimetres, ...],
        As(name="pieces_mm"),
        Of(lambda due: [length for run in due.runs for length in run.piece_lengths_mm]),
        "Their lengths.",
    ]
    places: Annotated[
        tuple[str, ...], Of(lambda due: [f"{run.wall}: {run.run}" for run in due.runs]), "Wall and run they go to."
    ]


class DueOrder(View):
    """An order with what has not come of it."""

    number: Annotated[str, Of("order.number")]
    supplier: Annotated[str, Of("order.supplier.name"), As(withheld="costs")]
    placed_on: Annotated[date, Of("order.placed_on")]
    expected_on: date | None
    deliveries: Annotated[
        int,
        Of(lambda due: len(due.order.deliveries.all())),
        "How many were checked in; a new one names it as `seen_deliveries`.",
    ]
    lines: tuple[DueLine, ...]


DueDeliveries = list_of("DueDeliveries", "orders", DueOrder, "What is on order and has not come, the first due first.")


class PieceReceived(View):
    """How one piece of the line came."""

    number: int
    state: PieceState


class Receipt(View):
    """One receipt of a line. The supplier's working days from the order: quoted, and as it was."""

    id: Annotated[int, Of("pk")]
    order: Annotated[str, Of("delivery.order.number")]
    line: Annotated[LineNamed, As(spread=True)]
    good: Decimal
    damaged: Decimal
    wrong: Decimal
    surplus: Annotated[
        Decimal, Of(lambda row: surplus_of(row.line)), "Of the line, come good beyond what the job needs."
    ]
    pieces: Annotated[tuple[PieceReceived, ...], Of(lambda row: row.pieces.all())]
    note: str
    quoted_workdays: int | None
    promised_on: date | None
    actual_workdays: int
    claim_by: Annotated[date | None, As(withheld="costs")]
    claimed_on: Annotated[date | None, As(withheld="costs")]
    claimed_by: Annotated[str, Of("claimed_by_name"), As(withheld="costs")]
    outcome: Annotated[str, Choice(("", *ClaimOutcome.values)), As(withheld="costs")]
    outcome_on: Annotated[date | None, As(withheld="costs")]
    outcome_note: Annotated[str, As(withheld="costs")]
    credit: Annotated[Money, As(withheld="costs")]
    photo_count: Annotated[int, Of(lambda row: len(row.photos.all()))]


class Delivery(View):
    """What came of an order at once."""

    id: Annotated[int, Of("pk")]
    order: Annotated[str, Of("order.number")]
    received_on: date
    note: str
    entered_by: Annotated[str, Of("entered_by_name")]
    lines: Annotated[tuple[Receipt, ...], Of(lambda row: row.lines.select_related("line__job", "delivery__order"))]


Deliveries = list_of("Deliveries", "deliveries", Delivery, "The deliveries of an order.")


SHAPES = answer_shapes(DueDeliveries, Deliveries) | request_shapes(NewDelivery)
