"""The window in which a client may take an acceptance back: how its days are counted, and its last day.

How long it is, and whether there is one at all, the firm enters on its lawyer's word: law differs by place, and
nothing of it is built in here.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Literal

from catalog.core.ground.day_words import day_words
from catalog.core.ground.refusal import InvalidValue
from catalog.core.ground.workdays import SATURDAY, SUNDAY, CalendarError, WorkCalendar

Counting = Literal["calendar", "business", "business_and_saturday"]
COUNTINGS: tuple[Counting, ...] = ("calendar", "business", "business_and_saturday")
MAX_WINDOW_DAYS = 90
_WEEKENDS: dict[Counting, frozenset[int]] = {
    "business": frozenset({SATURDAY, SUNDAY}),
    "business_and_saturday": frozenset({SUNDAY}),
}
_WORDS: dict[Counting, tuple[str, str]] = {
    "calendar": ("calendar day", "calendar days"),
    "business": ("business day, Monday to Friday without holidays", "business days, Monday to Friday without holidays"),
    "business_and_saturday": (
        "business day, Monday to Saturday without holidays",
        "business days, Monday to Saturday without holidays",
    ),
}


class CancellationError(InvalidValue):
    """A window that cannot be; the message says what would be right."""


@dataclass(frozen=True)
class CancellationRule:
    """How long an acceptance may be taken back.

    Args:
        days: how many days are counted, 1 to 90; the day of signing is not one of them.
        counting: which days count: every one, Monday to Friday, or Monday to Saturday; the last two without holidays.
        source: on whose word it was entered; may be empty.
        notice: how the client gives notice, as a sentence the firm entered; may be empty.

    Raises:
        CancellationError: a number of days out of bounds, or a counting nobody knows.

    Source: own convention; length and counting are the firm's to enter on its lawyer's word.

    >>> CancellationRule(10, "calendar").words
    '10 calendar days after the day of acceptance'
    """

    days: int
    counting: Counting
    source: str = ""
    notice: str = ""

    def __post_init__(self) -> None:
        if isinstance(self.days, bool) or not isinstance(self.days, int) or not 1 <= self.days <= MAX_WINDOW_DAYS:
            raise CancellationError(
                f"A cancellation window is a whole number of days from 1 to {MAX_WINDOW_DAYS}, not {self.days!r}."
            )
        if self.counting not in COUNTINGS:
            raise CancellationError(f"Days are counted as one of {', '.join(COUNTINGS)}, not {self.counting!r}.")

    @property
    def words(self) -> str:
        """The rule as people read it.

        Returns:
            Days and counting, without a capital or a full stop.

        Source: own convention.

        >>> CancellationRule(1, "business").words
        '1 business day, Monday to Friday without holidays, after the day of acceptance'
        """
        text, more = _WORDS[self.counting]
        counted = f"{self.days} {text if self.days == 1 else more}"
        return f"{counted}{'' if self.counting == 'calendar' else ','} after the day of acceptance"

    @property
    def skips_holidays(self) -> bool:
        """Whether holidays matter to it.

        Returns:
            True unless every day of the calendar counts.

        Source: own convention.

        >>> CancellationRule(10, "calendar").skips_holidays
        False
        """
        return self.counting != "calendar"


def last_day_to_cancel(signed_on: date, rule: CancellationRule, holidays: Collection[date] = ()) -> date:
    """Find the last day on which the client may still take the acceptance back.

    Args:
        signed_on: the day of acceptance in the firm's time zone; not counted itself.
        rule: how many days, and which of them count.
        holidays: public holidays where the work is; without effect on calendar days.

    Returns:
        The last day of the window, to its end.

    Raises:
        CancellationError: not a day, or the count runs past the end of the calendar.

    Source: own convention (counted strictly after the day of signing); the three worked days are those of the
    worked examples: signed on Friday 28 May 2027 with Monday 31 May a holiday.

    >>> friday, memorial = date(2027, 5, 28), [date(2027, 5, 31)]
    >>> last_day_to_cancel(friday, CancellationRule(3, "business_and_saturday"), memorial)
    datetime.date(2027, 6, 2)
    >>> last_day_to_cancel(friday, CancellationRule(10, "calendar"), memorial)
    datetime.date(2027, 6, 7)
    >>> last_day_to_cancel(friday, CancellationRule(14, "calendar"), memorial)
    datetime.date(2027, 6, 11)
    """
    if isinstance(signed_on, datetime) or not isinstance(signed_on, date):
        raise CancellationError(f"The day of acceptance is a day without a time, not {signed_on!r}.")
    try:
        if rule.counting == "calendar":
            return signed_on + timedelta(days=rule.days)
        return WorkCalendar("cancellation", frozenset(holidays), _WEEKENDS[rule.counting]).forward(signed_on, rule.days)
    except (OverflowError, CalendarError) as error:
        raise CancellationError(
            f"No window of {rule.words} can be counted from {day_words(signed_on)}: {error}"
        ) from error


def is_open(last_day: date | None, today: date) -> bool:
    """Tell whether the client may still take an acceptance back.

    Args:
        last_day: the window's last day, itself included; None where there is no window.
        today: the day in the firm's time zone.

    Returns:
        True up to the end of the last day.

    Source: own convention.

    >>> is_open(date(2027, 6, 2), date(2027, 6, 2)), is_open(date(2027, 6, 2), date(2027, 6, 3))
    (True, False)
    """
    return last_day is not None and today <= last_day
