"""Where a job stands, and why no contract came of it."""

from typing import Any, get_args

from quoting.core.life.facts import WHO_WORDS
from quoting.core.life.stations import END_WORDS, STATIONS
from quoting.core.life.steps import Act
from quoting.life.models import OutcomeKind
from quoting.platform.api.parts import (
    DAY,
    FLAG,
    MOMENT,
    MONEY,
    NUMBER,
    ONE_LINE,
    TEXT,
    WHOLE,
    given,
    many,
    one_of,
    or_none,
    thing,
)

STEP = thing(
    "What is done next. `about`: the wall, material, order, activity or change note concerned.",
    act=one_of(*get_args(Act)),
    what=TEXT,
    who=one_of(*WHO_WORDS),
    person=or_none(TEXT),
    by=or_none(DAY),
    days_in_hand=or_none({**WHOLE, "description": "Working days left; negative when late."}),
    why={**TEXT, "description": "What follows if it is not done."},
    about=or_none(TEXT),
)
COUNTED = thing("", count=WHOLE, value=MONEY)
SHAPES: dict[str, Any] = {
    "Life": thing(
        "Where a job stands: the last station whose fact is true. `lacks`: what an earlier one lacks.",
        station=one_of(*STATIONS),
        state={**TEXT, "description": "The station in words, such as Ordered (11 of 13)."},
        passed=many(thing("", station=one_of(*STATIONS), since=or_none(DAY), lacks=or_none(TEXT))),
        ahead=many(thing("", station=one_of(*STATIONS), by=or_none(DAY))),
        ended=or_none(thing("What stopped it.", how=one_of(*END_WORDS), on=DAY, why=TEXT)),
        steps={**many(STEP), "description": "The first one is next."},
        beside={**many(TEXT), "description": "Facts beside it, such as late or 2 pieces short."},
    ),
    "Outcome": thing(
        "",
        outcome=or_none(
            thing(
                "Why no contract came of a job.",
                kind=one_of(*OutcomeKind.values),
                words=TEXT,
                said_on=DAY,
                entered_at=MOMENT,
                entered_by=TEXT,
            )
        ),
    ),
    "NewOutcome": given(
        "`words` are needed for another reason; `said_on` is today when it is not given.",
        ("kind",),
        kind=one_of(*OutcomeKind.values),
        words={"type": "string", "maxLength": 2000},
        said_on=or_none(DAY),
    ),
    "FollowUp": thing(
        "When somebody asks the client next; null while nobody does.", day=or_none(DAY), person=or_none(TEXT)
    ),
    "NewFollowUp": given("`person` is you when it is not given.", (), day=or_none(DAY), person=ONE_LINE),
    "QuotesOut": thing(
        "`rate`: won of all decided, from five on; else null.",
        quotes=many(
            thing(
                "`follow_up`: when somebody asks next.",
                job=TEXT,
                title=TEXT,
                client=TEXT,
                revision=WHOLE,
                value={**MONEY, "description": "Before tax."},
                sent_on=DAY,
                age_days={**WHOLE, "description": "Since it was sent."},
                valid_until=DAY,
                expired=FLAG,
                opened={**WHOLE, "description": "How often its page was opened."},
                opened_on=or_none(DAY),
                follow_up=or_none(thing("", day=DAY, person=TEXT)),
            )
        ),
        won=COUNTED,
        lost=COUNTED,
        reasons=many(thing("", why=TEXT, count=WHOLE, value=MONEY)),
        rate=or_none(NUMBER),
        rate_by_value=or_none(NUMBER),
    ),
}
