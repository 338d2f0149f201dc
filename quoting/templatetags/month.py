"""Months and shares of the owner's pages."""

from datetime import date
from fractions import Fraction

from django import template

from catalog.core.ground import day_words
from quoting.core.money import month_figures

register = template.Library()


@register.filter
def month_words(month: date) -> str:
    return day_words.month_words(month)


@register.filter
def month_name(month: date) -> str:
    return month_words(month).partition(" ")[0]


@register.filter
def month_of_key(key: str) -> str:
    """2027-05 as May 2027."""
    return month_words(date.fromisoformat(f"{key}-01"))


@register.filter
def share(value: Fraction | None, places: int = 1) -> str:
    return month_figures.percent(value, places)
