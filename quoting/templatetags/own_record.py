"""On which standards from the record a quotation rests, for its page."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from django import template

from quoting.record.pages.words import words
from quoting.record.services.resting import rests_on

register = template.Library()


@dataclass(frozen=True)
class ShownRest:
    """since: what the record says, where the quotation has what was before; else empty."""

    label: str
    value: str
    since: str
    on: date


@register.simple_tag
def standards_of(revision: Any) -> list[ShownRest]:
    return [
        ShownRest(
            one.label,
            words(one.value, one.learnt),
            words(one.learnt.value, one.learnt) if one.is_former else "",
            one.learnt.accepted_on,
        )
        for one in rests_on(revision)
    ]
