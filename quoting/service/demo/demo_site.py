"""The lead of the demonstration on site: what was planned so far began and ended on its days."""

from datetime import date

from catalog.services.book import book_of
from jobs.core.schedule.activities import TAPPED
from jobs.jobs.models import Job
from jobs.schedule.services.actual_days import begin_activity, end_activity
from jobs.work_up.services.job_work_up import work_of
from quoting.platform.people.signatures import Signature


def work_as_planned(job: Job, by: str, today: date) -> None:
    """Every activity that was to begin by today, in the order of its days."""
    work_up = work_of(job, book_of(), today).done
    planned = [entry for entry in work_up.plan.activities if entry.kind in TAPPED and entry.times] if work_up else []
    for activity in sorted(planned, key=lambda entry: entry.times.early_start if entry.times else today):
        assert activity.times is not None
        if activity.times.early_start > today:
            continue
        begin_activity(job, activity.key, Signature(by, today), on=activity.times.early_start)
        if activity.times.early_finish < today:
            end_activity(job, activity.key, Signature(by, today), on=activity.times.early_finish)
