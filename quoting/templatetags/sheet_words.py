"""Days, money, shares and lengths as pages write them; papers say the same."""

from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction

from django import template

from catalog.core.ground.money import to_cents
from catalog.core.ground.plain_text import plain
from catalog.core.ground.units import System, format_length
from jobs.core.ordering.order_by import late_count
from quoting.platform import formatting, screen_days

register = template.Library()


@register.filter
def day(value: date | str | None) -> str:
    """Thu 10 Dec, with its year only if that is not this one."""
    if not value:
        return ""
    return screen_days.day_words(date.fromisoformat(value) if isinstance(value, str) else value)


@register.filter
def moment(value: datetime | None) -> str:
    return screen_days.moment_words(value) if value else ""


@register.filter
def with_days(sentence: str) -> str:
    return screen_days.with_day_words(sentence)


@register.filter
def late(count: int, what: str) -> str:
    """How much is late, and of what."""
    return late_count(count, what)


@register.filter
def first_word(words: str) -> str:
    return words.partition(" ")[0]


@register.filter
def money(value: Decimal | str | None, currency: str = "") -> str:
    """Without a currency for columns that name it once in their heading."""
    if value in (None, ""):
        return ""
    return formatting.money_words(Decimal(value), currency) if currency else formatting.amount_words(Decimal(value))


@register.filter
def unit_price(value: Decimal) -> str:
    """213.20; a price in parts of a cent with all its digits."""
    return formatting.amount_words(value) if value == to_cents(value) else plain(value) or ""


@register.filter
def any_ticked(options: list[tuple[object, bool]]) -> bool:
    return any(is_ticked for _, is_ticked in options)


@register.filter
def percent(value: Decimal | Fraction | str | None) -> str:
    return "" if value in (None, "") else formatting.share_words(Decimal(value) if isinstance(value, str) else value)


@register.filter
def measure(value_mm: float | Decimal | None, system: System) -> str:
    return "" if value_mm is None else format_length(float(value_mm), system)


@register.filter
def figure(value: Decimal | None) -> str:
    return plain(value) or ""
