"""A job's changes to its chain of activities, and who is named to it, as rows."""

from collections.abc import Iterable
from decimal import Decimal

from catalog.services.row_sync import Figures, figures_of, sync_rows
from jobs.core.schedule.actual_days import ActualDays
from jobs.core.schedule.job_activities import AddedActivity
from jobs.core.schedule.job_spec import JobSpec
from jobs.jobs.models import Job


def fill_activities(job: Job, spec: JobSpec) -> None:
    owner = {"job": job}
    sync_rows(job.activity_changes.all(), map(figures_of, spec.activities), key=("key",), owner=owner)
    sync_rows(job.own_activities.all(), map(_own, spec.own_activities), key=("key",), owner=owner)
    sync_rows(job.people.all(), map(figures_of, spec.people), owner=owner)
    sync_rows(job.activity_links.all(), map(figures_of, spec.links), key=("before", "after", "kind"), owner=owner)


def match_actual_days(job: Job, actual_days: Iterable[ActualDays]) -> None:
    """Make the days of a job exactly these, as a job file says them."""
    sync_rows(job.actual_days.all(), map(figures_of, actual_days), key=("key",), owner={"job": job})


def _own(activity: AddedActivity) -> Figures:
    hours = None if activity.crew_hours is None else Decimal(repr(activity.crew_hours))
    ends = {"after": activity.after or "", "before": activity.before or ""}
    return figures_of(activity) | {"crew_hours": hours, **ends}
