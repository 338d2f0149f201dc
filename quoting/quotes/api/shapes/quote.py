from typing import Any

from quoting.core.quotes.quote_document import QuotedShown, UnpricedShown
from quoting.platform.api.declared import answer_shapes
from quoting.platform.api.parts import (
    DAY,
    FIGURE,
    MOMENT,
    MONEY,
    NEEDED_TEXT,
    TEXT,
    WHOLE,
    many,
    one_of,
    or_none,
    ref,
    thing,
)
from quoting.platform.errands.models import ErrandState
from quoting.quotes.models import AnswerKind, AnswerWay, RevisionState, TakeBackWay

Schema = dict[str, Any]
SHA256: Schema = {"type": "string", "pattern": "^[0-9a-f]{64}$"}

ANSWER = thing(
    "What the client answered.",
    answer=one_of(*AnswerKind.values),
    way=one_of(*AnswerWay.values),
    name=TEXT,
    reason=TEXT,
    at=MOMENT,
    on=DAY,
    options=many(TEXT),
    currency=TEXT,
    price=MONEY,
    tax=MONEY,
    total=MONEY,
    paper_sha256=or_none(SHA256),
    cancel_until=or_none(DAY),
    taken_back=or_none(
        thing("", name=TEXT, on=DAY, way=one_of(*TakeBackWay.values), reason=TEXT, at=MOMENT, entered_by=TEXT)
    ),
)
REVISION: Schema = {
    "number": TEXT,
    "revision": WHOLE,
    "state": one_of(*RevisionState.values),
    "state_at": MOMENT,
    "state_by": TEXT,
    "state_reason": TEXT,
    "issued_at": MOMENT,
    "issued_by": TEXT,
    "quoted_on": DAY,
    "valid_until": DAY,
    "currency": TEXT,
    "price": MONEY,
    "tax": MONEY,
    "total": MONEY,
    "cost": MONEY,
    "margin": FIGURE,
    "rules": TEXT,
    "answer": or_none(ANSWER),
}
SHAPES: Schema = {
    **answer_shapes(QuotedShown, UnpricedShown),
    "Quote": {"anyOf": [ref("QuotedShown"), ref("UnpricedShown")]},
    "Revision": thing("A quote as issued.", ("margin",), **REVISION),
    "FrozenRevision": thing(
        "A revision with all that was frozen of it.", ("margin",), **REVISION, quote=ref("Quote"), sha256=SHA256
    ),
    "IssuedQuote": thing(
        "A quote's number for life and its revisions, the latest first.",
        number=TEXT,
        job=TEXT,
        title=TEXT,
        client=TEXT,
        opened_at=MOMENT,
        revisions=many(ref("Revision")),
    ),
    "QuoteIssue": thing("", request_key={**NEEDED_TEXT, "maxLength": 100}),
    "Approving": thing("", reason={**NEEDED_TEXT, "maxLength": 2000}),
    "MarginApproval": thing(
        "A price below the firm's least margin that a second person let pass.",
        price=MONEY,
        cost=MONEY,
        shortfall=MONEY,
        margin=FIGURE,
        least_margin=FIGURE,
        by=TEXT,
        at=MOMENT,
        reason=TEXT,
    ),
    "Withdrawal": thing("", reason={**NEEDED_TEXT, "maxLength": 2000}),
    "PaperState": thing(
        "",
        state=one_of("none", *ErrandState.values),
        progress_text=TEXT,
        progress_percent={"type": "integer", "minimum": 0, "maximum": 100},
        error=TEXT,
        paper=or_none(
            thing(
                "",
                title=TEXT,
                file_name=TEXT,
                sha256=SHA256,
                size_bytes=WHOLE,
                page_count=WHOLE,
                made_at=MOMENT,
            )
        ),
    ),
}
