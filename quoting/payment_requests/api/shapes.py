"""What is asked for, paid and held, and how it is entered."""

from typing import Any

from quoting.core.money.settling import STATE_WORDS
from quoting.payment_requests.models.terms import MAX_DAYS_TO_PAY, MAX_HOW_TO_PAY
from quoting.platform.api.parts import (
    DAY,
    FIGURE,
    FLAG,
    MOMENT,
    MONEY,
    NEEDED_TEXT,
    ONE_LINE,
    TEXT,
    WENT_BY,
    WHOLE,
    given,
    many,
    one_of,
    or_none,
    ref,
    thing,
)
from quoting.platform.errands.models import ErrandState
from quoting.platform.models.mail_ways import MailWay

Schema = dict[str, Any]
KEY: Schema = {**NEEDED_TEXT, "maxLength": 100, "description": "Your own; sent twice with it, it is kept once."}
PART: Schema = {
    "type": "string",
    "pattern": r"\S",
    "maxLength": 40,
    "description": "deposit, instalment 0 and on, notes or release; as the parts of the job say.",
}
WHY: Schema = {**NEEDED_TEXT, "maxLength": 300}
PARTS = thing("", price=MONEY, tax=MONEY, total=MONEY)
REQUEST = thing(
    "Frozen when it was issued. asked, noted, credited, held: of the part, of change notes, of the deposit, held back; "
    "the last two are taken off. to_pay is under 0 of a credit. credits: the request it takes back; credited_by: what "
    "takes this back.",
    number=WHOLE,
    part=TEXT,
    what=TEXT,
    day=DAY,
    event_on=DAY,
    due=DAY,
    currency=TEXT,
    asked=PARTS,
    noted=PARTS,
    notes=many(WHOLE),
    credited=PARTS,
    held=PARTS,
    to_pay=PARTS,
    open=MONEY,
    paid=MONEY,
    state=one_of(*STATE_WORDS, "credit"),
    credits=or_none(WHOLE),
    credited_by=or_none(WHOLE),
    reason=TEXT,
    issued_by=TEXT,
    sha256=TEXT,
)
MAIL = thing(
    f"A mail to the client: asked for, and sent at `sent_at`. {WENT_BY}",
    to_address=TEXT,
    message=TEXT,
    asked_at=MOMENT,
    asked_by=TEXT,
    sent_at=or_none(MOMENT),
    went_by=one_of("", *MailWay.values),
    state=one_of("none", *ErrandState.values),
    error=TEXT,
)
EVENT = thing(
    "Marked as happened; taken back, it counts for nothing.",
    id=WHOLE,
    part=TEXT,
    event=TEXT,
    happened_on=DAY,
    marked_by=TEXT,
    taken_back_by=TEXT,
    reason=TEXT,
)
SHAPES: Schema = {
    "PaymentRequest": REQUEST,
    "JobRequests": thing(
        "What was asked for of a job, oldest first, and what can be. A part without event_on waits for its event; "
        "to_pay is null where `why` stands in the way. ahead: came in, and nothing asks for it.",
        requests=many(ref("PaymentRequest")),
        parts=many(
            thing(
                "", part=TEXT, what=TEXT, event_on=or_none(DAY), request=or_none(WHOLE), to_pay=or_none(PARTS), why=TEXT
            )
        ),
        events=many(EVENT),
        requested=PARTS,
        billed={**MONEY, "description": "Price parts requested, what is held included."},
        held=PARTS,
        paid=MONEY,
        open=MONEY,
        overdue=MONEY,
        ahead=MONEY,
    ),
    "NewRequest": given(
        "due: by the firm's terms where it is not said. shown: the sum to pay as it was shown; no other is issued.",
        ("request_key", "part"),
        request_key=KEY,
        part=PART,
        due=or_none(DAY),
        shown=or_none(MONEY),
    )
    | {"example": {"request_key": "boards-up", "part": "instalment 1", "due": "2027-06-04", "shown": "8864.59"}},
    "NewCreditOfRequest": given(
        "The request is taken back whole.", ("request_key", "reason"), request_key=KEY, reason=WHY
    ),
    "EventMark": EVENT,
    "NewEventMark": given(
        "The day a part's event happened; today where it is not said.",
        ("request_key", "part"),
        request_key=KEY,
        part=PART,
        happened_on=or_none(DAY),
    ),
    "WhyTakenBack": given("", ("reason",), reason=WHY),
    "RequestMail": MAIL,
    "RequestMails": thing("", mails=many(MAIL)),
    "Retention": thing(
        "What the client holds back of each request until an event; share 0 holds nothing. Null before it is set.",
        share=or_none(FIGURE),
        event=TEXT,
        holds_tax=FLAG,
    ),
    "NewRetention": given(
        "Set before the first request. holds_tax: else the tax is due at once.",
        ("share", "event"),
        share={"type": ["string", "number"], "minimum": 0, "maximum": 0.5, "description": "0.05 is 5 %."},
        event=ONE_LINE,
        holds_tax=FLAG,
    ),
    "RequestTerms": thing(
        "What each request prints; how_to_pay is empty before the owner has entered it, and nothing is issued.",
        tax_number=TEXT,
        days_to_pay=WHOLE,
        how_to_pay=TEXT,
    ),
    "NewRequestTerms": given(
        "Printed on each request issued from then on.",
        ("days_to_pay", "how_to_pay"),
        tax_number={"type": "string", "maxLength": 60},
        days_to_pay={"type": "integer", "minimum": 0, "maximum": MAX_DAYS_TO_PAY},
        how_to_pay={**NEEDED_TEXT, "maxLength": MAX_HOW_TO_PAY},
    ),
    "Statement": thing(
        "Requests and payments of all jobs of a client by day; balance: of the job, after the entry.",
        client=TEXT,
        day=DAY,
        open=MONEY,
        overdue=MONEY,
        ahead=MONEY,
        jobs=many(
            thing(
                "",
                job=TEXT,
                open=MONEY,
                held=MONEY,
                entries=many(
                    thing(
                        "",
                        day=DAY,
                        what=TEXT,
                        asked=or_none(MONEY),
                        paid=or_none(MONEY),
                        balance=MONEY,
                        due=or_none(DAY),
                    )
                ),
            )
        ),
    ),
}
