"""Working days: calendars of open and closed days, and counting along them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import lru_cache
from typing import Annotated

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import As, Refs, Schema, build, read_fields
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import InvalidValue

SATURDAY, SUNDAY = 5, 6
MAX_SHUT_DAYS = 1100
"""How many days in a row a calendar may be shut before it counts as wrong: three years."""

MAX_WORKDAYS = 20_000
"""The most working days counted in one step, about 75 years: past it a figure was mistyped."""

_ONE_DAY = timedelta(days=1)


class CalendarError(InvalidValue):
    """A calendar or a count of days that cannot be used; the message says what would be right."""


@dataclass(frozen=True)
class Closure:
    """Days on which nobody works: one `day`, or every day from `first` to `last`, both included.

    Raises:
        CalendarError: not days, the last before the first, or more than 1,100 days.

    Source: own rule.

    >>> len(Closure(date(2026, 12, 21), date(2027, 1, 1), "winter shutdown").days())
    12
    """

    first_day: Annotated[date, "The first closed day.", As("first", "First day closed")]
    last_day: Annotated[
        date,
        "The last closed day, on or after the first; at most 1,100 days in all.",
        As("last", "Last day closed", "Empty for a single day."),
    ]
    reason: Annotated[str, "Why, in a few words.", As(label="Why", hint="Such as: public holiday.")] = ""

    @classmethod
    def from_document(cls, reader: Reader) -> Closure:
        """Of a single day `day` says it all."""
        if not reader.has("day"):
            return build(cls, reader, read_fields(cls, reader))
        reason, day = reader.text("reason", ""), reader.day("day")
        reader.finish()
        return build(cls, reader, {"first_day": day, "last_day": day, "reason": reason})

    @classmethod
    def document_schema(cls, schema: Schema, refs: Refs) -> Schema:
        del schema["required"]
        schema["properties"] = {
            "day": {**refs.part("day"), "description": "The one closed day."},
            **schema["properties"],
        }
        return {**schema, "minProperties": 1, "dependentRequired": {"first": ["last"], "last": ["first"]}}

    def __post_init__(self) -> None:
        _check_day(self.first_day, "The first closed day")
        _check_day(self.last_day, "The last closed day")
        if self.last_day < self.first_day:
            first, last = day_words(self.first_day), day_words(self.last_day)
            raise CalendarError(f"A closure ends on or after its first day; {last} is before {first}.")
        if (self.last_day - self.first_day).days >= MAX_SHUT_DAYS:
            message = f"{day_words(self.first_day)} to {day_words(self.last_day)}"
            raise CalendarError(f"A closure is at most {MAX_SHUT_DAYS} days, not {message}.")

    def days(self) -> frozenset[date]:
        """List the days of the closure, both ends included.

        Returns:
            Every calendar day from the first to the last.

        Source: own rule.

        >>> sorted(Closure(date(2027, 7, 5), date(2027, 7, 5)).days())
        [datetime.date(2027, 7, 5)]
        """
        return frozenset(
            self.first_day + timedelta(days=step) for step in range((self.last_day - self.first_day).days + 1)
        )


@dataclass(frozen=True)
class WorkCalendar:
    """The days on which a firm or a supplier works.

    Args:
        name: whose calendar it is, used in errors and explanations.
        closed_days: days off besides the weekend.
        weekend: weekdays off, Monday 0 to Sunday 6; at most six of them.

    Raises:
        CalendarError: no name, a closed day that is not a day, a weekday outside 0 to 6, or no weekday left.

    Source: own rule.

    >>> firm = WorkCalendar("firm", frozenset({date(2026, 12, 25)}))
    >>> firm.forward(date(2026, 12, 24), 1)
    datetime.date(2026, 12, 28)
    """

    name: str
    closed_days: frozenset[date] = frozenset()
    weekend: frozenset[int] = frozenset({SATURDAY, SUNDAY})

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise CalendarError("A calendar needs a name.")
        for day in self.closed_days:
            _check_day(day, f"A closed day of the calendar {self.name}")
        if not self.weekend <= frozenset(range(7)):
            raise CalendarError(f"Calendar {self.name}: weekdays off are numbers from 0 (Monday) to 6 (Sunday).")
        if len(self.weekend) == 7:
            raise CalendarError(f"Calendar {self.name}: no weekday is left to work on.")

    def is_workday(self, day: date) -> bool:
        """Tell whether the calendar is open on a day.

        Args:
            day: any day.

        Returns:
            True when it is neither a closed day nor a weekday off.

        Raises:
            CalendarError: not a day.

        Source: own rule.

        >>> WorkCalendar("firm").is_workday(date(2027, 1, 23))
        False
        """
        _check_day(day, "The day")
        return day.weekday() not in self.weekend and day not in self.closed_days

    def on_or_before(self, day: date) -> date:
        """Find the last working day that is not after a day.

        Args:
            day: any day.

        Returns:
            The day itself when it is worked, otherwise the last working day before it.

        Raises:
            CalendarError: not a day, or the calendar is shut for more than 1,100 days before it.

        Source: own rule.

        >>> WorkCalendar("firm").on_or_before(date(2027, 1, 24))
        datetime.date(2027, 1, 22)
        """
        return self._next_open(day, -_ONE_DAY)

    def on_or_after(self, day: date) -> date:
        """Find the first working day that is not before a day.

        Args:
            day: any day.

        Returns:
            The day itself when it is worked, otherwise the first working day after it.

        Raises:
            CalendarError: not a day, or the calendar is shut for more than 1,100 days after it.

        Source: own rule.

        >>> WorkCalendar("firm").on_or_after(date(2027, 1, 23))
        datetime.date(2027, 1, 25)
        """
        return self._next_open(day, _ONE_DAY)

    def back(self, day: date, workdays: int) -> date:
        """Count working days back.

        Args:
            day: any day.
            workdays: how many working days strictly before ``day``, 0 to 20,000.

        Returns:
            That working day; for 0 the day itself when it is worked, otherwise the last working day before.

        Raises:
            CalendarError: a count that is negative or too large, or a calendar that is shut for too long.

        Source: own rule (dates counted back strictly before, in the calendar named).

        >>> WorkCalendar("firm").back(date(2027, 1, 25), 3)
        datetime.date(2027, 1, 20)
        """
        return self._count(day, workdays, -_ONE_DAY)

    def forward(self, day: date, workdays: int) -> date:
        """Count working days forward.

        Args:
            day: any day.
            workdays: how many working days strictly after ``day``, 0 to 20,000.

        Returns:
            That working day; for 0 the day itself when it is worked, otherwise the first working day after.

        Raises:
            CalendarError: a count that is negative or too large, or a calendar that is shut for too long.

        Source: own rule.

        >>> WorkCalendar("firm").forward(date(2027, 1, 22), 1)
        datetime.date(2027, 1, 25)
        """
        return self._count(day, workdays, _ONE_DAY)

    def workdays_between(self, first: date, second: date) -> int:
        """Count the working days it takes from one day to another.

        Args:
            first: the day counted from, itself not counted.
            second: the day counted to, itself counted when it is worked.

        Returns:
            Working days after ``first`` up to ``second``: 0 on the same day; negative when ``second`` is the
            earlier, the count then being the days after ``second`` up to ``first``.

        Raises:
            CalendarError: not days.

        Source: own rule.

        >>> WorkCalendar("firm").workdays_between(date(2027, 1, 25), date(2027, 1, 29))
        4
        """
        _check_day(first, "The first day")
        _check_day(second, "The second day")
        early, late = min(first, second), max(first, second)
        weeks, rest = divmod((late - early).days, 7)
        count = weeks * (7 - len(self.weekend))
        count += sum((late.weekday() - step) % 7 not in self.weekend for step in range(rest))
        count -= sum(early < day <= late and day.weekday() not in self.weekend for day in self.closed_days)
        return count if second >= first else -count

    def _next_open(self, day: date, step: timedelta) -> date:
        _check_day(day, "The day")
        for _ in range(MAX_SHUT_DAYS + 7):
            if self.is_workday(day):
                return day
            day = self._step(day, step)
        raise CalendarError(f"Calendar {self.name}: no working day within {MAX_SHUT_DAYS} days of {day_words(day)}.")

    def _count(self, day: date, workdays: int, step: timedelta) -> date:
        if isinstance(workdays, bool) or not isinstance(workdays, int) or not 0 <= workdays <= MAX_WORKDAYS:
            raise CalendarError(
                f"A number of working days is a whole number from 0 to {MAX_WORKDAYS:,}, not {workdays!r}."
            )
        if workdays == 0:
            return self._next_open(day, step)
        for _ in range(workdays):
            day = self._next_open(self._step(day, step), step)
        return day

    def _step(self, day: date, step: timedelta) -> date:
        try:
            return day + step
        except OverflowError:
            raise CalendarError(f"Calendar {self.name}: the count runs past the years 1 to 9999.") from None


def closed_days_of(closures: Iterable[Closure]) -> frozenset[date]:
    """Gather the days of several closures.

    Args:
        closures: any number of closures; they may overlap.

    Returns:
        Every closed day once.

    Source: own rule.

    >>> shutdown = Closure(date(2027, 7, 19), date(2027, 7, 30))
    >>> len(closed_days_of([shutdown, Closure(date(2027, 7, 5), date(2027, 7, 5))]))
    13
    """
    return frozenset(day for closure in closures for day in closure.days())


def calendar_with(name: str, closures: Iterable[Closure] = (), *, works_saturday: bool = False) -> WorkCalendar:
    """Build a calendar from closures.

    Args:
        name: whose calendar it is.
        closures: the stretches of days off.
        works_saturday: whether Saturday is a working day; Sunday never is here.

    Returns:
        The calendar.

    Raises:
        CalendarError: no name.

    Source: own rule.

    >>> calendar_with("county", works_saturday=True).forward(date(2027, 5, 28), 1)
    datetime.date(2027, 5, 29)
    """
    return _calendar(name, tuple(closures), works_saturday)


@lru_cache(maxsize=1_000)
def _calendar(name: str, closures: tuple[Closure, ...], works_saturday: bool) -> WorkCalendar:
    weekend = frozenset({SUNDAY}) if works_saturday else frozenset({SATURDAY, SUNDAY})
    return WorkCalendar(name, closed_days_of(closures), weekend)


def combine(first: WorkCalendar, second: WorkCalendar) -> WorkCalendar:
    """Build the calendar of the days on which two both work.

    Args:
        first: one calendar.
        second: the other.

    Returns:
        A calendar that is open only when both are.

    Raises:
        CalendarError: the two never share a weekday.

    Source: own rule.

    >>> both = combine(WorkCalendar("firm", frozenset({date(2027, 1, 18)})), WorkCalendar("mill"))
    >>> both.name, both.is_workday(date(2027, 1, 18))
    ('firm and mill', False)
    """
    return WorkCalendar(
        f"{first.name} and {second.name}",
        first.closed_days | second.closed_days,
        first.weekend | second.weekend,
    )


def workdays_from(calendar: WorkCalendar, day: date) -> Iterator[date]:
    """Walk the working days of a calendar, starting on or after a day.

    Args:
        calendar: the calendar walked.
        day: where to begin, any day.

    Returns:
        The working days in order, without end.

    Raises:
        CalendarError: not a day, or the calendar is shut for too long.

    Source: own rule.

    >>> next(workdays_from(WorkCalendar("firm"), date(2027, 1, 23)))
    datetime.date(2027, 1, 25)
    """
    day = calendar.on_or_after(day)
    while True:
        yield day
        day = calendar.forward(day, 1)


def _check_day(day: date, what: str) -> None:
    if isinstance(day, datetime) or not isinstance(day, date):
        raise CalendarError(f"{what} must be a day without a time, not {day!r}.")
