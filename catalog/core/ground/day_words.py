"""A day as people say it: the weekday is what they plan by."""

from __future__ import annotations

import re
from datetime import date

_ISO_DAY = re.compile(r"\b[0-9]{4}-[0-9]{2}-[0-9]{2}\b")
_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day_words(day: date) -> str:
    """Thu 10 Dec 2026, in every sentence, on every page and paper.

    >>> day_words(date(2026, 12, 10))
    'Thu 10 Dec 2026'
    """
    return f"{_DAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]} {day.year}"


def with_day_words(sentence: str) -> str:
    """A sentence with its days, where they stand as in documents, in words; what is no day stays as it is.

    >>> with_day_words("Ines, 2026-12-10")
    'Ines, Thu 10 Dec 2026'
    """
    return _ISO_DAY.sub(_day_or_as_it_is, sentence)


def _day_or_as_it_is(found: re.Match[str]) -> str:
    try:
        return day_words(date.fromisoformat(found[0]))
    except ValueError:
        return found[0]  # part of a name, and no day
