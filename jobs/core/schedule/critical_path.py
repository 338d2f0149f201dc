"""Activities in their order: earliest and latest times, floats, and which are critical.

Two ways in, one rule. ``network`` works on plain day numbers, as textbooks do; ``schedule`` works on days,
each activity on its own calendar. Links are finish-start, start-start, finish-finish or start-finish, with a
lag in working days of the earlier activity's calendar, or in elapsed hours (drying works on weekends too).

On the calendar every activity starts in the morning of a working day and ends in the evening of one. A lag
leads from one such moment to another, and the next activity rolls on to its own next working day.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Literal, Protocol, TypeVar

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import View
from catalog.core.ground.refusal import InvalidValue
from catalog.core.ground.workdays import CalendarError, WorkCalendar

LinkKind = Literal["FS", "SS", "FF", "SF"]

OVERNIGHT_HOURS = 16
"""Hours from the end of one day's work to the start of the next day's: 24 less a working day of 8."""

MAX_DURATION_WORKDAYS = 1000
MAX_LAG_WORKDAYS = 1000
MAX_LAG_ELAPSED_HOURS = 24 * 365

_ONE_DAY = timedelta(days=1)


class NetworkError(InvalidValue):
    """Activities or links that cannot be put in order; the message names them."""


class CircleError(NetworkError):
    """Activities that wait for each other; `circle` names them in order, the first given again at the end."""

    def __init__(self, circle: Sequence[str]) -> None:
        super().__init__(f"These activities wait for each other in a circle: {' -> '.join(circle)}.")
        self.circle = tuple(circle)


@dataclass(frozen=True)
class Link(View):
    """A link between two activities: the later waits for the start or the finish of the earlier.

    Args:
        before: the name of the earlier activity.
        after: the name of the later one.
        kind: ``FS`` finish to start, ``SS`` start to start, ``FF`` finish to finish, ``SF`` start to finish.
        lag_workdays: working days of the earlier activity's calendar between them, -1,000 to 1,000.
        lag_elapsed_hours: hours by the clock instead, 0 to 8,760, such as 24 for a coat to dry.

    Raises:
        NetworkError: an unknown kind, a lag out of range, both kinds of lag, or an activity linked to itself.

    Source: precedence diagramming, as in textbooks of project scheduling.

    >>> Link("first coat", "second coat", lag_elapsed_hours=24).kind
    'FS'
    """

    document_name = "dated_link"

    before: str
    after: str
    kind: LinkKind = "FS"
    lag_workdays: int = 0
    lag_elapsed_hours: int = 0

    def __post_init__(self) -> None:
        label = f"Link {self.before} to {self.after}"
        if self.before == self.after:
            raise NetworkError(f"{label}: an activity cannot wait for itself.")
        if self.kind not in ("FS", "SS", "FF", "SF"):
            raise NetworkError(f"{label}: the kind is FS, SS, FF or SF, not {self.kind!r}.")
        _check_whole(self.lag_workdays, f"{label}: the lag in working days", -MAX_LAG_WORKDAYS, MAX_LAG_WORKDAYS)
        _check_whole(self.lag_elapsed_hours, f"{label}: the lag in hours", 0, MAX_LAG_ELAPSED_HOURS)
        if self.lag_workdays and self.lag_elapsed_hours:
            raise NetworkError(f"{label}: give the lag in working days or in hours, not both.")


@dataclass(frozen=True)
class Activity:
    """An activity of a network in plain day numbers.

    Args:
        name: its name, unique in the network.
        duration_workdays: working days it takes, 0 to 1,000; 0 for a mere event.
        start_no_earlier_workday: the day number before which it may not start, 0 or more.

    Raises:
        NetworkError: no name, or a number that is not whole or out of range.

    Source: own rule.

    >>> Activity("layout", 1).duration_workdays
    1
    """

    name: str
    duration_workdays: int
    start_no_earlier_workday: int = 0

    def __post_init__(self) -> None:
        _check_activity(self.name, self.duration_workdays)
        _check_whole(
            self.start_no_earlier_workday,
            f"Activity {self.name}: the earliest start",
            0,
            100 * MAX_LAG_WORKDAYS,
        )


@dataclass(frozen=True)
class DatedActivity:
    """An activity on a calendar.

    Args:
        name: its name, unique in the schedule.
        duration_workdays: working days of its calendar it takes, 0 to 1,000; 0 for a mere event, which falls
            on the morning of a working day.
        calendar: the calendar of whoever does it.
        start_no_earlier: the day before which it may not start, or None.
        began_on: the day it really began, or None; nothing moves it any more, and its days count from there.
        ended_on: the last day it really took, or None while it goes on.

    Raises:
        NetworkError: no name, a number that is not whole or out of range, a start that is not a day, or an end that
            is before it or without it.

    Source: own rule.

    >>> DatedActivity("layout", 1, WorkCalendar("firm")).start_no_earlier is None
    True
    """

    name: str
    duration_workdays: int
    calendar: WorkCalendar
    start_no_earlier: date | None = None
    began_on: date | None = None
    ended_on: date | None = None

    def __post_init__(self) -> None:
        _check_activity(self.name, self.duration_workdays)
        for what, day in (("earliest", self.start_no_earlier), ("real", self.began_on)):
            if day is not None:
                _check_day(day, f"Activity {self.name}: the {what} start")
        if self.ended_on is not None and (self.began_on is None or self.ended_on < self.began_on):
            first = day_words(self.began_on) if self.began_on else "no day"
            raise NetworkError(
                f"Activity {self.name} cannot end on {day_words(self.ended_on)} when it began on {first}."
            )


@dataclass(frozen=True)
class Times:
    """The times of an activity in plain day numbers, 0 being the start of the first day.

    Args:
        early_start: the earliest it can start.
        early_finish: the earliest it can finish.
        late_start: the latest it may start without moving the end.
        late_finish: the latest it may finish without moving the end.
        total_float: days it may slip without moving the end.
        free_float: days it may slip without moving any other activity.

    Raises:
        NetworkError: the finish is before the start.

    Source: the critical path method.

    >>> Times(6, 9, 10, 13, 4, 2).critical
    False
    """

    early_start: int
    early_finish: int
    late_start: int
    late_finish: int
    total_float: int
    free_float: int

    def __post_init__(self) -> None:
        if self.early_finish < self.early_start or self.late_finish < self.late_start:
            raise NetworkError("An activity cannot finish before it starts.")

    @property
    def critical(self) -> bool:
        """Whether slipping it moves the end.

        Returns:
            True when it has no total float.

        Source: the critical path method.

        >>> Times(0, 6, 0, 6, 0, 0).critical
        True
        """
        return self.total_float <= 0


@dataclass(frozen=True)
class NetworkTimes:
    """The times of a whole network.

    Args:
        times: the times of each activity, in an order in which they can be done.
        length_workdays: the length of the whole, 0 or more.

    Raises:
        NetworkError: the length is negative.

    Source: the critical path method.

    >>> network([Activity("only", 3)], []).length_workdays
    3
    """

    times: Mapping[str, Times]
    length_workdays: int

    def __post_init__(self) -> None:
        if self.length_workdays < 0:
            raise NetworkError("A network cannot be shorter than nothing.")

    @property
    def critical(self) -> tuple[str, ...]:
        """Name the critical activities.

        Returns:
            Their names, in an order in which they can be done.

        Source: the critical path method.

        >>> network([Activity("only", 3)], []).critical
        ('only',)
        """
        return tuple(name for name, times in self.times.items() if times.critical)


@dataclass(frozen=True)
class DatedTimes:
    """The days of one activity.

    Args:
        early_start: the earliest day it can start.
        early_finish: the last day it then takes; for an event the day itself.
        late_start: the latest day it may start without moving the end.
        late_finish: the last day it then takes.
        total_float_workdays: working days of its calendar it may slip without moving the end (negative when
            the day to finish by cannot be kept).
        free_float_workdays: working days of its calendar it may slip without moving any other activity.
        held_by: what sets its early start: the name of an earlier activity, ``start`` of the job, its own
            ``start no earlier``, or that it ``began``.
        has_ended: whether it is over; its days are then those it took, and nothing of it can slip.

    Raises:
        NetworkError: a finish is before its start.

    Source: the critical path method.

    >>> day = date(2027, 1, 4)
    >>> DatedTimes(day, day, day, day, 0, 0, "start").critical
    True
    """

    early_start: date
    early_finish: date
    late_start: date
    late_finish: date
    total_float_workdays: int
    free_float_workdays: int
    held_by: str
    has_ended: bool = False

    def __post_init__(self) -> None:
        if self.early_finish < self.early_start or self.late_finish < self.late_start:
            raise NetworkError("An activity cannot finish before it starts.")

    @property
    def critical(self) -> bool:
        """Whether slipping it moves the end.

        Returns:
            True when it has no total float and is not over.

        Source: the critical path method.

        >>> day, next_day = date(2027, 1, 4), date(2027, 1, 5)
        >>> DatedTimes(day, day, next_day, next_day, 1, 0, "start").critical
        False
        """
        return self.total_float_workdays <= 0 and not self.has_ended


@dataclass(frozen=True)
class Schedule:
    """The days of a whole chain of activities.

    Args:
        times: the days of each activity, in an order in which they can be done.
        finish: the last day of the last activity.

    Raises:
        NetworkError: an activity finishes after the finish.

    Source: the critical path method.

    >>> schedule([DatedActivity("only", 3, WorkCalendar("firm"))], [], date(2027, 1, 4)).finish
    datetime.date(2027, 1, 6)
    """

    times: Mapping[str, DatedTimes]
    finish: date

    def __post_init__(self) -> None:
        if any(times.early_finish > self.finish for times in self.times.values()):
            raise NetworkError("An activity finishes after the finish of the schedule.")

    @property
    def critical(self) -> tuple[str, ...]:
        """Name the critical activities.

        Returns:
            Their names, in an order in which they can be done.

        Source: the critical path method.

        >>> schedule([DatedActivity("only", 3, WorkCalendar("firm"))], [], date(2027, 1, 4)).critical
        ('only',)
        """
        return tuple(name for name, times in self.times.items() if times.critical)


def network(activities: Sequence[Activity], links: Iterable[Link]) -> NetworkTimes:
    """Work out a network in plain day numbers.

    Args:
        activities: the activities, at least one.
        links: the links between them, with lags in working days only.

    Returns:
        The times of every activity and the length of the whole.

    Raises:
        NetworkError: no activities, a name twice, a link to an unknown activity, or a lag in hours.
        CircleError: activities that wait for each other; they are named.

    Source: the critical path method with precedence links (forward pass, then backward pass).

    >>> two = [Activity("A", 3), Activity("B", 2)]
    >>> network(two, [Link("A", "B", lag_workdays=1)]).times["B"].early_start
    4
    """
    by_name = _by_name(activities)
    all_links = tuple(links)
    for link in all_links:
        if link.lag_elapsed_hours:
            raise NetworkError(f"Link {link.before} to {link.after}: hours need a calendar; use working days.")
    order = _in_order(tuple(by_name), all_links)
    span = {name: activity.duration_workdays for name, activity in by_name.items()}
    gap = {link: _start_gap(link, span) for link in all_links}
    early: dict[str, int] = {}
    for name in order:
        pushed = (early[link.before] + gap[link] for link in all_links if link.after == name)
        early[name] = max(by_name[name].start_no_earlier_workday, *pushed, 0)
    length = max(early[name] + span[name] for name in order)
    late: dict[str, int] = {}
    times: dict[str, Times] = {}
    for name in reversed(order):
        onward = [link for link in all_links if link.before == name]
        end = length - span[name]
        late[name] = min([end, *(late[link.after] - gap[link] for link in onward)])
        # The end of the whole bounds free float too: an activity nothing waits for may slip only that far.
        free = min([end, *(early[link.after] - gap[link] for link in onward)]) - early[name]
        times[name] = Times(
            early_start=early[name],
            early_finish=early[name] + span[name],
            late_start=late[name],
            late_finish=late[name] + span[name],
            total_float=late[name] - early[name],
            free_float=free,
        )
    return NetworkTimes({name: times[name] for name in order}, length)


def schedule(
    activities: Sequence[DatedActivity],
    links: Iterable[Link],
    start: date,
    *,
    finish_by: date | None = None,
    overnight_hours: int = OVERNIGHT_HOURS,
) -> Schedule:
    """Work out the days of a chain of activities, each on its own calendar.

    Args:
        activities: the activities, at least one.
        links: the links between them.
        start: the day before which nothing starts.
        finish_by: the day the whole must be finished by, for the late days; None for as early as it can be.
        overnight_hours: hours from the end of one day's work to the start of the next day's, 1 to 23: a lag
            of so many elapsed hours after a finish costs no working day.

    Returns:
        The days of every activity and the finish of the whole. The late days come from a backward pass of
        their own along the calendars, not from the float. What began stays where it began, whatever it waited for;
        what follows goes on from its real end, or from the end its planned days lead to.

    Raises:
        NetworkError: no activities, a name twice, a link to an unknown activity, a start that is not a day, or a
            calendar that is shut too long.
        CircleError: activities that wait for each other; they are named.

    Source: the critical path method with precedence links; elapsed lags roll to the next working day.

    >>> firm = WorkCalendar("firm")
    >>> coats = [DatedActivity("first coat", 1, firm), DatedActivity("second coat", 1, firm)]
    >>> dry = [Link("first coat", "second coat", lag_elapsed_hours=24)]
    >>> schedule(coats, dry, date(2027, 1, 8)).times["second coat"].early_start
    datetime.date(2027, 1, 11)
    """
    _check_day(start, "The start")
    if finish_by is not None:
        _check_day(finish_by, "The day to finish by")
    _check_whole(overnight_hours, "The hours overnight", 1, 23)
    by_name = _by_name(activities)
    # What has begun waits for nothing any more.
    all_links = tuple(link for link in links if link.after not in by_name or by_name[link.after].began_on is None)
    order = _in_order(tuple(by_name), all_links)
    try:
        return _dated(by_name, all_links, order, start, finish_by, overnight_hours)
    except CalendarError as problem:
        raise NetworkError(f"The schedule cannot be worked out: {problem}") from None


def _dated(
    by_name: Mapping[str, DatedActivity],
    links: tuple[Link, ...],
    order: tuple[str, ...],
    start: date,
    finish_by: date | None,
    overnight_hours: int,
) -> Schedule:
    early: dict[str, date] = {}
    held: dict[str, str] = {}
    for name in order:
        activity = by_name[name]
        early[name], held[name] = activity.calendar.on_or_after(start), "start"
        if activity.start_no_earlier is not None:
            own = activity.calendar.on_or_after(activity.start_no_earlier)
            if own > early[name]:
                early[name], held[name] = own, "start no earlier"
        if activity.began_on is not None:
            early[name], held[name] = activity.began_on, "began"
        for link in (link for link in links if link.after == name):
            before = by_name[link.before]
            pushed = _pushed_start(link, before, early[link.before], activity, overnight_hours)
            if pushed > early[name]:
                early[name], held[name] = pushed, link.before

    end = max(_end(by_name[name], early[name]) for name in order)
    last_end = end if finish_by is None else finish_by + _ONE_DAY
    late: dict[str, date] = {}
    free: dict[str, date] = {}
    for name in reversed(order):
        activity = by_name[name]
        if activity.ended_on is not None:
            late[name] = free[name] = early[name]
            continue
        onward = tuple((link, by_name[link.after]) for link in links if link.before == name)
        late[name] = _latest_start(activity, onward, early[name], last_end, late, overnight_hours)
        free[name] = _latest_start(activity, onward, early[name], end, early, overnight_hours)

    return Schedule(
        {
            name: DatedTimes(
                early_start=early[name],
                early_finish=_finish(by_name[name], early[name]),
                late_start=late[name],
                late_finish=_finish(by_name[name], late[name]),
                total_float_workdays=by_name[name].calendar.workdays_between(early[name], late[name]),
                free_float_workdays=by_name[name].calendar.workdays_between(early[name], free[name]),
                held_by=held[name],
                has_ended=by_name[name].ended_on is not None,
            )
            for name in order
        },
        max(_finish(by_name[name], early[name]) for name in order),
    )


def _start_gap(link: Link, span: Mapping[str, int]) -> int:
    """Days from the start of the earlier activity to the first start the link allows the later one."""
    from_finish = span[link.before] if link.kind in ("FS", "FF") else 0
    to_finish = span[link.after] if link.kind in ("FF", "SF") else 0
    return from_finish + link.lag_workdays - to_finish


def _end(activity: DatedActivity, start: date) -> date:
    """The morning after the last day of work; for an event the morning it falls on."""
    if activity.ended_on is not None:
        return activity.ended_on + _ONE_DAY
    if activity.duration_workdays == 0:
        return start
    # Begun on a day off, its planned days count from the next working one.
    first = start if activity.began_on is None else activity.calendar.on_or_after(start)
    return activity.calendar.forward(first, activity.duration_workdays - 1) + _ONE_DAY


def _finish(activity: DatedActivity, start: date) -> date:
    if activity.ended_on is not None:
        return activity.ended_on
    return start if activity.duration_workdays == 0 else _end(activity, start) - _ONE_DAY


def _pushed_start(
    link: Link, before: DatedActivity, before_start: date, after: DatedActivity, overnight_hours: int
) -> date:
    """The first day on which the later activity may start, given the start of the earlier one."""
    from_finish = link.kind in ("FS", "FF")
    to_finish = link.kind in ("FF", "SF")
    moment = _end(before, before_start) if from_finish else before_start
    evening = from_finish and before.duration_workdays > 0
    if link.lag_elapsed_hours:
        to_evening = to_finish and after.duration_workdays > 0
        moment += timedelta(days=_days_waited(link.lag_elapsed_hours, evening, to_evening, overnight_hours))
    elif link.lag_workdays > 0:
        first = before.calendar.on_or_after(moment)
        moment = before.calendar.forward(first, link.lag_workdays - 1) + _ONE_DAY
    elif link.lag_workdays < 0:
        moment = before.calendar.back(moment, -link.lag_workdays)
    if not to_finish or after.duration_workdays == 0:
        return after.calendar.on_or_after(moment)
    finish = moment - _ONE_DAY
    if link.lag_workdays < 0 or not (evening or link.lag_workdays or link.lag_elapsed_hours):
        # A working morning is as early as the evening of the last day worked before it, a weekend between them or not.
        finish = before.calendar.on_or_before(finish)
    return after.calendar.back(after.calendar.on_or_after(finish), after.duration_workdays - 1)


def _days_waited(hours: int, from_evening: bool, to_evening: bool, overnight_hours: int) -> int:
    """Whole days that a wait by the clock moves a morning (or the morning after an evening) on.

    An evening lies ``overnight_hours`` before the morning that stands for it.
    """
    slack = (overnight_hours if from_evening else 0) - (overnight_hours if to_evening else 0)
    return max(0, -((slack - hours) // 24))


def _latest_start(
    activity: DatedActivity,
    onward: tuple[tuple[Link, DatedActivity], ...],
    early_start: date,
    last_end: date,
    starts: Mapping[str, date],
    overnight_hours: int,
) -> date:
    """The last working day on which it may start, so that the end and every start after it still hold.

    Each link is asked forward rather than turned round: with two calendars and elapsed hours it has no simple
    reverse, but whatever day fits, every day before it fits too, so the last one is found by halving.
    """

    def fits(day: date) -> bool:
        return _end(activity, day) <= last_end and all(
            _pushed_start(link, activity, day, after, overnight_hours) <= starts[link.after] for link, after in onward
        )

    low, step = early_start, 1
    while not fits(low):
        low, step = activity.calendar.back(low, step), step * 2
    high = activity.calendar.on_or_after(max(low, last_end))
    while low < high:
        middle = activity.calendar.on_or_after(low + timedelta(days=(high - low).days // 2 + 1))
        if fits(middle):
            low = middle
        else:
            high = activity.calendar.back(middle, 1)
    return low


class _Named(Protocol):
    @property
    def name(self) -> str: ...


_Activity = TypeVar("_Activity", bound=_Named)


def _by_name(activities: Sequence[_Activity]) -> dict[str, _Activity]:
    if not activities:
        raise NetworkError("There are no activities: give at least one.")
    by_name: dict[str, _Activity] = {}
    for activity in activities:
        if activity.name in by_name:
            raise NetworkError(f"There are two activities named {activity.name!r}; each name is used once.")
        by_name[activity.name] = activity
    return by_name


def _in_order(names: Sequence[str], links: Sequence[Link]) -> tuple[str, ...]:
    """The names in an order in which each comes after those it waits for, otherwise as given."""
    waits_for: dict[str, set[str]] = {name: set() for name in names}
    for link in links:
        for name in (link.before, link.after):
            if name not in waits_for:
                raise NetworkError(f"Link {link.before} to {link.after}: there is no activity {name!r}.")
        waits_for[link.after].add(link.before)
    result: dict[str, None] = {}
    while len(result) < len(names):
        ready = next((n for n in names if n not in result and waits_for[n] <= result.keys()), None)
        if ready is None:
            circle = _circle({name: waits for name, waits in waits_for.items() if name not in result})
            raise CircleError(circle)
        result[ready] = None
    return tuple(result)


def _circle(waits_for: Mapping[str, set[str]]) -> list[str]:
    """One circle of activities that wait for each other, its first name given again at the end."""
    walked = [min(waits_for)]
    while True:
        before = min(name for name in waits_for[walked[-1]] if name in waits_for)
        if before in walked:
            circle = walked[walked.index(before) :][::-1]
            first = circle.index(min(circle))
            return [*circle[first:], *circle[: first + 1]]
        walked.append(before)


def _check_activity(name: str, duration_workdays: int) -> None:
    if not name.strip():
        raise NetworkError("An activity needs a name.")
    _check_whole(duration_workdays, f"Activity {name}: the duration", 0, MAX_DURATION_WORKDAYS)


def _check_whole(value: int, what: str, least: int, most: int) -> None:
    if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most:
        raise NetworkError(f"{what} must be a whole number from {least:,} to {most:,}, not {value!r}.")


def _check_day(day: date, what: str) -> None:
    if isinstance(day, datetime) or not isinstance(day, date):
        raise NetworkError(f"{what} must be a day without a time, not {day!r}.")
