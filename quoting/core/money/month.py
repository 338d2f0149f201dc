"""Months as they are closed: which comes next, and when it may be closed."""

from __future__ import annotations

from datetime import date, timedelta

from catalog.core.ground.day_words import day_words, month_words
from catalog.core.ground.workdays import WorkCalendar

CLOSED_ON_WORKDAY = 3
"""Ours: a month is closed on this working day of the next, when its last hours and bills are in."""


def month_of(day: date) -> date:
    """The first day of its month."""
    return day.replace(day=1)


def next_month(month: date) -> date:
    """The first day of the month after.

    >>> next_month(date(2026, 12, 1))
    datetime.date(2027, 1, 1)
    """
    return month_of(month_of(month) + timedelta(days=31))


def last_day(month: date) -> date:
    """
    >>> last_day(date(2028, 2, 1))
    datetime.date(2028, 2, 29)
    """
    return next_month(month) - timedelta(days=1)


def why_not_closed(month: date, closed: date | None, first: date | None, today: date) -> str:
    """Why the month cannot be closed today; empty when it can. Months are closed once, in order, after their end.

    closed: the last month closed; first: the earliest month with a row, which is closed first; each a first day.

    >>> why_not_closed(date(2027, 2, 1), date(2026, 12, 1), None, date(2027, 3, 2))
    'January 2027 comes first: close it before February 2027.'
    """
    if closed is not None and month <= closed:
        return f"{month_words(month)} is closed already."
    if month >= month_of(today):
        return f"{month_words(month)} can be closed from {day_words(next_month(month))}."
    due = next_month(closed) if closed is not None else (first or month)
    if month > due:
        return f"{month_words(due)} comes first: close it before {month_words(month)}."
    return "" if month == due else f"Nothing counts in {month_words(month)}; {month_words(due)} is the first month."


def month_to_close(
    closed: date | None, first: date | None, today: date, calendar: WorkCalendar
) -> tuple[date, date] | None:
    """The month to be closed by now, with the day that is done on; None before that day, and where nothing counts.

    closed, first: as of `why_not_closed`. calendar: the firm's.

    >>> month_to_close(date(2026, 8, 1), None, date(2026, 10, 5), WorkCalendar("firm"))
    (datetime.date(2026, 9, 1), datetime.date(2026, 10, 5))
    """
    month = next_month(closed) if closed is not None else first
    if month is None or month >= month_of(today):
        return None
    first_workday = calendar.on_or_after(next_month(month))
    day = calendar.forward(first_workday, CLOSED_ON_WORKDAY - 1)
    return (month, day) if day <= today else None
