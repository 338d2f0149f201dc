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
            on.label,
            words(on.value, on.learnt),
            words(on.learnt.value, on.learnt) if on.is_former else "",
            on.learnt.accepted_on,
        )
        for on in rests_on(revision)
    ]
