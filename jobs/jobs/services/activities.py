"""A job's changes to its chain of activities, and who is named to it, as rows."""

from collections.abc import Iterable
from typing import Any

from catalog.services.row_sync import sync_rows
from jobs.core.schedule.actual_days import ActualDays
from jobs.core.schedule.job_spec import JobSpec
from jobs.jobs.models import Job
from quoting.platform.models.core_values import column_values


def fill_activities(job: Job, spec: JobSpec) -> None:
    _fill(job, "activity_changes", spec.activities, "key")
    model = job.own_activities.model
    own = (
        column_values(activity, model, after=activity.after or "", before=activity.before or "")
        for activity in spec.own_activities
    )
    sync_rows(job.own_activities.all(), own, key=("key",), owner={"job": job})
    _fill(job, "people", spec.people)
    _fill(job, "activity_links", spec.links, "before", "after", "kind")


def match_actual_days(job: Job, actual_days: Iterable[ActualDays]) -> None:
    """Make the days of a job exactly these, as a job file says them."""
    _fill(job, "actual_days", actual_days, "key")


def _fill(job: Job, name: str, values: Iterable[Any], *key: str) -> None:
    rows = getattr(job, name)
    sync_rows(rows.all(), (column_values(value, rows.model) for value in values), key=key, owner={"job": job})
