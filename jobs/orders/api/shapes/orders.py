"""Orders being put together and placed, items with their holds, and what is proposed."""

from typing import Any

from jobs.orders.models import OrderState
from quoting.platform.api.parts import (
    DAY,
    FIGURE,
    FLAG,
    MOMENT,
    MONEY,
    NEEDED_TEXT,
    TEXT,
    VERSION,
    WENT_BY,
    WHOLE,
    given,
    many,
    one_of,
    or_none,
    page,
    ref,
    thing,
)
from quoting.platform.models.mail_ways import MailWay

Schema = dict[str, Any]
KEY: Schema = {**NEEDED_TEXT, "maxLength": 100, "description": "Your own; sent twice with it, it is kept once."}
LINE: Schema = {"place": WHOLE, "job": TEXT, "material": TEXT, "what": TEXT, "quantity": FIGURE, "unit": TEXT}
PLACE: Schema = {"type": "integer", "minimum": 0, "maximum": 5000, "description": "Of the line on its order."}
ROLES = ("estimator", "office", "lead", "owner")
FREE: Schema = {"type": "string", "maxLength": 2000}
HEAD: Schema = {
    "number": TEXT,
    "supplier": TEXT,
    "state": one_of(*OrderState.values),
    "version": VERSION,
    "placed_on": or_none(DAY),
    "counted_from": or_none(DAY),
    "placed_by": TEXT,
}
ORDER_LINE = thing(
    "One item of one job. mark: over all it states. extra: how much of the quantity is more than the job wants. "
    "replaces: the order whose goods came damaged or wrong.",
    **LINE,
    mark=TEXT,
    extra=FIGURE,
    extra_reason=TEXT,
    rush=FLAG,
    amount=or_none(MONEY),
    need_by=or_none(DAY),
    order_by=or_none(DAY),
    quoted_workdays=or_none(WHOLE),
    quoted_dock_on=or_none(DAY),
    released_by=TEXT,
    replaces=TEXT,
    choices=many(
        thing(
            "Pieces that are alike, of a line that orders goods again: change the order to say how many of each.",
            wall=TEXT,
            run=TEXT,
            pack=TEXT,
            length_mm=or_none({"type": "number"}),
            radii_mm=many({"type": "number"}),
            most=WHOLE,
            chosen=WHOLE,
        )
    ),
)
ORDER_MAIL = thing(
    f"An error says why it was not sent, or that nobody knows. {WENT_BY}",
    to_address=TEXT,
    asked_at=MOMENT,
    sent_at=or_none(MOMENT),
    went_by=one_of("", *MailWay.values),
    error=TEXT,
)
CHOSEN = given(
    "counts: of each of the line's choices, in their order.", ("place", "counts"), place=PLACE, counts=many(WHOLE)
)
MORE: Schema = {"extra": {**or_none(FIGURE), "description": "More than the job wants."}, "reason": FREE}
ITEM: Schema = {
    "job": TEXT,
    "material": TEXT,
    "name": TEXT,
    "quantity": or_none(FIGURE),
    "unit": TEXT,
    "left": or_none(FIGURE),
    "so_far": TEXT,
    "amount": or_none(MONEY),
    "need_by": or_none(DAY),
    "order_by": or_none(DAY),
    "mark": TEXT,
    "missing": many(TEXT),
    "holds": many(thing("", key=TEXT, sentence=TEXT, next=one_of(*ROLES), may_override=FLAG)),
    "needs_release": FLAG,
    "released_by": TEXT,
    "signed": FLAG,
    "asks_reason": {**FLAG, "description": "Stock of a job that is not signed: placing its order asks why."},
    "ready": {**FLAG, "description": "Whether nothing stands in the way of ordering it."},
}
SAMPLE = thing(
    "A sample or a choice an item waits for; agreed_on is null until somebody agreed.",
    id=WHOLE,
    material=TEXT,
    what=TEXT,
    asked_on=or_none(DAY),
    agreed_on=or_none(DAY),
    agreed_by=TEXT,
    entered_by=TEXT,
)
CHOICE = thing(
    "A way of ordering it. extra: fees; remake: what one would cost on average; each null where it is not known.",
    way=one_of("now", "wait", "rush"),
    order_day=or_none(DAY),
    usable=or_none(DAY),
    days_in_hand=or_none(WHOLE),
    late_workdays=or_none(WHOLE),
    fit=one_of("fits", "may_miss", "will_miss", "not_known"),
    risk=TEXT,
    extra=or_none(MONEY),
    remake=or_none(MONEY),
    gaps=many(TEXT),
)
REMEDY = thing(
    "late_workdays: what stays late. cost: null where nobody stated it; gaps say what is missing.",
    kind=one_of("rush", "source", "part", "fetch", "cushion", "resequence", "crew", "promise"),
    sentence=TEXT,
    usable=or_none(DAY),
    late_workdays=or_none(WHOLE),
    cost=or_none(MONEY),
    client_agrees=FLAG,
    gaps=many(TEXT),
)
SUMS: Schema = {
    "goods": or_none(MONEY),
    "unpriced": {**many(TEXT), "description": "What has no price, by name; no sum counts it."},
    "freight": {**or_none(MONEY), "description": "Null where the supplier's terms or every price are not known."},
    "top_up": {**or_none(MONEY), "description": "What is missing to the supplier's least order."},
    "early_goods": {**MONEY, "description": "What is bought before its own order-by day costs."},
    "early_workdays": {**WHOLE, "description": "Working days before its own day, of the item bought earliest."},
    "saved_freight": {**or_none(MONEY), "description": "Against an order for each order-by day."},
    "saved_top_up": or_none(MONEY),
}
SHAPES: Schema = {
    "ListedOrder": thing(
        "goods: of the lines with a price. lines_here: all of them came, or no more is expected; lines_short: came "
        "damaged or wrong in part. next_on: when the next of it is expected. late_workdays: after its day on site. "
        "states: how it stands, in words. next_act: what is to be done first; null once nothing is.",
        **HEAD,
        jobs=many(thing("", key=TEXT, signed=FLAG)),
        goods=or_none(MONEY),
        unpriced_lines=WHOLE,
        lines=WHOLE,
        lines_here=WHOLE,
        lines_short=WHOLE,
        next_on=or_none(DAY),
        overdue=FLAG,
        late_workdays=WHOLE,
        states=many(TEXT),
        next_act=or_none(
            thing(
                "by: the last day for it. in_hand_workdays: to that day, negative once it is past.",
                words=TEXT,
                by=or_none(DAY),
                in_hand_workdays=or_none(WHOLE),
            )
        ),
    ),
    "OrderPage": page("ListedOrder"),
    "Order": thing(
        "stops: why it cannot be placed as things stand; empty once it is. unsigned: stock of jobs that are not "
        "signed, and what is ordered again for them; placing asks unsigned_reason.",
        **HEAD,
        note=TEXT,
        deliver_to=one_of("dock", "site"),
        freight=or_none(MONEY),
        rush_fee=or_none(MONEY),
        lines=many(ORDER_LINE),
        stops=many(TEXT),
        unsigned=many(TEXT),
        mails=many(ORDER_MAIL),
    ),
    "NewOrder": given(
        "items: of one supplier, each job by its key; with a reason more of one than its job wants.",
        ("request_key", "supplier", "items"),
        request_key=KEY,
        supplier=NEEDED_TEXT,
        items={
            **many(given("", ("job", "material"), job=NEEDED_TEXT, material=NEEDED_TEXT, **MORE)),
            "minItems": 1,
            "maxItems": 200,
        },
    ),
    "OrderChange": given(
        "What is not said stays. supplier: another one who offers all that is on it; the jobs then buy it there. "
        "rush: places of the lines to be rushed, all others not. take_off: place of a line.",
        (),
        note=or_none(FREE),
        supplier=or_none(FREE),
        deliver_to=or_none(one_of("dock", "site")),
        rush={**many(PLACE), "maxItems": 200},
        pieces={**many(CHOSEN), "maxItems": 200},
        more={**many(given("No extra: no more.", ("place",), place=PLACE, **MORE)), "maxItems": 200},
        take_off=or_none(PLACE),
        up_to_date=FLAG,
    ),
    "Placing": given(
        "to_address, message: for an order by mail. unsigned_reason: why goods of unsigned jobs are ordered.",
        ("way", "request_key"),
        way=one_of("mail", "other"),
        request_key=KEY,
        to_address={"type": "string", "maxLength": 254},
        message={"type": "string", "maxLength": 5000},
        unsigned_reason=FREE,
    ),
    "Proposal": thing(
        "buying_window_workdays: how far ahead of their own day goods are bought with others; null while not stated. "
        "ready: the sums of the items that nothing stands in the way of; null where there is none.",
        supplier=TEXT,
        buying_window_workdays=or_none(WHOLE),
        orders=many(
            thing(
                "",
                order_by=DAY,
                signed=FLAG,
                items=many(ref("OrderItem")),
                **SUMS,
                ready=or_none(thing("", **SUMS)),
            )
        ),
        undated=many(ref("OrderItem")),
        notes=many(TEXT),
        jobs_left_out=WHOLE,
    ),
    "OrderItem": thing("One material of one job as an order would state it.", **ITEM),
    "OrderItems": thing(
        "",
        items=many(
            thing(
                "",
                **ITEM,
                choices=many(CHOICE),
                best=or_none(one_of("now", "wait", "rush")),
                remedies=many(REMEDY),
            )
        ),
        trouble=TEXT,
    ),
    "Sample": SAMPLE,
    "Samples": thing("", samples=many(ref("Sample"))),
    "NewSample": given(
        "what: profile, size, grade, colour.",
        ("material", "what"),
        material={**NEEDED_TEXT, "maxLength": 60},
        what={**NEEDED_TEXT, "maxLength": 300},
    ),
    "Agreement": given("", ("agreed_by",), agreed_by={**NEEDED_TEXT, "maxLength": 200}),
    "NewRelease": given(
        "mark: of the statement that was read. reason: why holds that may be set aside are.",
        ("mark",),
        mark={**NEEDED_TEXT, "maxLength": 64},
        reason=FREE,
    ),
}
