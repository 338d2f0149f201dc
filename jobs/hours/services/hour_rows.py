"""Hours of jobs as plain rows, in few queries for many jobs. What is voided counts for nothing and is left out."""

from collections.abc import Collection
from datetime import date

from jobs.core.costs.hours import HourRow, StepHoursLeft
from jobs.hours.models import HoursLeft, TimeEntry


def hour_rows_of(job_ids: Collection[int], until: date | None = None) -> dict[int, list[HourRow]]:
    """By job, by day. until: what was worked later, or counts in a later month, is left out."""
    rows = TimeEntry.objects.filter(job__in=job_ids, voided_at=None).select_related("worker")
    if until is not None:
        rows = rows.filter(day__lte=until, posted_month__lte=until)
    found: dict[int, list[HourRow]] = {pk: [] for pk in job_ids}
    for row in rows:
        found[row.job_id].append(row.to_core(row.worker.name))
    return found


def hours_left_of(job_ids: Collection[int], until: date | None = None) -> dict[int, list[StepHoursLeft]]:
    """The newest of each step, by job."""
    rows = HoursLeft.objects.filter(job__in=job_ids)
    if until is not None:
        rows = rows.filter(day__lte=until, posted_month__lte=until)
    newest: dict[int, dict[str, StepHoursLeft]] = {pk: {} for pk in job_ids}
    for row in rows.order_by("day", "pk"):
        newest[row.job_id][row.step] = row.to_core()
    return {pk: list(by_step.values()) for pk, by_step in newest.items()}
