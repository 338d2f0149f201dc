"""The hours of one job by step: planned, spent and left, with the rows a sum opens to. No money in here."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import QuerySet

from jobs.core.costs.hours import StepHours, hours_by_step
from jobs.hours.models import TimeEntry
from jobs.hours.services.hour_rows import hour_rows_of, hours_left_of
from jobs.hours.services.steps import Step, steps_of
from jobs.jobs.models import Job

NO_STEP = "On no step"


@dataclass(frozen=True)
class NamedStepHours:
    name: str
    hours: StepHours


def job_hours(job: Job, today: date) -> list[NamedStepHours]:
    return hours_of_jobs([job], today)[job.pk]


def hours_of_jobs(jobs: Collection[Job], today: date) -> dict[int, list[NamedStepHours]]:
    """By job: each step in the order it is worked, then what else was worked on."""
    ids = [job.pk for job in jobs]
    rows, left = hour_rows_of(ids), hours_left_of(ids)
    found = {}
    for job in jobs:
        steps = steps_of(job, today)
        planned = {key: step.planned for key, step in steps.items() if step.planned}
        hours = {hour.step: hour for hour in hours_by_step(planned, rows[job.pk], left[job.pk])}
        hours |= {key: StepHours(key, None, 0, None) for key in steps.keys() - hours.keys()}
        order = [*steps, *(key for key in hours if key not in steps)]
        found[job.pk] = [NamedStepHours(name_of(key, steps), hours[key]) for key in order]
    return found


def name_of(key: str, steps: dict[str, Step]) -> str:
    return steps[key].name if key in steps else key or NO_STEP


def spent(steps: Iterable[NamedStepHours]) -> int:
    return sum(step.hours.spent for step in steps)


def entries_of(job: Job, step: str | None = None) -> QuerySet[TimeEntry]:
    """The newest first, with those voided. step: of one alone; empty for work on no step."""
    rows = TimeEntry.objects.filter(job=job).select_related("worker", "job")
    rows = rows if step is None else rows.filter(step=step)
    return rows.order_by("-day", "-pk")
