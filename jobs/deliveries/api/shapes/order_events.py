"""What becomes of a placed order: deliveries, claims, confirmations, promises, returns; payments and substitutions."""

from typing import Any

from jobs.core.ordering.confirmation import FACES
from jobs.core.ordering.deviations import KINDS
from jobs.core.ordering.line_pieces import PIECE_STATES
from jobs.deliveries.models import ClaimOutcome, Settlement
from jobs.deliveries.services.claim_letters import ASKS
from jobs.orders.api.shapes.orders import KEY, LINE, ORDER_MAIL, PLACE, REMEDY
from quoting.platform.api.parts import (
    DAY,
    FIGURE,
    FLAG,
    MOMENT,
    MONEY,
    NEEDED_TEXT,
    NUMBER,
    ONE_LINE,
    REASON,
    TEXT,
    WHOLE,
    given,
    many,
    one_of,
    or_none,
    ref,
    thing,
)

Schema = dict[str, Any]
NEEDED_REASON: Schema = {**REASON, "pattern": r"\S"}
SOME: Schema = {"type": ["number", "string"], "minimum": 0, "minLength": 1, "maxLength": 20}
STANDINGS = ("nothing", "part", "complete", "excess", "short", "ended")
SUPPLIER = ("supplier",)
CAME: Schema = {"good": FIGURE, "damaged": FIGURE, "wrong": FIGURE}
STATE: Schema = {"open": FIGURE, "short": FIGURE, "excess": FIGURE, **CAME, "standing": one_of(*STANDINGS)}
PIECE_NUMBER: Schema = {"type": "integer", "minimum": 1, "maximum": 10000, "description": "Of the line, from 1."}
CURVE = thing(
    "What a piece follows on one piece of the wall, from 1: the radius at its back, 0 on a straight, over a length.",
    piece=WHOLE,
    side=TEXT,
    radius_mm=NUMBER,
    length_mm=NUMBER,
)
PIECE = thing(
    "One piece of an order line. place: in its run, from 1 at the start of the wall. curves: empty where that was not "
    "stated when it was ordered. state: as it came last, empty while it has not come.",
    number=WHOLE,
    wall=TEXT,
    run=TEXT,
    place=WHOLE,
    length_mm=NUMBER,
    curves=many(CURVE),
    state=one_of("", *PIECE_STATES),
)
PIECES_CAME: Schema = {
    **many(given("", ("number", "state"), number=PIECE_NUMBER, state=one_of(*PIECE_STATES))),
    "maxItems": 10000,
}
NEED_CHECK = thing(
    "Null where something is missing; gaps then say what.",
    ordered_on=or_none(DAY),
    usable=or_none(DAY),
    need_by=or_none(DAY),
    order_by=or_none(DAY),
    late_workdays=or_none(WHOLE),
    gaps=many(TEXT),
)
DEVIATION = thing(
    "mark: names the fact for as long as it stands. since, usable, late_workdays, extra: null where not known.",
    order=TEXT,
    job=TEXT,
    place=WHOLE,
    what=TEXT,
    kind=one_of(*KINDS),
    mark=TEXT,
    sentence=TEXT,
    action=TEXT,
    who=one_of("office", "owner", "estimator", "lead"),
    since=or_none(DAY),
    usable=or_none(DAY),
    late_workdays=or_none(WHOLE),
    extra=or_none(MONEY),
)
RECEIPT = thing(
    "What came of one line at once. The supplier's working days from the order: quoted, and as it was.",
    ("claim_by", "claimed_on", "claimed_by", "outcome", "outcome_on", "outcome_note", "credit"),
    id=WHOLE,
    order=TEXT,
    **LINE,
    **CAME,
    pieces=many(thing("How one piece of the line came.", number=WHOLE, state=one_of(*PIECE_STATES))),
    note=TEXT,
    quoted_workdays=or_none(WHOLE),
    promised_on=or_none(DAY),
    surplus={**FIGURE, "description": "Of the line, come good beyond what the job wants."},
    actual_workdays=WHOLE,
    claim_by=or_none(DAY),
    claimed_on=or_none(DAY),
    claimed_by=TEXT,
    outcome=one_of("", *ClaimOutcome.values),
    outcome_on=or_none(DAY),
    outcome_note=TEXT,
    credit=or_none(MONEY),
    photo_count=WHOLE,
)
PHOTO = thing(
    "A photo of what came, turned upright and without anything but its pixels.",
    id=WHOLE,
    caption=TEXT,
    sha256=TEXT,
    size_bytes=WHOLE,
    width_px=WHOLE,
    height_px=WHOLE,
    added_by=TEXT,
    added_at=MOMENT,
)
DUE_LINE = thing(
    "pieces: one by one, none of goods that are counted. pieces_mm: their lengths. places: wall and run they go to.",
    **LINE,
    **STATE,
    expected_on=or_none(DAY),
    pieces=many(PIECE),
    pieces_mm=many(NUMBER),
    places=many(TEXT),
)
CONFIRMED = thing(
    "What was confirmed of a line last, beside what was ordered.",
    id=WHOLE,
    place=WHOLE,
    what=TEXT,
    differences=many(thing("", compared=TEXT, asked=TEXT, confirmed=TEXT, sentence=TEXT)),
    not_said=many(TEXT),
    is_open=FLAG,
    settled_by=TEXT,
    settled_reason=TEXT,
)
PROMISE = thing("", promised_on=DAY, reason=TEXT, told_by=TEXT, told_on=DAY, entered_by=TEXT, entered_at=MOMENT)
RETURNED = thing(
    "",
    id=WHOLE,
    order=TEXT,
    place=WHOLE,
    what=TEXT,
    quantity=FIGURE,
    unit=TEXT,
    sent_on=DAY,
    reason=TEXT,
    credit_expected=or_none(MONEY),
    credited=or_none(MONEY),
    credited_on=or_none(DAY),
)
PAYMENT = thing(
    "Undone ones count for nothing.",
    id=WHOLE,
    amount=MONEY,
    received_on=DAY,
    what_for=TEXT,
    entered_by=TEXT,
    undone_by=TEXT,
    undone_reason=TEXT,
)
STAND_IN = thing(
    "price: the least of a unit today. tightest_radius: asked of it; least_radius: its limit there; both null where "
    "nothing is bent. lead_workdays: as planned, else as quoted. Null where not known.",
    material=TEXT,
    name=TEXT,
    price=or_none(FIGURE),
    unit=TEXT,
    tightest_radius=or_none(ref("Length")),
    least_radius=or_none(ref("Length")),
    lead_workdays=or_none(WHOLE),
)
SUBSTITUTION = thing(
    "One material in the place of another. The walls are changed by hand once its note is signed.",
    id=WHOLE,
    order=or_none(TEXT),
    place=or_none(WHOLE),
    material=TEXT,
    instead=TEXT,
    reason=TEXT,
    draft=or_none(WHOLE),
    note=or_none(WHOLE),
    standing=one_of("priced", "issued", "signed", "declined", "withdrawn", "dropped"),
    made_by=TEXT,
    need=NEED_CHECK,
)
SHAPES: Schema = {
    "DueDeliveries": thing(
        "What is on order and has not come, the first due first.",
        orders=many(
            thing(
                "deliveries: how many were checked in; a new one names it as `seen_deliveries`.",
                SUPPLIER,
                number=TEXT,
                supplier=TEXT,
                placed_on=DAY,
                expected_on=or_none(DAY),
                deliveries=WHOLE,
                lines=many(DUE_LINE),
            )
        ),
    ),
    "Receipt": RECEIPT,
    "Delivery": thing(
        "", (), id=WHOLE, order=TEXT, received_on=DAY, note=TEXT, entered_by=TEXT, lines=many(ref("Receipt"))
    ),
    "Deliveries": thing("", deliveries=many(ref("Delivery"))),
    "NewDelivery": given(
        "What came, by line: by count, or each piece by its number; where all that was to come is good, its count will "
        "do. seen_deliveries: how many of the order you know of, so that two people who check in the "
        "same goods are told of one another.",
        ("request_key", "seen_deliveries", "lines"),
        request_key=KEY,
        seen_deliveries={"type": "integer", "minimum": 0, "maximum": 10000},
        received_on=or_none(DAY),
        note=REASON,
        lines={
            **many(
                given(
                    "more: good pieces beyond those of the line.",
                    ("place",),
                    place=PLACE,
                    **dict.fromkeys((*PIECE_STATES, "more"), SOME),
                    pieces=PIECES_CAME,
                    note=REASON,
                )
            ),
            "minItems": 1,
            "maxItems": 500,
        },
    ),
    "Correction": given(
        "seen: good, damaged and wrong as they stood when you read them. note: why it is corrected.",
        ("note", "seen"),
        good=SOME,
        damaged=SOME,
        wrong=SOME,
        more=SOME,
        pieces=PIECES_CAME,
        note=NEEDED_REASON,
        seen={**many(SOME), "minItems": 3, "maxItems": 3},
    ),
    "ReceiptPhoto": PHOTO,
    "ReceiptPhotos": thing("", photos=many(ref("ReceiptPhoto"))),
    "NewReceiptPhoto": given(
        "file: a JPEG or a PNG in Base64 (RFC 4648). caption: what is to be seen; the note of the line where it is not "
        "said.",
        ("file",),
        file=NEEDED_TEXT,
        caption={"type": "string", "maxLength": 200},
    ),
    "Claims": thing(
        "By the working days left; null where the supplier never said how long it takes a claim.",
        claims=many(thing("", receipt=ref("Receipt"), supplier=TEXT, days_left=or_none(WHOLE))),
    ),
    "NewClaim": given("The supplier was told; today where no day is said.", (), claimed_on=or_none(DAY)),
    "NewClaimLetter": given("asks: what we ask of the supplier.", ("asks",), asks=one_of(*ASKS)),
    "ClaimMail": ORDER_MAIL,
    "ClaimMails": thing("", mails=many(ref("ClaimMail"))),
    "NewClaimMail": given(
        "",
        ("request_key", "asks", "to_address"),
        request_key=KEY,
        asks=one_of(*ASKS),
        to_address={**NEEDED_TEXT, "maxLength": 254},
        message={"type": "string", "maxLength": 5000},
    ),
    "ClaimOutcome": given(
        "",
        ("outcome",),
        outcome=one_of(*ClaimOutcome.values),
        outcome_on=or_none(DAY),
        note=REASON,
        credit=ref("Money"),
    ),
    "Replacement": thing(
        "left: what came wrong or damaged and is not ordered again; pieces: their numbers, none of goods that are "
        "counted. need: what ordering it today would mean.",
        left=FIGURE,
        pieces=many(WHOLE),
        need=NEED_CHECK,
        orders=many(TEXT),
    ),
    "NewReplacement": given(
        "All that is left where neither a quantity nor numbers of pieces are said.",
        ("request_key",),
        request_key=KEY,
        quantity=SOME,
        pieces={**many(PIECE_NUMBER), "maxItems": 10000},
    ),
    "OrderNamed": thing("", order=TEXT),
    "Confirmations": thing("", confirmations=WHOLE, lines=many(CONFIRMED)),
    "NewConfirmation": given(
        "What the supplier confirmed; what it does not say is left out. A day becomes a promise.",
        ("request_key", "lines"),
        request_key=KEY,
        reference={"type": "string", "maxLength": 100},
        received_on=or_none(DAY),
        note=REASON,
        lines={
            **many(
                given(
                    "",
                    ("place",),
                    place=PLACE,
                    quantity=SOME,
                    lengths={**many(ref("LengthGiven")), "maxItems": 500},
                    radii={**many(ref("LengthGiven")), "maxItems": 500},
                    radius_face=one_of(*FACES),
                    amount=ref("Money"),
                    promised_on=or_none(DAY),
                )
            ),
            "minItems": 1,
            "maxItems": 500,
        },
    ),
    "Deviations": thing(
        "bad: lines whose days nobody can count, in sentences.", deviations=many(DEVIATION), bad=many(TEXT)
    ),
    "OrderDeviations": thing(
        "",
        deviations=many(DEVIATION),
        remedies=many(thing("", job=TEXT, material=TEXT, remedies=many(REMEDY))),
    ),
    "NewSettlement": given(
        "mark: of the deviation. how: asked_again keeps it silent for two working days. An accepted one says why.",
        ("mark", "how"),
        mark={**NEEDED_TEXT, "maxLength": 200},
        how=one_of(*Settlement.values),
        reason={**REASON, "maxLength": 2000},
    ),
    "Reason": given("", ("reason",), reason=NEEDED_REASON),
    "Promises": thing("The last stands.", promises=many(PROMISE)),
    "NewPromise": given(
        "A day that moves says why.",
        ("promised_on",),
        promised_on=DAY,
        reason=REASON,
        told_by={"type": "string", "maxLength": 200},
        told_on=or_none(DAY),
    ),
    "NewEnd": given("No more of the line is expected.", ("reason",), reason=NEEDED_REASON, ended_on=or_none(DAY)),
    "NewCallOff": given("", ("by", "reason"), by=one_of("supplier", "us"), reason=NEEDED_REASON),
    "OrderEvents": thing(
        "Where an order stands: its lines with what came of them.",
        number=TEXT,
        state=one_of("placed", "called_off"),
        lines=many(thing("", **LINE, **STATE, promised_on=or_none(DAY), ended_on=or_none(DAY), ended_reason=TEXT)),
    ),
    "Returned": RETURNED,
    "ReturnedList": thing("", returns=many(ref("Returned"))),
    "NewReturn": given(
        "",
        ("request_key", "quantity", "reason"),
        request_key=KEY,
        quantity=SOME,
        sent_on=or_none(DAY),
        reason=NEEDED_REASON,
        credit_expected=ref("Money"),
    ),
    "NewCredit": given("", ("credited",), credited=ref("Money"), credited_on=or_none(DAY)),
    "Payment": PAYMENT,
    "Payments": thing(
        "Money received of the client. The deposit is null while no quote is accepted.",
        payments=many(ref("Payment")),
        received=MONEY,
        deposit=or_none(thing("", due=MONEY, received=MONEY, open=MONEY)),
    ),
    "NewPayment": given(
        "For the deposit where nothing else is said. paid_ahead: of what is more than is asked for.",
        ("request_key", "amount"),
        request_key=KEY,
        amount=ref("Money"),
        paid_ahead=FLAG,
        received_on=or_none(DAY),
        what_for={"type": "string", "maxLength": 200},
    ),
    "Substitution": SUBSTITUTION,
    "Substitutions": thing("", substitutions=many(ref("Substitution"))),
    "StandIns": thing(
        "left_out: of the same kind and not offered, with the reason.",
        material=TEXT,
        offered=many(STAND_IN),
        left_out=many(thing("", material=TEXT, why=TEXT)),
    ),
    "NewSubstitution": given(
        "order and place: of the line it is for, where it was ordered already; else material.",
        ("instead", "reason"),
        material={"type": "string", "maxLength": 60},
        order={"type": "string", "maxLength": 20},
        place=PLACE,
        instead={**ONE_LINE, "maxLength": 60},
        reason=NEEDED_REASON,
    ),
}
