"""Days, money, shares and lengths as pages write them; papers say the same."""

import re
from datetime import date
from decimal import Decimal
from fractions import Fraction

from django import template

from catalog.core.units import System, format_length
from quoting.core.result_documents import plain
from quoting.services import wording

register = template.Library()
ISO_DAY = re.compile(r"\b[0-9]{4}-[0-9]{2}-[0-9]{2}\b")


@register.filter
def day(value: date | str | None) -> str:
    if not value:
        return ""
    return wording.day_words(date.fromisoformat(value) if isinstance(value, str) else value)


@register.filter
def with_days(sentence: str) -> str:
    """A sentence of the core, which names days as documents do, with them as pages write them."""
    return ISO_DAY.sub(_day_or_as_it_is, sentence)


def _day_or_as_it_is(found: re.Match[str]) -> str:
    try:
        return wording.day_words(date.fromisoformat(found[0]))
    except ValueError:
        return found[0]  # part of a name, and no day


@register.filter
def money(value: Decimal | str | None, currency: str = "") -> str:
    """Without a currency for columns that name it once in their heading."""
    if value in (None, ""):
        return ""
    return wording.money_words(Decimal(value), currency) if currency else wording.amount_words(Decimal(value))


@register.filter
def any_ticked(options: list[tuple[object, bool]]) -> bool:
    return any(is_ticked for _, is_ticked in options)


@register.filter
def percent(value: Decimal | Fraction | str | None) -> str:
    return "" if value in (None, "") else wording.share_words(Decimal(value) if isinstance(value, str) else value)


@register.filter
def measure(value_mm: float | Decimal | None, system: System) -> str:
    return "" if value_mm is None else format_length(float(value_mm), system)


@register.filter
def figure(value: Decimal | None) -> str:
    return plain(value) or ""
