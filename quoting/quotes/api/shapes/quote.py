from typing import Any

from quoting.core.prices.checklist import ANSWERS
from quoting.core.prices.costs import CATEGORIES
from quoting.platform.api.parts import (
    DAY,
    FIGURE,
    FINDINGS,
    FLAG,
    LENGTH,
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
BY_CATEGORY = or_none({"type": "object", "additionalProperties": MONEY, "propertyNames": {"enum": list(CATEGORIES)}})
SHA256: Schema = {"type": "string", "pattern": "^[0-9a-f]{64}$"}
SHARE: Schema = {"type": "string", "pattern": r"^[0-9]+(\.[0-9]+|/[0-9]+)?$"}

SIGNED: Schema = {"type": "string", "pattern": r"^-?[0-9]+\.[0-9]{2}$"}

COST = thing(
    "",
    category=one_of(*CATEGORIES),
    what=TEXT,
    quantity=FIGURE,
    unit=TEXT,
    unit_cost=FIGURE,
    cost=MONEY,
    wall=TEXT,
)
OFFICE = thing(
    "For the desk. Margin, prices by category and explanations are left out for roles that see no margin.",
    ("margin", "price_by_category", "explanations"),
    costs=many(COST),
    cost=or_none(MONEY),
    cost_by_category=BY_CATEGORY,
    price_by_category=BY_CATEGORY,
    margin=or_none(FIGURE),
    explanations=many(TEXT),
    options=many(thing("", key=TEXT, taxed=SIGNED, cost=or_none(SIGNED), special_order_cost=SIGNED)),
    checklist=many(
        thing("", item=TEXT, answer=or_none(one_of(*ANSWERS)), where=TEXT, reason=TEXT, by=TEXT, on=or_none(DAY))
    ),
    deposit=or_none(thing("", amount=MONEY, special_order_cost=or_none(MONEY), explanation=TEXT, warnings=many(TEXT))),
)
TRIM = thing(
    "",
    wall=TEXT,
    face=TEXT,
    profile=TEXT,
    curve=TEXT,
    radius=or_none(LENGTH),
    length=LENGTH,
    note=TEXT,
    bends=many(thing("", side=one_of("concave", "convex", "straight", "template"), radius=or_none(LENGTH))),
)
TAX = thing(
    "",
    name=TEXT,
    rate=FIGURE,
    applies_to=TEXT,
    basis=TEXT,
    exempt_certificate=or_none(TEXT),
    taxed=or_none(MONEY),
    amount=or_none(MONEY),
)
QUOTED = thing(
    "The quote; figures are empty while it is not priced, and the findings say why.",
    job=TEXT,
    title=TEXT,
    client=TEXT,
    currency=TEXT,
    priced=FLAG,
    quoted_on=DAY,
    valid_until=DAY,
    scope=many(thing("", wall=TEXT, sentences=many(TEXT))),
    trim=many(TRIM),
    lines=many(thing("", what=TEXT, price=MONEY)),
    price=or_none(MONEY),
    tax=TAX,
    total=or_none(MONEY),
    instalments=many(thing("", event=TEXT, share=SHARE, amount=MONEY, to_pay=MONEY)),
    options=many(thing("", key=TEXT, title=TEXT, text=TEXT, group=TEXT, price=SIGNED)),
    allowances=many(thing("", what=TEXT, amount=MONEY, sentence=TEXT)),
    deposit=or_none(MONEY),
    inclusions=many(TEXT),
    exclusions=many(TEXT),
    access=many(TEXT),
    assumptions=many(TEXT),
    cautions=many(TEXT),
    warranty=many(TEXT),
    terms=many(TEXT),
    notice=or_none(thing("", place=TEXT, language=TEXT, version=TEXT, title=TEXT, text=TEXT)),
    office=OFFICE,
    findings=FINDINGS,
)
UNPRICED = thing("A job without pricing.", job=TEXT, title=TEXT, priced={"const": False}, findings=FINDINGS)
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
    "Quote": {"anyOf": [QUOTED, UNPRICED]},
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
