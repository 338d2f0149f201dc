"""Who is named to a job, as its lead or on its crew, and on which days somebody is named to two jobs at once."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from typing import Annotated, Literal, get_args

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import Text, View, build, read_fields
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import EntryError
from catalog.core.ground.workdays import WorkCalendar

Part = Literal["lead", "crew"]
PARTS: tuple[Part, ...] = get_args(Part)
MAX_NAME = 120
_ONE_DAY = timedelta(days=1)


@dataclass(frozen=True)
class NamedPerson:
    """Somebody on the job over a stretch of days.

    Raises:
        EntryError: naming the entry that cannot be.

    Source: own rule.

    >>> NamedPerson("Ines Quarrell", "lead").is_on(date(2027, 1, 5))
    True
    """

    name: Annotated[str, Text(MAX_NAME), "As the firm calls them; logged in by this name they find the job on Today."]
    part: Annotated[Part, "lead of the work, or one of its crew."] = "crew"
    first_day: Annotated[date | None, "From this day; null from the first of the job."] = None
    last_day: Annotated[date | None, "To this day; null to the last of the job."] = None

    @classmethod
    def from_document(cls, reader: Reader) -> NamedPerson:
        values = read_fields(cls, reader)
        return build(cls, reader, values | {"name": " ".join(values["name"].split())})

    def __post_init__(self) -> None:
        if not self.name.strip() or len(self.name) > MAX_NAME:
            raise EntryError("name", f"give a name of at most {MAX_NAME} characters")
        if self.part not in PARTS:
            raise EntryError("part", f'"{self.part}" is not one of {", ".join(PARTS)}')
        if self.first_day and self.last_day and self.last_day < self.first_day:
            raise EntryError(
                "last_day", f"{day_words(self.last_day)} is before the first day, {day_words(self.first_day)}"
            )

    def is_on(self, day: date) -> bool:
        return (self.first_day or day) <= day <= (self.last_day or day)

    def within(self, first_day: date, last_day: date) -> tuple[date, date] | None:
        """The part of a stretch of days they are named to, None where it is none of it.

        >>> from_the_fifth = NamedPerson("Ines Quarrell", first_day=date(2027, 1, 5))
        >>> from_the_fifth.within(date(2027, 1, 4), date(2027, 1, 6))
        (datetime.date(2027, 1, 5), datetime.date(2027, 1, 6))
        """
        first, last = max(first_day, self.first_day or first_day), min(last_day, self.last_day or last_day)
        return (first, last) if first <= last else None


def folded_name(name: str) -> str:
    """A name without what people type differently: capitals and spaces.

    name: as typed. Returns it folded. Source: own rule.

    >>> folded_name("Ines  Quarrell ")
    'ines quarrell'
    """
    return " ".join(name.casefold().split())


def is_same_name(text: str, other: str) -> bool:
    """Whether two names are one person's.

    text, other: as typed. Returns True when they differ in capitals and spaces at most. Source: own rule.

    >>> is_same_name("Ines  Quarrell", "ines quarrell ")
    True
    """
    return folded_name(text) == folded_name(other)


@dataclass(frozen=True)
class NamedDays:
    """Days in a row on which a job has work and somebody is named to it; both ends included."""

    name: str
    job: str
    first_day: date
    last_day: date


@dataclass(frozen=True)
class NameClash(View):
    """Working days in a row on which one person is named to the same two jobs or more."""

    name: str
    first_day: date
    last_day: date
    jobs: tuple[str, ...]


def named_days(job: str, people: Iterable[NamedPerson], worked: Sequence[tuple[date, date]]) -> Iterator[NamedDays]:
    """The days on which people are wanted on a job: those they are named to on which it has work.

    job: its key. people: named to it. worked: stretches of days on which the firm works on it.
    Source: own rule; while a coat dries nobody is wanted.

    >>> day = date(2027, 1, 5)
    >>> [one.name for one in named_days("J-1", [NamedPerson("Ines Quarrell")], [(day, day)])]
    ['Ines Quarrell']
    """
    for person in people:
        for first_day, last_day in worked:
            if days := person.within(first_day, last_day):
                yield NamedDays(person.name, job, *days)


def name_clashes(named: Iterable[NamedDays], firm: WorkCalendar, since: date) -> tuple[NameClash, ...]:
    """Find the days on which one person is wanted by two jobs.

    Args:
        named: of every open job. firm: the firm's calendar; days it does not work count for nothing. since: the first
            day looked at.

    Returns:
        The clashes by day and name, neighbouring working days with the same jobs as one.

    Raises:
        Nothing of its own.

    Source: own rule.

    >>> days = [NamedDays("Ines", job, date(2027, 1, 25), date(2027, 1, 26)) for job in ("J-1", "J-2")]
    >>> [one.jobs for one in name_clashes(days, WorkCalendar("firm"), date(2027, 1, 4))]
    [('J-1', 'J-2')]
    """
    by_name: defaultdict[str, list[NamedDays]] = defaultdict(list)
    for day in named:
        if day.last_day >= since:
            by_name[folded_name(day.name)].append(day)
    clashes = [clash for days in by_name.values() for clash in _of_one(days, firm, since)]
    return tuple(sorted(clashes, key=lambda clash: (clash.first_day, clash.name, clash.jobs)))


def _of_one(days: Sequence[NamedDays], firm: WorkCalendar, since: date) -> list[NameClash]:
    turns = sorted({max(day.first_day, since) for day in days} | {day.last_day + _ONE_DAY for day in days})
    clashes: list[NameClash] = []
    for first, after in pairwise(turns):
        jobs = tuple(sorted({day.job for day in days if day.first_day <= first <= day.last_day}))
        first_day, last_day = firm.on_or_after(first), firm.on_or_before(after - _ONE_DAY)
        if len(jobs) < 2 or last_day < first_day:
            continue
        before = clashes[-1] if clashes else None
        if before and before.jobs == jobs and firm.forward(before.last_day, 1) == first_day:
            clashes[-1] = NameClash(before.name, before.first_day, last_day, jobs)
        else:
            clashes.append(NameClash(days[0].name, first_day, last_day, jobs))
    return clashes
