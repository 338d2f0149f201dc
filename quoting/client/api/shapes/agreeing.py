"""What passes between firm and client: mails, links, answers, and what is taken back."""

from typing import Any

from quoting.changes.api.shapes.changes import COST, LINE
from quoting.changes.api.shapes.changes import SHAPES as CHANGE_SHAPES
from quoting.platform.api.parts import (
    DAY,
    FLAG,
    MOMENT,
    NEEDED_TEXT,
    ONE_LINE,
    REASON,
    TEXT,
    WENT_BY,
    WHOLE,
    given,
    many,
    one_of,
    or_none,
    thing,
)
from quoting.platform.errands.models import ErrandState
from quoting.platform.models.mail_ways import MailWay
from quoting.quotes.api.shapes.quote import ANSWER, SHA256
from quoting.quotes.models import AnswerKind, AnswerWay, TakeBackWay

Schema = dict[str, Any]
MAIL = thing(
    f"A mail to the client: asked for, and sent at `sent_at`. An error says why not, or that nobody knows. {WENT_BY}",
    to_address=TEXT,
    message=TEXT,
    asked_at=MOMENT,
    asked_by=TEXT,
    sent_at=or_none(MOMENT),
    went_by=one_of("", *MailWay.values),
    state=one_of("none", *ErrandState.values),
    error=TEXT,
)
NOTE_ANSWER = thing(
    "",
    answer=one_of("signed", "declined"),
    way=one_of(*AnswerWay.values),
    name=TEXT,
    reason=TEXT,
    at=MOMENT,
    on=DAY,
    paper_sha256=or_none(SHA256),
)
SHAPES: Schema = {
    "Mail": MAIL,
    "Mails": thing("", mails=many(MAIL)),
    "NewMail": given(
        "`to_address`: one, or up to five with commas between. Without a message the mail says the usual.",
        ("request_key", "to_address"),
        request_key={**NEEDED_TEXT, "maxLength": 100},
        to_address={**NEEDED_TEXT, "maxLength": 400},
        message={"type": "string", "maxLength": 5000},
    ),
    "Link": thing("Where the client's page is. Whoever has it can answer.", address=TEXT),
    "LinkState": thing("", in_use=FLAG),
    "Answer": ANSWER,
    "NewAnswer": given(
        "What the client signed on paper. `options`: keys of those ticked.",
        ("answer", "name", "signed_on"),
        answer=one_of(*AnswerKind.values),
        name=ONE_LINE,
        signed_on=DAY,
        options={**many(TEXT), "maxItems": 100},
        reason=REASON,
    ),
    "NewTakeBack": given(
        "`given_on`: the day the client gave notice.",
        ("name", "given_on", "way", "reason"),
        name=ONE_LINE,
        given_on=DAY,
        way=one_of(*(way for way in TakeBackWay.values if way != TakeBackWay.PAGE)),
        reason={**REASON, "pattern": r"\S"},
    ),
    "NewNoteAnswer": given(
        "What the client signed on paper.",
        ("answer", "name"),
        answer=one_of("signed", "declined"),
        name=ONE_LINE,
        reason=REASON,
    ),
    "FrozenChangeNote": thing(
        "A change note with all that was put to the client. costs: by item; left out for roles that see no margin.",
        ("costs",),
        **CHANGE_SHAPES["ChangeNote"]["properties"],
        quote=TEXT,
        revision=WHOLE,
        reason=TEXT,
        original=TEXT,
        replacement=TEXT,
        state_reason=TEXT,
        sha256=SHA256,
        lines=many(LINE),
        costs=many(COST),
        answer=or_none(NOTE_ANSWER),
    ),
}
