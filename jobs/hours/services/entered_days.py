"""Hours as a person entered them before: the day a new one is filled in from, the week so far, who is missing."""

from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import Q, QuerySet

from catalog.core.ground.workdays import WorkCalendar
from jobs.hours.models import TimeEntry, Worker
from jobs.hours.services.workers import workers_on
from jobs.schedule.models import NamedPerson
from quoting.platform.people.models import Person

LOOKS_BACK_DAYS = 31
MAX_MISSING_DAYS = 5


@dataclass(frozen=True)
class Group:
    """Work of one day that several did alike: on what, how long, who. job: its id, None for work on no job."""

    job: int | None
    step: str
    elsewhere: str
    tag: str
    minutes: int
    workers: tuple[int, ...]


@dataclass(frozen=True)
class WeekOfWorker:
    """days: minutes by day, from Monday to the day asked for."""

    worker: Worker
    days: dict[date, int]

    @property
    def minutes(self) -> int:
        return sum(self.days.values())


def standing_entries() -> QuerySet[TimeEntry]:
    """Those that say what was worked: none voided, reversed or reversing."""
    return TimeEntry.objects.filter(voided_at=None, reverses=None, reversed_by=None)


def day_before(person: Person, day: date) -> date | None:
    """The last day before for which the person entered hours, or their own were entered."""
    rows = standing_entries().filter(Q(entered_by_name=person.full_name) | Q(worker__person=person))
    rows = rows.filter(day__lt=day, day__gte=day - timedelta(days=LOOKS_BACK_DAYS))
    return rows.order_by("-day").values_list("day", flat=True).first()


def groups_of(person: Person, day: date, workers: Collection[int]) -> list[Group]:
    """What the person entered of a day, for those of the workers who were there."""
    rows = standing_entries().filter(day=day, worker__in=workers).order_by("pk")
    rows = rows.filter(Q(entered_by_name=person.full_name) | Q(worker__person=person))
    groups: defaultdict[tuple[int | None, str, str, str, int], list[int]] = defaultdict(list)
    for row in rows:
        groups[row.job_id, row.step, row.elsewhere, row.tag, row.typed_minutes].append(row.worker_id)
    return [Group(*key, tuple(dict.fromkeys(ids))) for key, ids in groups.items()]


def crew_of(person: Person, day: date, among: QuerySet[Worker]) -> list[Worker]:
    """Whose hours the person enters as a rule: as of late, those named to their jobs, and their own."""
    rows = standing_entries().filter(entered_by_name=person.full_name, day__gte=day - timedelta(days=LOOKS_BACK_DAYS))
    known = set(rows.values_list("worker", flat=True))
    names = {name.casefold() for name in _named_with(person, day)}
    there = among.filter(pk__in=workers_on(day).values("pk"))
    return [
        entry for entry in there if entry.pk in known or entry.person_id == person.pk or entry.name.casefold() in names
    ]


def _named_with(person: Person, day: date) -> set[str]:
    rows = NamedPerson.objects.filter(job__closed_on=None)
    rows = rows.filter(Q(first_day=None) | Q(first_day__lte=day), Q(last_day=None) | Q(last_day__gte=day))
    named = list(rows.values_list("job", "name"))
    own = {job for job, name in named if name.casefold() == person.full_name.casefold()}
    return {name for job, name in named if job in own}


def week_of(workers: Iterable[Worker], day: date) -> list[WeekOfWorker]:
    """Of each who worked in the week of the day so far."""
    monday, ids = day - timedelta(days=day.weekday()), {entry.pk: entry for entry in workers}
    rows = TimeEntry.objects.filter(worker__in=ids, day__gte=monday, day__lte=day, voided_at=None)
    week: defaultdict[int, defaultdict[date, int]] = defaultdict(lambda: defaultdict(int))
    for worker, on, minutes in rows.order_by("day").values_list("worker", "day", "minutes"):
        week[worker][on] += minutes
    return [WeekOfWorker(ids[pk], dict(days)) for pk, days in week.items()]


def missing_days(
    workers: Collection[Worker], first: date, last: date, calendar: WorkCalendar
) -> dict[date, list[Worker]]:
    """Working days of the firm, both ends included, on which a worker has no hours, not even on no job."""
    rows = standing_entries().filter(worker__in=[worker.pk for worker in workers], day__gte=first, day__lte=last)
    there = set(rows.values_list("worker", "day"))
    days: dict[date, list[Worker]] = {}
    for day in (first + timedelta(days=n) for n in range((last - first).days + 1)):
        absent = [worker for worker in workers if worker.works_on(day) and (worker.pk, day) not in there]
        if absent and calendar.is_workday(day):
            days[day] = absent
    return days


def missing_of_late(
    person: Person, today: date, among: QuerySet[Worker], calendar: WorkCalendar
) -> dict[date, list[Worker]]:
    """Of the person's crew, on the last working days before today, from the first day hours of anybody are there."""
    began = standing_entries().order_by("day").values_list("day", flat=True).first()
    if began is None:
        return {}
    first = calendar.back(today, MAX_MISSING_DAYS)
    return missing_days(crew_of(person, today, among), max(first, began), today - timedelta(days=1), calendar)
