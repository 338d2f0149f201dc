"""A client's answer as it was given, to a quote or to a change note: checked, and kept in the columns both have."""

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

from catalog.core.ground.refusal import Refused
from quoting.platform.papers.models import Paper
from quoting.quotes.models import AnswerWay

MAX_NAME_LENGTH = 200
MAX_REASON = 2000


@dataclass(frozen=True)
class Given:
    """kind: accepted or declined; signed or declined of a change note. options: keys of those ticked on a quote.

    entered_by_name: of the firm, for one on paper.
    """

    kind: str
    typed_name: str
    options: Sequence[str] = ()
    reason: str = ""
    from_address: str = ""
    entered_by_name: str = ""

    def checked(self) -> "Given":
        """As it is kept. Raises Refused."""
        return replace(self, typed_name=checked_name(self.typed_name), reason=checked_reason(self.reason))


def columns_of(given: Given, paper: Paper | None, *, now: datetime, today: date) -> dict[str, Any]:
    """What the rows of both answers keep. paper: what was answered; today: the day in the firm's time zone."""
    return {
        "answer": given.kind,
        "way": AnswerWay.PAPER if given.entered_by_name else AnswerWay.PAGE,
        "typed_name": given.typed_name,
        "reason": given.reason,
        "paper_sha256": paper.sha256 if paper else "",
        "answered_at": now,
        "answered_on": today,
        "from_address": given.from_address,
        "entered_by_name": given.entered_by_name,
    }


def checked_name(text: str) -> str:
    name = " ".join(text.split())
    if not any(sign.isalpha() for sign in name):
        raise Refused("Your name is missing: type it in full, as you would sign.")
    if len(name) > MAX_NAME_LENGTH:
        raise Refused(f"Your name is {len(name)} characters long; type at most {MAX_NAME_LENGTH}.")
    if any(unicodedata.category(sign) in ("Cc", "Cf", "Cs", "Co", "Cn") for sign in name):
        raise Refused("Your name holds a character we cannot print; type it with letters.")
    return name


def checked_reason(text: str) -> str:
    reason = text.strip()
    if len(reason) > MAX_REASON:
        raise Refused(f"The reason is {len(reason)} characters long; write at most {MAX_REASON:,}.")
    if "\0" in reason:
        raise Refused("The reason holds a character we cannot save; type it again.")
    return reason
