"""A job's changes to its chain of activities, and who is named to it, as rows."""

from collections.abc import Iterable
from decimal import Decimal

from catalog.services.row_sync import Figures, sync_rows
from jobs.core.schedule.activity_document import write_link
from jobs.core.schedule.actual_days import ActualDays
from jobs.core.schedule.job_activities import AddedActivity
from jobs.core.schedule.job_spec import ActivityChange, JobSpec
from jobs.core.schedule.people import NamedPerson
from jobs.jobs.models import Job


def fill_activities(job: Job, spec: JobSpec) -> None:
    owner = {"job": job}
    sync_rows(job.activity_changes.all(), map(_change, spec.activities), key=("key",), owner=owner)
    sync_rows(job.own_activities.all(), map(_own, spec.own_activities), key=("key",), owner=owner)
    sync_rows(job.people.all(), map(_person, spec.people), owner=owner)
    sync_rows(job.activity_links.all(), map(write_link, spec.links), key=("before", "after", "kind"), owner=owner)


def match_actual_days(job: Job, actual_days: Iterable[ActualDays]) -> None:
    """Make the days of a job exactly these, as a job file says them."""
    sync_rows(job.actual_days.all(), map(_actual, actual_days), key=("key",), owner={"job": job})


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


def _person(one: NamedPerson) -> Figures:
    return {"name": one.name, "part": one.part, "first_day": one.first_day, "last_day": one.last_day}


def _actual(one: ActualDays) -> Figures:
    return {
        "key": one.key,
        "began_on": one.began_on,
        "began_by": one.began_by,
        "ended_on": one.ended_on,
        "ended_by": one.ended_by,
    }
