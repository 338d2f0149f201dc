"""Shapes of the owner's month."""

from typing import Any

from quoting.core.money.bridge import CAUSES
from quoting.month.models.closed_months import MAX_SENTENCE
from quoting.platform.api.parts import (
    DAY,
    FIGURE,
    MOMENT,
    MONEY,
    NEEDED_TEXT,
    ONE_LINE,
    TEXT,
    WHOLE,
    given,
    many,
    one_of,
    or_none,
    thing,
)
from quoting.quotes.api.shapes.quote import SHA256

MONTH = {"type": "string", "pattern": r"^20[0-9]{2}-(0[1-9]|1[0-2])$", "description": "Such as 2027-05."}
NUMBER_OR_NONE = or_none(WHOLE)
OF_A_JOB = {"job": TEXT, "id": WHOLE, "title": TEXT, "client": TEXT}
NEWS = thing(
    "A row that came to something else than was told. `corrects`: what it corrects, in words.",
    row=TEXT,
    what=TEXT,
    was=MONEY,
    now=MONEY,
    change=MONEY,
    corrects=TEXT,
)
JOB = thing(
    "`said`: the owner's own sentence. `cost`: at completion. `rows`: they add up to `to_date`.",
    id=WHOLE,
    key=TEXT,
    title=TEXT,
    client=TEXT,
    done_on=or_none(DAY),
    state=TEXT,
    next=TEXT,
    next_by=or_none(DAY),
    said=TEXT,
    price=MONEY,
    quoted=MONEY,
    contract=MONEY,
    agreed=MONEY,
    cost=MONEY,
    to_date=MONEY,
    causes=many(thing("", cause=one_of(*CAUSES), amount=MONEY, points=MONEY, why=TEXT)),
    rows=many(thing("", row=TEXT, what=TEXT, amount=MONEY, day=or_none(DAY))),
    gaps=many(TEXT),
)
SHAPES: dict[str, Any] = {
    "Month": thing(
        "`until`: the last day that counts. `later`: what counts in it for earlier, closed months.",
        month=MONTH,
        closed=or_none(thing("", at=MOMENT, by=TEXT, sha256=SHA256)),
        known_now=many(
            thing(
                "A job of which something came since the close.",
                job=TEXT,
                to_date=MONEY,
                cost=MONEY,
                contract=MONEY,
                rows=many(NEWS),
            )
        ),
        currency=TEXT,
        until=DAY,
        made=TEXT,
        lost=TEXT,
        jobs=many(JOB),
        to_collect=many(thing("", job=TEXT, id=WHOLE, client=TEXT, request=WHOLE, what=TEXT, open=MONEY, due=DAY)),
        quotes_out=many(thing("", **OF_A_JOB, sent_on=DAY, valid_until=DAY, value=MONEY, opened=TEXT)),
        missing=many(thing("", what=TEXT, amount=or_none(MONEY), page=TEXT, about=NUMBER_OR_NONE, day=or_none(DAY))),
        unsigned=many(thing("", **OF_A_JOB, note=WHOLE, what=TEXT, price=MONEY)),
        unbilled=many(thing("", **OF_A_JOB, unbilled=MONEY)),
        late_orders=many(thing("", **OF_A_JOB, order=TEXT, what=TEXT, expected_on=DAY)),
        suppliers=many(thing("", supplier=TEXT, in_time=WHOLE, of=WHOLE)),
        standards=many(thing("", name=TEXT, value=FIGURE, source=TEXT)),
        overhead=thing(
            "Null where it is not known: no rule, or nothing entered.",
            minutes=WHOLE,
            per_hour=or_none(FIGURE),
            share=or_none(FIGURE),
            recovered=or_none(MONEY),
            actual=or_none(MONEY),
            short=or_none(MONEY),
        ),
        cash=thing("Requests due by then, and bills due from `until` on.", until=DAY, coming=MONEY, going=MONEY),
        hours=many(thing("Work on jobs by step.", step=TEXT, minutes=WHOLE)),
        counted={
            "type": "object",
            "description": "Rows and sums of each file for the bookkeeper.",
            "additionalProperties": {"type": "object", "additionalProperties": {"anyOf": [WHOLE, FIGURE]}},
        },
        later=many(thing("", month=MONTH, id=NUMBER_OR_NONE, job=TEXT, title=TEXT, change=MONEY, rows=many(NEWS))),
    ),
    "MonthSentence": thing("Empty while nothing is said.", text=TEXT, by=TEXT),
    "NewMonthSentence": given("", ("text",), text={**NEEDED_TEXT, "maxLength": MAX_SENTENCE}),
    "OverheadActual": thing(
        "`month`: the month it counts in.",
        id=WHOLE,
        what=TEXT,
        amount=MONEY,
        day=DAY,
        month=MONTH,
        bill=TEXT,
        entered_by=TEXT,
        voided_by=TEXT,
        void_reason=TEXT,
    ),
    "NewOverhead": given(
        "Less than nought came back. `day` is today when it is not given.",
        ("request_key", "what", "amount"),
        request_key={**NEEDED_TEXT, "maxLength": 100},
        what=ONE_LINE,
        amount=FIGURE,
        day=or_none(DAY),
        bill={"type": "string", "maxLength": 100},
    ),
}
SHAPES["Overheads"] = thing("", overhead=many(SHAPES["OverheadActual"]))
