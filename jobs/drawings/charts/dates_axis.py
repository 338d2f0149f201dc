"""The axis of days of a time line, and how it is marked: by day, week, month or year as there is room."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
    "November", "December",
)  # fmt: skip
Mark = tuple[date, str]


@dataclass(frozen=True)
class Axis:
    """first, last: days at the edges. left, right: where they stand, mm of paper."""

    first: date
    last: date
    left: float
    right: float

    @property
    def day_mm(self) -> float:
        return (self.right - self.left) / ((self.last - self.first).days + 1)

    def x(self, day: date) -> float:
        return self.left + (day - self.first).days * self.day_mm


def axis_marks(axis: Axis) -> tuple[list[Mark], list[Mark]]:
    """(upper row, lower row) of marks: months over weeks while weeks have room, else years over months.

    >>> upper, lower = axis_marks(Axis(date(2027, 1, 4), date(2027, 2, 28), 0.0, 160.0))
    >>> upper
    [(datetime.date(2027, 1, 4), 'January 2027'), (datetime.date(2027, 2, 1), 'February 2027')]
    >>> lower[0]
    (datetime.date(2027, 1, 4), '4')
    """
    if axis.day_mm * 7 >= 4.0:
        return _months(axis, 30.0), _weeks(axis)
    return _years(axis), _months_short(axis)


def _weeks(axis: Axis) -> list[Mark]:
    day = axis.first + timedelta(days=-axis.first.weekday() % 7)
    marks = []
    while day <= axis.last:
        marks.append((day, str(day.day)))
        day += timedelta(days=7)
    return marks


def _months(axis: Axis, room: float) -> list[Mark]:
    starts = [axis.first, *_firsts(axis)]
    marks = []
    for day, after in zip(starts, [*starts[1:], axis.last + timedelta(days=1)], strict=True):
        width = axis.x(after) - axis.x(day)
        full, name = f"{MONTHS[day.month - 1]} {day.year}", MONTHS[day.month - 1][:3]
        marks.append((day, full if width >= room * 0.8 else name if width >= 8.0 else ""))
    return marks


def _months_short(axis: Axis) -> list[Mark]:
    firsts = _firsts(axis)
    month_mm = axis.day_mm * 30
    every = 1 if month_mm >= 6.5 else 3 if month_mm >= 2.2 else 12
    months = [day for day in firsts if (day.month - 1) % every == 0]
    return [(day, MONTHS[day.month - 1][:3] if every < 12 else "") for day in months]


def _years(axis: Axis) -> list[Mark]:
    starts = [axis.first, *(day for day in _firsts(axis) if day.month == 1)]
    marks = []
    passed = -1e9
    for day, after in zip(starts, [*starts[1:], axis.last + timedelta(days=1)], strict=True):
        x, width = axis.x(day), axis.x(after) - axis.x(day)
        shown = width >= 8.0 and x >= passed
        marks.append((day, str(day.year) if shown else ""))
        passed = x + 8.0 if shown else passed
    return marks


def _firsts(axis: Axis) -> list[date]:
    """The first day of every month after the first day of the axis."""
    year, month = axis.first.year, axis.first.month
    days: list[date] = []
    while True:
        year, month = (year + 1, 1) if month == 12 else (year, month + 1)
        if year > 9999 or date(year, month, 1) > axis.last:
            return days
        days.append(date(year, month, 1))
