"""What is one person's today: activities of the jobs they are on, goods to come there, and the steps they take next.

A job that names no lead is every lead carpenter's, so that nothing waits for somebody to be named.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import Q, QuerySet

from catalog.core.ground.workdays import WorkCalendar, calendar_with
from catalog.services.book import firm_of
from jobs.core.ordering.next_steps import NextStep, next_steps
from jobs.core.schedule.people import is_same_name
from jobs.dates.services.held_items import held_items
from jobs.dates.services.item_schedule import OpenJobItems
from jobs.deliveries.services.due_deliveries import DueLine, due_in_short
from jobs.jobs.models import Job
from jobs.schedule.models import ActualDays, NamedPerson, PlannedActivityDays
from quoting.platform.people.models import Person, Role

Days = dict[str, list[PlannedActivityDays]]


@dataclass(frozen=True)
class OwnActivity:
    """An activity of one job today, or the next there. day: of how many working days today is, 0 before the first.
    signed: whether its job is."""

    job: Job
    key: str
    name: str
    first_day: date
    day: int
    days: int
    actual: ActualDays | None
    signed: bool


@dataclass(frozen=True)
class OwnDay:
    """jobs: those they are on. activities: of today. coming: the next of each job without any today. deliveries: of
    these jobs, expected by today. steps: what they do next before items are ordered."""

    jobs: tuple[Job, ...]
    activities: tuple[OwnActivity, ...]
    coming: tuple[OwnActivity, ...]
    deliveries: tuple[DueLine, ...]
    steps: tuple[tuple[Job, NextStep], ...]


def own_day(person: Person, read: OpenJobItems) -> OwnDay:
    """In a number of queries that does not grow with the jobs. read: of all open jobs. Raises NoFirmYet."""
    today, jobs = read.desk.today, tuple(own_jobs(person, read.desk.today))
    ids = {job.pk for job in jobs}
    here = [job for job in jobs if not _is_elsewhere(job, person, today)]
    activities, coming = _activities(here, read) if here else ((), ())
    steps = next_steps(held_items(read, ids if person.role == Role.LEAD else None), person.role)  # type: ignore[arg-type]
    named = Job.objects.in_bulk({step.job for step in steps})
    # Signed work first.
    ordered = sorted(steps, key=lambda step: step.job not in read.signed)
    return OwnDay(jobs, activities, coming, tuple(_deliveries(ids, today)), tuple((named[s.job], s) for s in ordered))


def own_activities(person: Person, read: OpenJobItems) -> tuple[OwnActivity, ...]:
    """Of today, of somebody who is named to jobs. Raises NoFirmYet."""
    today = read.desk.today
    here = [job for job in own_jobs(person, today) if not _is_elsewhere(job, person, today)]
    return _activities(here, read)[0] if here else ()


def own_jobs(person: Person, today: date) -> QuerySet[Job]:
    there = NamedPerson.objects.filter(Q(last_day=None) | Q(last_day__gte=today), job__closed_on=None)
    rows = list(there.values_list("job", "name", "part"))
    own = Q(pk__in={job for job, name, _ in rows if is_same_name(name, person.full_name)})
    if person.role == Role.LEAD:
        own |= ~Q(pk__in={job for job, _, part in rows if part == "lead"})
    jobs = Job.objects.filter(own, closed_on=None).select_related("client").prefetch_related("people", "closures")
    return jobs.order_by("start_on", "pk")


def _is_elsewhere(job: Job, person: Person, today: date) -> bool:
    """Named to the job, and on other days than this one alone."""
    own = [entry.to_core() for entry in job.people.all() if is_same_name(entry.name, person.full_name)]
    return bool(own) and not any(entry.is_on(today) for entry in own)


def _activities(jobs: Iterable[Job], read: OpenJobItems) -> tuple[tuple[OwnActivity, ...], tuple[OwnActivity, ...]]:
    firm, ids, today = firm_of(), [job.pk for job in jobs], read.desk.today
    planned: defaultdict[int, Days] = defaultdict(dict)
    for row in PlannedActivityDays.objects.filter(job__in=ids).order_by("first_day", "pk"):
        planned[row.job_id].setdefault(row.key, []).append(row)
    begun: defaultdict[int, dict[str, ActualDays]] = defaultdict(dict)
    for entry in ActualDays.objects.filter(job__in=ids):
        begun[entry.job_id][entry.key] = entry
    now, coming = [], []
    for job in sorted(jobs, key=lambda job: job.pk not in read.signed):
        calendar = calendar_with(firm.name, (*firm.closures, *(shut.to_core() for shut in job.closures.all())))
        every = [
            _activity(job, key, rows, begun[job.pk].get(key), calendar, read) for key, rows in planned[job.pk].items()
        ]
        here = [own for own, last in every if _is_today(own, last, today)]
        now += here
        coming += [] if here else [own for own, _ in every if own.first_day > today and own.actual is None][:1]
    return tuple(now), tuple(coming)


def _activity(
    job: Job,
    key: str,
    rows: list[PlannedActivityDays],
    actual: ActualDays | None,
    calendar: WorkCalendar,
    read: OpenJobItems,
) -> tuple[OwnActivity, date]:
    """With the last day it is planned or really took."""
    today = read.desk.today
    first = actual.began_on if actual else rows[0].first_day
    last = max(rows[-1].last_day, first)
    before = first - timedelta(days=1)
    day = max(0, calendar.workdays_between(before, today)) if today >= first else 0
    days = calendar.workdays_between(before, last)
    return OwnActivity(job, key, rows[0].name, first, day, days, actual, job.pk in read.signed), last


def _is_today(activity: OwnActivity, last: date, today: date) -> bool:
    """What began goes on until its end is said; what ended is of the day it ended."""
    if activity.actual is not None:
        return activity.actual.ended_on in (None, today)
    return activity.first_day <= today <= last


def _deliveries(ids: set[int], today: date) -> Iterator[DueLine]:
    if ids:
        for order in due_in_short():
            yield from (
                line
                for line in order.lines
                if line.line.job_id in ids and line.expected_on and line.expected_on <= today
            )
