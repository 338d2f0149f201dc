"""The steps of a job hours are entered on: the crew's work as planned, and what rooms above add to it."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from catalog.services.book import NoFirmYet
from jobs.hours.models import HoursLeft, TimeEntry
from jobs.jobs.models import Job
from jobs.needs.services.stored_jobs import stored_job


@dataclass(frozen=True)
class Step:
    """planned: minutes for the whole crew, None where nothing is planned for it."""

    key: str
    name: str
    planned: int | None


more_steps: list[Callable[[Job], Iterable[Step]]] = []
"""What was agreed: its hours stand before those of the plan as it is now, and work the plan does not know comes after
it, such as that of a change note."""


def steps_of(job: Job, today: date) -> dict[str, Step]:
    """By key, in the order they are worked."""
    steps = {step.key: step for step in _planned(job, today)}
    for reader in more_steps:
        for step in reader(job):
            known = steps.get(step.key, step)
            steps[step.key] = Step(step.key, known.name, step.planned or known.planned)
    return steps


def known_steps(job: Job, today: date) -> dict[str, Step]:
    """Those of today, and those hours were entered on or said to be left of before."""
    steps = steps_of(job, today)
    for rows in (TimeEntry, HoursLeft):
        for key in rows.objects.filter(job=job).exclude(step="").values_list("step", flat=True).distinct().order_by():
            steps.setdefault(key, Step(key, key, None))
    return steps


def _planned(job: Job, today: date) -> Iterable[Step]:
    try:
        plan = stored_job(job, today).plan
    except NoFirmYet:
        return
    for activity in plan.activities if plan else ():
        if activity.kind == "work":
            minutes = int((Decimal(repr(activity.hours)) * 60).to_integral_value(ROUND_HALF_UP))
            yield Step(activity.key, activity.name, minutes or None)
