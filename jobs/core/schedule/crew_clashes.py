"""Days on which jobs together want more people on site than the firm has."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from catalog.core.ground.declared import View
from catalog.core.ground.workdays import Closure, WorkCalendar

MAX_DAYS_AHEAD = 1000
"""How far ahead clashes are looked for, in calendar days."""


@dataclass(frozen=True)
class CrewDays(View):
    """People on one activity of one job over a stretch of days.

    Args:
        job: the job's key.
        activity: what they do, in words.
        first_day, last_day: both included; days the firm does not work count for nothing.
        people: how many of the firm, 1 or more.
        signed: whether the job is; the work of others may never come.

    Raises:
        ValueError: the last day is before the first, or there is nobody.

    Source: own rule.

    >>> CrewDays("J-1", "Trim", date(2027, 1, 25), date(2027, 1, 26), 2).people
    2
    """

    job: str
    activity: str
    first_day: date
    last_day: date
    people: int
    signed: bool = True

    def __post_init__(self) -> None:
        if self.last_day < self.first_day:
            raise ValueError(f"{self.activity}: the last day, {self.last_day}, is before the first, {self.first_day}")
        if self.people < 1:
            raise ValueError(f"{self.activity}: people must be 1 or more, not {self.people}")


@dataclass(frozen=True)
class CrewClash:
    """Days in a row on which the same jobs together want the same number of people, more than there are.

    first_day, last_day: working days of the firm. wanted, there: people. parts: who wants them, by job and activity;
    on some of these days one activity of a job may follow another. by_job: people wanted on each of them, by job.
    """

    first_day: date
    last_day: date
    wanted: int
    there: int
    parts: tuple[CrewDays, ...]
    by_job: Mapping[str, int]

    @property
    def jobs(self) -> tuple[str, ...]:
        """The jobs that want people on these days, each once.

        >>> day = date(2027, 1, 25)
        >>> CrewClash(day, day, 4, 2, (CrewDays("J-1", "Trim", day, day, 4),), {"J-1": 4}).jobs
        ('J-1',)
        """
        return tuple(self.by_job)

    @property
    def wanted_signed(self) -> int:
        """How many of the people wanted are wanted by signed jobs.

        >>> day = date(2027, 1, 25)
        >>> CrewClash(day, day, 4, 2, (CrewDays("J-1", "Trim", day, day, 4, signed=False),), {"J-1": 4}).wanted_signed
        0
        """
        return sum(self.by_job[job] for job in {part.job for part in self.parts if part.signed})

    @property
    def is_of_signed(self) -> bool:
        """Whether signed jobs alone want more people than there are."""
        return self.wanted_signed > self.there


def crew_clashes(planned: Iterable[CrewDays], firm: WorkCalendar, people: int, since: date) -> tuple[CrewClash, ...]:
    """Find the days on which open jobs want more people than the firm has.

    Args:
        planned: people on every activity of every open job; activities of one job at a time count together.
        firm: the firm's calendar.
        people: how many of the firm work on site, 1 or more.
        since: the first day looked at; days before it are passed over, and those over 1,000 days after it.

    Returns:
        The clashes in their order, neighbouring working days on which each job wants as many people as one. A single
        job that wants more people than there are is a clash as well.

    Raises:
        ValueError: fewer than one person.

    Source: own rule.

    >>> day = date(2027, 1, 25)
    >>> both = [CrewDays(job, "Trim", day, date(2027, 1, 26), 2) for job in ("J-1", "J-2")]
    >>> [(one.first_day.day, one.last_day.day, one.wanted) for one in crew_clashes(both, WorkCalendar("firm"), 2, day)]
    [(25, 26, 4)]
    """
    if people < 1:
        raise ValueError(f"people on site must be 1 or more, not {people}")
    until = since + timedelta(days=MAX_DAYS_AHEAD)
    stretches = sorted(
        (day for day in planned if day.last_day >= since and day.first_day <= until),
        key=lambda day: (day.first_day, day.job, day.activity, day.last_day),
    )
    # Who is on site only changes where a stretch begins or has ended.
    turns = sorted(
        {max(stretch.first_day, since) for stretch in stretches} | {_next(stretch.last_day) for stretch in stretches}
    )
    clashes: list[CrewClash] = []
    coming, here = iter(stretches), list[CrewDays]()
    following = next(coming, None)
    for first, after in pairwise(turns):
        here = [day for day in here if day.last_day >= first]
        while following is not None and following.first_day <= first:
            here.append(following)
            following = next(coming, None)
        on_site = tuple(here)
        wanted = sum(day.people for day in on_site)
        first_day, last_day = firm.on_or_after(first), firm.on_or_before(after - timedelta(days=1))
        if wanted <= people or last_day < first_day:
            continue
        by_job: dict[str, int] = {}
        for entry in on_site:
            by_job[entry.job] = by_job.get(entry.job, 0) + entry.people
        before = clashes[-1] if clashes else None
        if before and before.by_job == by_job and firm.forward(before.last_day, 1) == first_day:
            parts = tuple(dict.fromkeys((*before.parts, *on_site)))
            clashes[-1] = CrewClash(before.first_day, last_day, wanted, people, parts, before.by_job)
        else:
            clashes.append(CrewClash(first_day, last_day, wanted, people, on_site, by_job))
    return tuple(clashes)


def worked_stretches(first_day: date, last_day: date, shut: Sequence[Closure]) -> tuple[tuple[date, date], ...]:
    """Take the days a site is shut out of a stretch.

    Args:
        first_day, last_day: both included.
        shut: closures of the site; they may overlap.

    Returns:
        What is left, first and last day of each stretch, in order; nothing when all of it is shut.

    Raises:
        Nothing.

    Source: own rule.

    >>> day = date(2027, 1, 25)
    >>> worked_stretches(day, date(2027, 1, 29), [Closure(date(2027, 1, 26), date(2027, 1, 27))])
    ((datetime.date(2027, 1, 25), datetime.date(2027, 1, 25)), (datetime.date(2027, 1, 28), datetime.date(2027, 1, 29)))
    """
    left: list[tuple[date, date]] = []
    begin = first_day
    for entry in sorted(shut, key=lambda closure: closure.first_day):
        if entry.last_day < begin or entry.first_day > last_day:
            continue
        if entry.first_day > begin:
            left.append((begin, entry.first_day - timedelta(days=1)))
        begin = _next(entry.last_day)
    if begin <= last_day:
        left.append((begin, last_day))
    return tuple(left)


def _next(day: date) -> date:
    return day + timedelta(days=1) if day < date.max else day
