"""Which alerts about order-by days are due: worked out from the days as they stand, never from timers.

An alert is known by its item, its day and its threshold, and is told once. The thresholds are numbers of days in hand
(the firm says which), the order-by day itself (`0`), the day after it (`late`) and the decide-by day (`decide`).
Nothing is kept for later: an alert exists from its day on, so a day that moves takes what was still to come with it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from catalog.core.ground.day_words import day_words
from catalog.core.ground.refusal import InvalidValue
from catalog.core.ground.workdays import CalendarError, WorkCalendar

DUE, LATE, DECIDE = "0", "late", "decide"
MAX_DAYS_AHEAD = 60
MAX_THRESHOLDS = 6
_ONE_DAY = timedelta(days=1)


class AlertError(InvalidValue):
    """Alerts that cannot be worked out as asked; the message says what would be right."""


@dataclass(frozen=True)
class AlertPlan:
    """When the firm wants to hear of an order-by day.

    Args:
        days_ahead: days in hand at which an alert comes up, each from 1 to 60 and smaller than the one before; at
            most six. The order-by day itself, the day after it and the decide-by day always count.

    Raises:
        AlertError: a number that is none of these, twice the same, or too many.

    Source: own rule.

    >>> AlertPlan((10, 5, 1)).thresholds
    ('10', '5', '1', '0', 'late')
    """

    days_ahead: tuple[int, ...] = (10, 5, 1)

    def __post_init__(self) -> None:
        for days in self.days_ahead:
            if isinstance(days, bool) or not isinstance(days, int) or not 1 <= days <= MAX_DAYS_AHEAD:
                raise AlertError(
                    f"Days in hand for an alert are whole numbers from 1 to {MAX_DAYS_AHEAD}, not {days!r}."
                )
        if list(self.days_ahead) != sorted(set(self.days_ahead), reverse=True):
            raise AlertError("Days in hand for alerts are named once each, the greatest first, such as 10, 5, 1.")
        if len(self.days_ahead) > MAX_THRESHOLDS:
            raise AlertError(f"There are {len(self.days_ahead)} alerts ahead of a day; name at most {MAX_THRESHOLDS}.")

    @property
    def thresholds(self) -> tuple[str, ...]:
        """Those about an order-by day, the earliest first."""
        return (*(str(days) for days in self.days_ahead), DUE, LATE)


@dataclass(frozen=True)
class Watched:
    """One item that is still to be ordered.

    Args:
        job: key of its job.
        material: code of what is ordered.
        order_by: the last day to order it.
        decide_by: the last day to have it signed off; None where nothing has to be.

    Raises:
        AlertError: a job or material without a name, no days, or a decide-by day after the order-by day.

    Source: own rule.

    >>> Watched("J-1", "BASE", date(2026, 12, 10), date(2026, 12, 3)).order_by
    datetime.date(2026, 12, 10)
    """

    job: str
    material: str
    order_by: date
    decide_by: date | None = None

    def __post_init__(self) -> None:
        if not self.job or not self.material:
            raise AlertError("An item that is watched names its job and its material.")
        for what, day in (("order-by", self.order_by), ("decide-by", self.decide_by or self.order_by)):
            if isinstance(day, datetime) or not isinstance(day, date):
                raise AlertError(f"The {what} day of {self.material} must be a day, not {day!r}.")
        if self.decide_by is not None and self.decide_by > self.order_by:
            raise AlertError(
                f"{self.material} must be decided by {day_words(self.decide_by)}, which is after its order-by day "
                f"{day_words(self.order_by)}; the two belong the other way round."
            )


@dataclass(frozen=True)
class AlertKey:
    """What makes an alert the same alert.

    Args:
        job: key of the job.
        material: code of the item.
        day: the order-by day; for `decide` the decide-by day.
        threshold: a number of days in hand as text, `0`, `late` or `decide`.

    Raises:
        Nothing: whatever was kept can be named.

    Source: design decision 2 (unique per line, day and threshold).

    >>> AlertKey("J-1", "BASE", date(2026, 12, 10), "5").threshold
    '5'
    """

    job: str
    material: str
    day: date
    threshold: str


@dataclass(frozen=True)
class Alert:
    """One alert and the day it comes up.

    Args:
        key: which alert it is.
        due_on: the first day, at the firm, on which it holds.
        told: whether it is said. One that came up together with a tighter one of the same item, or after it, is
            kept as come up and says nothing of its own.

    Raises:
        Nothing.

    Source: own rule.

    >>> Alert(AlertKey("J-1", "BASE", date(2026, 12, 10), "0"), date(2026, 12, 10)).told
    True
    """

    key: AlertKey
    due_on: date
    told: bool = True


@dataclass(frozen=True)
class Trouble:
    """An item whose alerts cannot be worked out.

    Args:
        job: key of its job.
        material: code of the item.
        sentence: why, and what would be right.

    Raises:
        Nothing.

    Source: own rule.

    >>> Trouble("J-1", "BASE", "The calendar is shut for years.").job
    'J-1'
    """

    job: str
    material: str
    sentence: str


@dataclass(frozen=True)
class AlertFindings:
    """What was found due, and the items of which nothing can be said.

    Args:
        due: alerts that hold today and are not known yet, by job, item and day.
        troubles: one for each item that could not be worked out; it silences no other.

    Raises:
        Nothing.

    Source: own rule.

    >>> AlertFindings((), ()).due
    ()
    """

    due: tuple[Alert, ...]
    troubles: tuple[Trouble, ...]


def comes_up_on(threshold: str, day: date, calendar: WorkCalendar) -> date:
    """Say on which day an alert comes up.

    Args:
        threshold: a number of days in hand as text, `0`, `late` or `decide`.
        day: the order-by day; for `decide` the decide-by day.
        calendar: the firm's.

    Returns:
        The first day on which so many days are in hand or fewer: for `0` and `decide` the day itself, for `late` the
        day after.

    Raises:
        AlertError: an unknown threshold, or a day that has no day before or after it in the calendar.

    Source: own rule, the inverse of `jobs.core.ordering.order_by.days_in_hand`.

    >>> comes_up_on("5", date(2026, 12, 10), WorkCalendar("shop"))
    datetime.date(2026, 12, 3)
    """
    if threshold in (DUE, DECIDE):
        return day
    try:
        if threshold == LATE:
            return day + _ONE_DAY
        return calendar.back(calendar.on_or_before(day), _days_of(threshold))
    except (CalendarError, OverflowError) as problem:
        message = (
            f"The alert {threshold!r} of {day_words(day)} cannot be dated ({problem}): agree a day calendars reach."
        )
        raise AlertError(message) from None


def alerts_of(item: Watched, calendar: WorkCalendar, plan: AlertPlan) -> tuple[Alert, ...]:
    """List every alert an item can give, whether or not it has come up.

    Args:
        item: what is to be ordered.
        calendar: the firm's.
        plan: at how many days in hand.

    Returns:
        The alerts, the one to decide first, then by days in hand, late last.

    Raises:
        AlertError: a day no alert can be dated from.

    Source: own rule.

    >>> item = Watched("J-1", "BASE", date(2026, 12, 10), date(2026, 12, 3))
    >>> [(a.key.threshold, a.due_on.day) for a in alerts_of(item, WorkCalendar("shop"), AlertPlan((5, 1)))]
    [('decide', 3), ('5', 3), ('1', 9), ('0', 10), ('late', 11)]
    """
    days = [(threshold, item.order_by) for threshold in plan.thresholds]
    if item.decide_by is not None:
        days.insert(0, (DECIDE, item.decide_by))
    return tuple(
        Alert(AlertKey(item.job, item.material, day, threshold), comes_up_on(threshold, day, calendar))
        for threshold, day in days
    )


def due_alerts(
    items: Iterable[Watched],
    today: date,
    calendar: WorkCalendar,
    plan: AlertPlan,
    known: frozenset[AlertKey],
) -> AlertFindings:
    """Find the alerts that hold today and have not been told.

    Args:
        items: what is still to be ordered; what has been ordered or released is left out and so says nothing.
        today: the day it is at the firm.
        calendar: the firm's.
        plan: at how many days in hand.
        known: every alert that came up before, of these items at least.

    Returns:
        What is new, each once, and the items that could not be worked out. Of several of one item only the tightest
        is told, and none that is looser than one already known.

    Raises:
        Nothing of its own: an item that cannot be worked out is a trouble.

    Source: own rule.

    >>> item = Watched("J-1", "BASE", date(2026, 12, 10))
    >>> result = due_alerts([item], date(2026, 12, 9), WorkCalendar("shop"), AlertPlan(), frozenset())
    >>> [(alert.key.threshold, alert.told) for alert in result.due]
    [('10', False), ('5', False), ('1', True)]
    """
    due: list[Alert] = []
    troubles: list[Trouble] = []
    for item in dict.fromkeys(items):
        try:
            held = [alert for alert in alerts_of(item, calendar, plan) if alert.due_on <= today]
        except AlertError as problem:
            troubles.append(Trouble(item.job, item.material, str(problem)))
            continue
        due += _new_of(held, known)
    return AlertFindings(tuple(due), tuple(troubles))


def last_day_watched(today: date, calendar: WorkCalendar, plan: AlertPlan) -> date:
    """Say up to which order-by or decide-by day an alert can hold today.

    Args:
        today: the day it is at the firm.
        calendar: the firm's.
        plan: at how many days in hand.

    Returns:
        A day after which no item has an alert due, so that only what is before it need be read.

    Raises:
        CalendarError: the calendar is shut for too long.

    Source: own rule.

    >>> last_day_watched(date(2026, 12, 3), WorkCalendar("shop"), AlertPlan((5,)))
    datetime.date(2026, 12, 11)
    """
    return calendar.forward(today, max((*plan.days_ahead, 0)) + 1)


def week_begins(day: date, calendar: WorkCalendar) -> date | None:
    """Find the first day the firm works in the week of a day.

    Args:
        day: any day of the week, which runs from Monday to Sunday.
        calendar: the firm's.

    Returns:
        That day; None when the firm is shut all week.

    Raises:
        CalendarError: the calendar is shut for more than 1,100 days.

    Source: own rule; a week runs from Monday as in ISO 8601.

    >>> week_begins(date(2027, 1, 3), WorkCalendar("shop", frozenset({date(2026, 12, 28)})))
    datetime.date(2026, 12, 29)
    """
    monday = day - timedelta(days=day.weekday())
    first = calendar.on_or_after(monday)
    return first if first < monday + timedelta(days=7) else None


def weekly_list_due(now_there: datetime, at: time, calendar: WorkCalendar) -> date | None:
    """Say whether the list of the week is due.

    Args:
        now_there: the moment by the firm's own calendar and clock.
        at: from which time of day on, on the first day the firm works in the week.
        calendar: the firm's.

    Returns:
        The Monday of the week whose list is due, on that day and to the end of the week; None before, and in a week
        the firm does not work in.

    Raises:
        CalendarError: the calendar is shut for more than 1,100 days.

    Source: own rule.

    >>> weekly_list_due(datetime(2026, 12, 7, 7, 0), time(7), WorkCalendar("shop"))
    datetime.date(2026, 12, 7)
    """
    today = now_there.date()
    first = week_begins(today, calendar)
    if first is None or today < first or (today == first and now_there.time() < at):
        return None
    return today - timedelta(days=today.weekday())


def still_holds(key: AlertKey, items: Mapping[tuple[str, str], Watched]) -> bool:
    """Say whether an alert that came up is still about something.

    Args:
        key: the alert.
        items: what is still to be ordered, by job and material.

    Returns:
        False once its item is ordered, gone, or has another day.

    Raises:
        Nothing.

    Source: own rule.

    >>> item = Watched("J-1", "BASE", date(2026, 12, 10))
    >>> key = AlertKey("J-1", "BASE", date(2026, 12, 9), "1")
    >>> still_holds(key, {("J-1", "BASE"): item})
    False
    """
    item = items.get((key.job, key.material))
    if item is None:
        return False
    return key.day == (item.decide_by if key.threshold == DECIDE else item.order_by)


def _days_of(threshold: str) -> int:
    if not threshold.isascii() or not threshold.isdigit():
        raise AlertError(f"{threshold!r} is not a threshold: a number of days in hand, {LATE!r} or {DECIDE!r}.")
    return int(threshold)


def _tightness(threshold: str) -> int:
    return -1 if threshold == LATE else _days_of(threshold)


def _new_of(held: Sequence[Alert], known: frozenset[AlertKey]) -> list[Alert]:
    """Those of one item that are not known, of the order-by day only the tightest to be told.

    Once the day to order is there, the day to decide is past saying.
    """
    about_order = [alert for alert in held if alert.key.threshold != DECIDE]
    tightest = min((_tightness(alert.key.threshold) for alert in about_order), default=None)
    new = []
    for alert in held:
        if alert.key in known:
            continue
        if alert.key.threshold == DECIDE:
            message = tightest is None or tightest > 0
        else:
            message = _tightness(alert.key.threshold) == tightest
        new.append(Alert(alert.key, alert.due_on, message))
    return new
