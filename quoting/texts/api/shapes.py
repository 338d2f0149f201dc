from typing import Any

from quoting.core.quotes.firm_texts import BLOCKS, MAX_NOTICE_LENGTH, MAX_PLACE
from quoting.platform.api.parts import DAY, FLAG, IDENTITY, TEXT, many, one_of, or_none, ref, thing

Schema = dict[str, Any]


def words(longest: int) -> Schema:
    return {"type": "string", "pattern": r"\S", "maxLength": longest}


LANGUAGE: Schema = {"type": "string", "maxLength": 40, "description": "Its tag, such as en or fr-CA."}
DAYS: Schema = {"starts_on": DAY, "ends_on": or_none(DAY)}
NOTICE: Schema = {"place": TEXT, "language": TEXT, "version": TEXT, "title": TEXT, "text": TEXT, "source": TEXT}
NEW_NOTICE: Schema = {
    "place": words(MAX_PLACE),
    "language": LANGUAGE,
    "version": words(60),
    "title": words(200),
    "text": words(MAX_NOTICE_LENGTH),
    "source": {"type": "string", "maxLength": 2000},
}
SHAPES: Schema = {
    "Sentence": thing(
        "One wording of a standing sentence.", id=IDENTITY, key=TEXT, block=one_of(*BLOCKS), text=TEXT, **DAYS
    ),
    "NewSentence": thing("", ("ends_on",), block=one_of(*BLOCKS), text=words(2000), **DAYS),
    "LastDay": thing("", last_day=DAY),
    "NoticeEntry": thing("One version of a place's notice in a language.", id=IDENTITY, **NOTICE, **DAYS),
    "NewNotice": thing("", ("ends_on", "source"), **NEW_NOTICE, **DAYS),
    "PlaceEntry": thing("", id=IDENTITY, name=TEXT, requires_notice=FLAG),
    "NewPlace": thing("", ("requires_notice",), name=words(MAX_PLACE), requires_notice=FLAG),
    "StandingTexts": thing(
        "", sentences=many(ref("Sentence")), notices=many(ref("NoticeEntry")), places=many(ref("PlaceEntry"))
    ),
}
