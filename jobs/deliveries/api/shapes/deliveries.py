"""What the API shows of what is due and of what came: deliveries, receipts and their claims."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, Any

from catalog.core.ground.declared import Choice, Items, Number, Of, Plain, As, Text, View
from jobs.core.ordering.line_pieces import PIECE_STATES, PieceState
from jobs.core.ordering.receiving import ReceiptStanding
from jobs.deliveries.models import ClaimOutcome
from jobs.deliveries.services.claim_letters import NewClaimLetter
from jobs.deliveries.services.claim_mailing import NewClaimMail
from jobs.deliveries.services.claims import Correction, NewClaim, SettledClaim
from jobs.deliveries.services.received_pieces import MAX_PIECES, PieceNumber, SomeCame
from jobs.deliveries.services.receiving import NewDelivery, surplus_of
from jobs.orders.api.shapes.orders import LineNamed, Money, SentMail
from quoting.platform.api.declared import answer_shapes, request_shapes

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


class PieceCurve(View):
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
    curves: Annotated[tuple[PieceCurve, ...], "Empty where that was not stated when it was ordered."]


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


class DueDeliveries(View):
    """What is on order and has not come, the first due first."""

    orders: Annotated[tuple[DueOrder, ...], Of(list)]


class PieceReceived(View):
    """How one piece of the line came."""

    number: int
    state: PieceState


class Receipt(View):
    """What came of one line at once. The supplier's working days from the order: quoted, and as it was."""

    id: Annotated[int, Of("pk")]
    order: Annotated[str, Of("delivery.order.number")]
    line: Annotated[LineNamed, As(spread=True)]
    good: Decimal
    damaged: Decimal
    wrong: Decimal
    surplus: Annotated[
        Decimal, Of(lambda row: surplus_of(row.line)), "Of the line, come good beyond what the job wants."
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
    lines: Annotated[
        tuple[Receipt, ...], Of(lambda row: row.lines.select_related("line__job", "delivery__order"))
    ]


class Deliveries(View):
    """What came of an order, delivery by delivery."""

    deliveries: Annotated[tuple[Delivery, ...], Of(list)]


class ReceiptPhoto(View):
    """A photo of what came, turned upright and without anything but its pixels."""

    id: Annotated[int, Of("pk")]
    caption: str
    sha256: str
    size_bytes: int
    width_px: int
    height_px: int
    added_by: str
    added_at: datetime


class ReceiptPhotos(View):
    """Photos of what came of one line at once."""

    photos: Annotated[tuple[ReceiptPhoto, ...], Of(lambda row: row.photos.all())]


class OpenClaim(View):
    """What is to be claimed or waits for an answer."""

    receipt: Receipt
    supplier: Annotated[str, Of("receipt.delivery.order.supplier.name")]
    days_left: Annotated[int | None, "Null where the supplier never said how long it takes a claim."]


class Claims(View):
    """By the working days left."""

    claims: Annotated[tuple[OpenClaim, ...], Of(list)]


class ClaimMails(View):
    """Mails of a claim."""

    mails: Annotated[tuple[SentMail, ...], Of(list)]


class CheckedNeed(View):
    """When it would be usable, ordered again. Null where something is missing; gaps then say what."""

    ordered_on: Annotated[date | None, Of("result.ordered_on")]
    usable: Annotated[date | None, Of("result.arrives.usable")]
    need_by: Annotated[date | None, Of("result.need_by")]
    order_by: date | None
    late_workdays: Annotated[int | None, Of("result.late_workdays")]
    gaps: tuple[str, ...]


class Replacement(View):
    """What came wrong or damaged and is not ordered again."""

    left: Decimal
    pieces: Annotated[tuple[int, ...], "Their numbers, none of goods that are counted."]
    need: Annotated[CheckedNeed, "What ordering it today would mean."]
    orders: tuple[str, ...]


class OrderNamed(View):
    """The number of an order."""

    order: Annotated[str, Of("number")]


@dataclass(frozen=True)
class NewReceiptPhoto:
    """A photo of what came of one line."""

    file: Annotated[str, Text(longest=MAX_LETTERS), "A JPEG or a PNG in Base64 (RFC 4648)."]
    caption: Annotated[
        str, Text(longest=MAX_CAPTION), "What is to be seen; the note of the line where it is not said."
    ] = ""


@dataclass(frozen=True)
class NewReplacement:
    """All that is left where neither a quantity nor numbers of pieces are said."""

    request_key: RequestKey
    quantity: SomeCame = None
    pieces: Annotated[tuple[PieceNumber, ...], Items(Whole(1, MAX_PIECES), MAX_PIECES)] = ()
