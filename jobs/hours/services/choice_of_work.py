"""What hours may be entered on: jobs somebody works on about now, each with its steps as last worked out."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import Q

from jobs.core.costs.hours import about_hours_words, hours_words
from jobs.hours.models import TimeEntry
from jobs.hours.services.job_hours import NamedStepHours, hours_of_jobs
from jobs.jobs.models import Job
from jobs.schedule.models import ActualDays, NamedPerson, PlannedActivityDays
from quoting.platform.people.models import Person

MAX_JOBS = 12
ABOUT = timedelta(days=14)


@dataclass(frozen=True)
class JobOffered:
    job: Job
    steps: tuple[NamedStepHours, ...]


def jobs_offered(person: Person, day: date, also: Collection[int] = ()) -> list[JobOffered]:
    """also: ids of jobs that are wanted whatever is planned, such as yesterday's."""
    chosen = list(Job.objects.filter(pk__in=set(also)).order_by("title"))
    near = _jobs_near(person, day) - {job.pk for job in chosen}
    rest = Job.objects.filter(pk__in=near, closed_on=None).order_by("start_on", "pk")[: max(0, MAX_JOBS - len(chosen))]
    jobs = [*chosen, *rest]
    hours = hours_of_jobs(jobs, day)
    return [JobOffered(job, tuple(hours[job.pk])) for job in jobs]


def _jobs_near(person: Person, day: date) -> set[int]:
    """Worked on, begun or planned about this day; where there is none, those the person is named to."""
    worked = TimeEntry.objects.filter(voided_at=None, day__gte=day - ABOUT, day__lte=day, job__closed_on=None)
    planned = PlannedActivityDays.objects.filter(first_day__lte=day + ABOUT, last_day__gte=day - ABOUT)
    begun = ActualDays.objects.filter(Q(ended_on=None) | Q(ended_on__gte=day - ABOUT))
    near = {pk for rows in (worked, planned, begun) for pk in rows.values_list("job", flat=True)}
    named = NamedPerson.objects.filter(job__closed_on=None, name__iexact=person.full_name)
    return near or set(named.values_list("job", flat=True))


def step_words(step: NamedStepHours) -> str:
    """Planned, spent and left, as one line."""
    hours = step.hours
    texts = [f"Planned {about_hours_words(hours.planned)}"] if hours.planned else ["Nothing planned"]
    texts.append(f"spent {hours_words(hours.spent)}")
    return ", ".join([*texts, left_words(step) or "left not said"])


def left_words(step: NamedStepHours) -> str:
    """What is left of a step; empty where nobody said, and all that is planned is spent."""
    hours = step.hours
    if hours.left is not None:
        return "done" if hours.left.is_done else f"left {hours_words(hours.left.minutes)}"
    return "" if hours.left_minutes is None else f"left {about_hours_words(hours.left_minutes)}"


def pace_words(step: NamedStepHours) -> str:
    """What is left if the rest goes as it went; empty where nobody said enough to go by."""
    left, pace = step.hours.left, step.hours.at_this_pace
    if left is None or pace is None:
        return ""
    return f"{left.percent} % done: {about_hours_words(pace)} at this pace"
