"""A day as people say it: the weekday is what they plan by."""

from __future__ import annotations

import re
from datetime import date

_ISO_DAY = re.compile(r"\b[0-9]{4}-[0-9]{2}-[0-9]{2}\b")
_WRITTEN_DAY = re.compile(r"\b((?:Mon|Tue|Wed|Thu|Fri|Sat|Sun) [0-9]{1,2} [A-Z][a-z]{2}) ([0-9]{4})\b")
_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_WHOLE_MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)


def day_words(day: date, *, year: int | None = None) -> str:
    """Thu 10 Dec 2026, in every sentence and on every paper; on a screen the year stands only if it is not this one.

    year: the one it is, whose days are written without it.

    >>> day_words(date(2026, 12, 10)), day_words(date(2026, 12, 10), year=2026)
    ('Thu 10 Dec 2026', 'Thu 10 Dec')
    """
    words = f"{_DAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]}"
    return words if day.year == year else f"{words} {day.year}"


def month_words(day: date) -> str:
    """The month a day lies in.

    >>> month_words(date(2027, 5, 1))
    'May 2027'
    """
    return f"{_WHOLE_MONTHS[day.month - 1]} {day.year}"


def with_day_words(sentence: str, *, year: int | None = None) -> str:
    """A sentence with its days, where they stand as in documents, in words; what is not a day stays as it is.

    year: as for `day_words`; days already in words lose it as well.

    >>> with_day_words("Ines, 2026-12-10")
    'Ines, Thu 10 Dec 2026'
    >>> with_day_words("Placed Thu 10 Dec 2026, due 2027-01-04", year=2026)
    'Placed Thu 10 Dec, due Mon 4 Jan 2027'
    """
    written = _ISO_DAY.sub(_day_or_as_it_is, sentence)
    return _WRITTEN_DAY.sub(lambda match: match[1] if int(match[2]) == year else match[0], written)


def _day_or_as_it_is(match: re.Match[str]) -> str:
    try:
        return day_words(date.fromisoformat(match[0]))
    except ValueError:
        return match[0]  # part of a name, and no day
