"""What is sent and answered of bills and credits."""

from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, Any

from catalog.core.ground.declared import Amount, As, Choice, Figure, Month, Of, View, itself
from jobs.bills.models import Bill, BillKind, BillLine, Category
from jobs.bills.services.listing import STATES
from jobs.bills.services.reading import EnteredDraft, NewBill
from jobs.bills.services.voiding import BillVoid
from quoting.platform.api.declared import EnteredAndVoided, answer_shapes, request_shapes
from quoting.platform.api.parts import (
    NEEDED_TEXT,
    given,
    page,
)

Schema = dict[str, Any]
KEY: Schema = {**NEEDED_TEXT, "maxLength": 100, "description": "Your own; repeated with it, it is stored once."}
MoneyShown = Annotated[Decimal, Amount()]


class BillPhotoShown(View):
    """A photo of the slip, turned upright and without anything but its pixels."""

    document_name = "bill_photo"

    id: int
    sha256: str
    size_bytes: int
    width_px: int
    height_px: int
    added_by: str
    added_at: datetime


def _order(row: BillLine) -> str | None:
    order = row.order_line.order if row.order_line else row.order
    return order.number if order else None


class BillLineShown(View):
    """As it counts: under zero on a credit.

    Freight of the bill is a line of each job. tax: what of the bill's the firm cannot reclaim. order_place: of the
    order line it is matched to. receipt, returned: what a credit settles.
    """

    document_name = "bill_line"

    place: int
    job: Annotated[str | None, Of("job.key")]
    category: Annotated[str, Choice(tuple(Category.values))]
    item: str
    what: str
    quantity: Decimal
    unit_price: Decimal
    amount: MoneyShown
    tax: MoneyShown
    tag: str
    order: Annotated[str | None, Of(_order)]
    order_place: Annotated[int | None, Of("order_line.place")]
    receipt: Annotated[int | None, Of("receipt_id")]
    returned: Annotated[int | None, Of("returned_id")]


class AcceptedDifference(View):
    """A difference somebody stands for."""

    sentence: str
    by: Annotated[str, Of("accepted_by_name")]


def _count_of_photos(row: Bill) -> int:
    return len(row.photos.all())


class BillDraftShown(View):
    """A photographed slip that waits to be entered; no money of it is shown."""

    document_name = "bill_draft"

    id: int
    note: str
    made_by: Annotated[str, Of("made_by_name")]
    made_at: datetime
    photo_count: Annotated[int, Of(_count_of_photos)]


def _taken_back_by(row: Bill) -> int | None:
    return row.reversed_by.pk if hasattr(row, "reversed_by") else None


class BillShown(BillDraftShown):
    """tax, freight, total: as printed; null while nobody entered them.

    takes_back: the bill of a closed month it takes every line back of.
    """

    document_name = "bill"

    version: Annotated[int, "Rises with every change; the ETag holds it."]
    state: Annotated[str, Choice(tuple(STATES))]
    kind: Annotated[str, Choice(tuple(BillKind.values))]
    supplier: Annotated[str | None, Of("supplier_id")]
    shop: str
    number: str
    day: date
    posted_month: Annotated[date | None, Month(), "The month it counts in."]
    due: date | None
    tax: MoneyShown
    freight: MoneyShown
    total: MoneyShown | None
    entered: Annotated[EnteredAndVoided, As(spread=True), Of(itself)]
    takes_back: Annotated[int | None, Of("reverses_id")]
    taken_back_by: Annotated[int | None, Of(_taken_back_by)]
    photos: Annotated[tuple[BillPhotoShown, ...], Of(lambda row: row.photos.all())]
    lines: Annotated[tuple[BillLineShown, ...], Of(lambda row: row.lines.all())]
    accepted: Annotated[tuple[AcceptedDifference, ...], Of(lambda row: row.accepted.all())]


class OpenGoodsShown(View):
    """price, amount: as confirmed or ordered, null where neither says it. came_on: null while it is to come."""

    document_name = "open_goods"

    order: Annotated[str, Of("row.order")]
    place: Annotated[int, Of("line.place")]
    supplier: Annotated[str, Of("line.order.supplier_id")]
    job: Annotated[str, Of("line.job.key")]
    what: Annotated[str, Of("row.what")]
    unit: Annotated[str, Of("line.unit")]
    quantity: Decimal
    price: Annotated[Decimal | None, Figure(), Of("row.asked_price")]
    amount: MoneyShown | None
    came_on: date | None


class GoodsWithoutBill(View):
    """What came and is not billed, or is still to come."""

    goods: Annotated[tuple[OpenGoodsShown, ...], Of(itself)]


SHAPES: dict[str, Schema] = {
    **answer_shapes(BillDraftShown, BillShown, GoodsWithoutBill),
    "BillPage": page("Bill"),
    **request_shapes(NewBill, EnteredDraft, BillVoid),
    "NewBillDraft": given(
        "file: a JPEG or a PNG in Base64 (RFC 4648). note: what it is for.",
        ("request_key", "file"),
        request_key=KEY,
        file=NEEDED_TEXT,
        note={"type": "string", "maxLength": 300},
    ),
}
