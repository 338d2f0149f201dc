"""The days people are planned to be on each open job, kept as rows beside its needs, and the clashes among them."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import F, Q

from catalog.core.ground.workdays import WorkCalendar
from catalog.services.book import firm_of, standards_of
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.schedule.activities import ActivityPlan
from jobs.core.schedule.crew_clashes import MAX_DAYS_AHEAD, CrewClash, CrewDays, crew_clashes, worked_stretches
from jobs.core.schedule.job_spec import JobSpec
from jobs.core.schedule.people import NameClash, name_clashes, named_days
from jobs.jobs.models import Job
from jobs.jobs.services.signed import of_work, signed_jobs
from jobs.needs.services.stored_needs import after_refresh
from jobs.schedule.models import NamedPerson, PlannedActivityDays


def keep_planned_days(job: Job, work_up: JobWorkUp | None) -> None:
    """In the transaction that stores a job's needs."""
    wanted = _rows(job, work_up.read.job, work_up.plan) if work_up else []
    present = {(row.key, row.first_day): row for row in PlannedActivityDays.objects.filter(job=job)}
    same = [
        present.pop(key) for row in wanted if _figures(present.get(key := (row.key, row.first_day))) == _figures(row)
    ]
    days = {(row.key, row.first_day) for row in same}
    PlannedActivityDays.objects.filter(pk__in=[row.pk for row in present.values()]).delete()
    PlannedActivityDays.objects.bulk_create([row for row in wanted if (row.key, row.first_day) not in days])


def _rows(job: Job, spec: JobSpec, plan: ActivityPlan) -> list[PlannedActivityDays]:
    return [
        PlannedActivityDays(
            job=job,
            key=activity.key,
            name=activity.name,
            first_day=first_day,
            last_day=last_day,
            people=activity.people,
        )
        for activity in plan.activities
        if activity.times and activity.people and activity.duration_workdays
        for first_day, last_day in worked_stretches(
            activity.times.early_start, activity.times.early_finish, spec.closures
        )
    ]


def _figures(row: PlannedActivityDays | None) -> object:
    return row and (row.name, row.last_day, row.people)


@dataclass(frozen=True)
class CrewDaysAhead:
    """people: of the firm on site, None while not stated. named: people wanted by two jobs at once, by name.
    out_of_date: open jobs whose days are being worked out."""

    people: int | None
    clashes: tuple[CrewClash, ...]
    named: tuple[NameClash, ...]
    jobs: dict[str, Job]
    out_of_date: tuple[Job, ...]

    def of_job(self, key: str) -> tuple[CrewClash, ...]:
        return tuple(clash for clash in self.clashes if key in clash.jobs)

    def named_of_job(self, key: str) -> tuple[NameClash, ...]:
        return tuple(clash for clash in self.named if key in clash.jobs)


def crew_days_ahead(today: date, days: int = MAX_DAYS_AHEAD, work: str = "") -> CrewDaysAhead:
    """From rows, in a number of queries that does not grow with the jobs. Raises NoFirmYet.

    days: how far ahead activities may begin that are looked at. work: of signed or of unsigned jobs alone.
    """
    fact = standards_of().fact("people_on_site")
    people = int(fact.value) if fact else None
    firm, until = firm_of().calendar, today + timedelta(days=days)
    rows = PlannedActivityDays.objects.filter(
        of_work(work), job__closed_on=None, last_day__gte=today, first_day__lte=until
    ).values_list("job", "job__key", "name", "first_day", "last_day", "people")
    signed = set(signed_jobs())
    planned = [CrewDays(*row, signed=job in signed) for job, *row in rows]
    clashes = crew_clashes(planned, firm, people, today) if people else ()
    named = _named_twice(planned, firm, today)
    keys = {part.job for clash in clashes for part in clash.parts} | {key for clash in named for key in clash.jobs}
    behind = Job.objects.filter(closed_on=None).filter(
        Q(worked=None) | Q(worked__worked_changes=None) | ~Q(worked__worked_changes=F("worked__changes"))
    )
    return CrewDaysAhead(
        people,
        clashes,
        named,
        {job.key: job for job in Job.objects.filter(key__in=keys).select_related("client")},
        tuple(behind.order_by("key")),
    )


def _named_twice(planned: list[CrewDays], firm: WorkCalendar, today: date) -> tuple[NameClash, ...]:
    worked = defaultdict(list)
    for day in planned:
        worked[day.job].append((day.first_day, day.last_day))
    people = defaultdict(list)
    for row in NamedPerson.objects.filter(job__closed_on=None).select_related("job"):
        people[row.job.key].append(row.to_core())
    wanted = [entry for job, named in people.items() for entry in named_days(job, named, worked[job])]
    return name_clashes(wanted, firm, today)


after_refresh.append(keep_planned_days)
