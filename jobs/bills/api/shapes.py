"""What is sent and answered of bills and credits."""

from typing import Any

from jobs.bills.models import BillKind, Category
from jobs.bills.services.listing import STATES
from jobs.hours.api.shapes import MONTH, TAG
from quoting.platform.api.parts import (
    DAY,
    FIGURE,
    IDENTITY,
    MOMENT,
    MONEY,
    NEEDED_TEXT,
    TEXT,
    VERSION,
    WHOLE,
    given,
    many,
    one_of,
    or_none,
    page,
    ref,
    thing,
)

Schema = dict[str, Any]
KEY: Schema = {**NEEDED_TEXT, "maxLength": 100, "description": "Your own; sent twice with it, it is kept once."}
PLACE: Schema = {"type": "integer", "minimum": 0, "maximum": 5000, "description": "Of the line on its order."}
SOME: Schema = {"type": ["number", "string"], "minimum": 0, "minLength": 1, "maxLength": 20}
SENTENCE: Schema = {**NEEDED_TEXT, "maxLength": 500}
OWN = one_of(*(value for value in Category.values if value != Category.FREIGHT))
PHOTO = thing(
    "A photo of the slip, turned upright and without anything but its pixels.",
    id=WHOLE,
    sha256=TEXT,
    size_bytes=WHOLE,
    width_px=WHOLE,
    height_px=WHOLE,
    added_by=TEXT,
    added_at=MOMENT,
)
LINE = thing(
    "As it counts: under zero on a credit. Freight of the bill is a line of each job. tax: what of the bill's the firm "
    "cannot reclaim. order_place: of the order line it is matched to. receipt, returned: what a credit settles.",
    place=WHOLE,
    job=or_none(TEXT),
    category=one_of(*Category.values),
    item=TEXT,
    what=TEXT,
    quantity=FIGURE,
    unit_price=FIGURE,
    amount=MONEY,
    tax=MONEY,
    tag=TEXT,
    order=or_none(TEXT),
    order_place=or_none(WHOLE),
    receipt=or_none(WHOLE),
    returned=or_none(WHOLE),
)
DRAFT: Schema = {"id": WHOLE, "note": TEXT, "made_by": TEXT, "made_at": MOMENT, "photo_count": WHOLE}
BILL = thing(
    "tax, freight, total: as printed; null while nobody entered them. takes_back: the bill of a closed month it takes "
    "every line back of.",
    **DRAFT,
    version=VERSION,
    state=one_of(*STATES),
    kind=one_of(*BillKind.values),
    supplier=or_none(TEXT),
    shop=TEXT,
    number=TEXT,
    day=DAY,
    posted_month=or_none(MONTH),
    due=or_none(DAY),
    tax=MONEY,
    freight=MONEY,
    total=or_none(MONEY),
    entered_by=TEXT,
    voided_by=TEXT,
    void_reason=TEXT,
    takes_back=or_none(WHOLE),
    taken_back_by=or_none(WHOLE),
    photos=many(PHOTO),
    lines=many(LINE),
    accepted=many(thing("A difference somebody stands for.", sentence=TEXT, by=TEXT)),
)
NEW_LINE = given(
    "Matched to a line of an order by order and place, or of a job with a category; without either it is for no job. A "
    "credit names the receipt or the return it settles. unit_price or amount, or both where they agree.",
    (),
    order={"type": "string", "maxLength": 20, "example": "O-0007"},
    place=PLACE,
    job={"type": "string", "maxLength": 60, "example": "J-0201"},
    category=OWN,
    item={"type": "string", "maxLength": 200},
    what={"type": "string", "maxLength": 500},
    quantity=SOME,
    unit_price=SOME,
    amount=SOME,
    tag=TAG,
    receipt=IDENTITY,
    returned=IDENTITY,
)
ENTRY: Schema = {
    "kind": one_of(*BillKind.values),
    "supplier": {"type": "string", "maxLength": 60, "description": "Its code; or a shop."},
    "shop": {"type": "string", "maxLength": 200, "description": "Of a small purchase; or a supplier."},
    "number": {**NEEDED_TEXT, "maxLength": 60, "example": "A-771"},
    "day": or_none(DAY),
    "due": or_none(DAY),
    "tax": SOME,
    "freight": SOME,
    "freight_order": {
        "type": "string",
        "maxLength": 20,
        "description": "The order the freight is for; those of the lines where it is not said.",
    },
    "total": {**SOME, "example": "2036.50"},
    "currency": {"type": "string", "maxLength": 10, "description": "The firm's own, or it is refused."},
    "note": {"type": "string", "maxLength": 300},
    "lines": {**many(NEW_LINE), "maxItems": 500},
    "accept": {**many(SENTENCE), "maxItems": 500, "description": "Sentences of differences, as the refusal said them."},
}
NEEDED = ("number", "total")
SHAPES: dict[str, Schema] = {
    "Bill": BILL,
    "BillPage": page("Bill"),
    "NewBill": given("Lines, freight and tax come to the total.", ("request_key", *NEEDED), request_key=KEY, **ENTRY),
    "EnteredDraft": given("As a new bill, under the key of the draft.", NEEDED, **ENTRY),
    "BillVoid": given("", ("reason",), reason={**NEEDED_TEXT, "maxLength": 300, "example": "Entered twice"}),
    "NewBillDraft": given(
        "file: a JPEG or a PNG in Base64 (RFC 4648). note: what it is for.",
        ("request_key", "file"),
        request_key=KEY,
        file=NEEDED_TEXT,
        note={"type": "string", "maxLength": 300},
    ),
    "BillDraft": thing("A photographed slip that waits to be entered.", **DRAFT),
    "GoodsWithoutBill": thing("", goods=many(ref("OpenGoods"))),
    "OpenGoods": thing(
        "price, amount: as confirmed or ordered, null where neither says it. came_on: null while it is to come.",
        order=TEXT,
        place=WHOLE,
        supplier=TEXT,
        job=TEXT,
        what=TEXT,
        unit=TEXT,
        quantity=FIGURE,
        price=or_none(FIGURE),
        amount=or_none(MONEY),
        came_on=or_none(DAY),
    ),
}
