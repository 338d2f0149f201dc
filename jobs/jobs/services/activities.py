"""A job's changes to its chain of activities as rows."""

from decimal import Decimal

from catalog.services.row_sync import Figures, sync_rows
from jobs.core.schedule.activity_document import write_link
from jobs.core.schedule.job_activities import AddedActivity
from jobs.core.schedule.job_spec import ActivityChange, JobSpec
from jobs.jobs.models import Job


def fill_activities(job: Job, spec: JobSpec) -> None:
    owner = {"job": job}
    sync_rows(job.activity_changes.all(), map(_change, spec.activities), key=("key",), owner=owner)
    sync_rows(job.own_activities.all(), map(_own, spec.own_activities), key=("key",), owner=owner)
    sync_rows(job.activity_links.all(), map(write_link, spec.links), key=("before", "after", "kind"), owner=owner)


def _change(one: ActivityChange) -> Figures:
    return {
        "key": one.key,
        "duration_workdays": one.duration_workdays,
        "not_before": one.not_before,
        "left_out": one.left_out,
        "crew": one.crew,
        "shortest_workdays": one.shortest_workdays,
        "longest_workdays": one.longest_workdays,
    }


def _own(one: AddedActivity) -> Figures:
    return {
        "key": one.key,
        "name": one.name,
        "kind": one.kind,
        "duration_workdays": one.duration_workdays,
        "crew_hours": None if one.crew_hours is None else Decimal(repr(one.crew_hours)),
        "crew": one.crew,
        "after": one.after or "",
        "before": one.before or "",
        "not_before": one.not_before,
        "shortest_workdays": one.shortest_workdays,
        "longest_workdays": one.longest_workdays,
    }
