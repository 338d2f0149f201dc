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


def _change(change: ActivityChange) -> Figures:
    return {
        "key": change.key,
        "duration_workdays": change.duration_workdays,
        "not_before": change.not_before,
        "left_out": change.left_out,
        "crew": change.crew,
        "shortest_workdays": change.shortest_workdays,
        "longest_workdays": change.longest_workdays,
    }


def _own(activity: AddedActivity) -> Figures:
    return {
        "key": activity.key,
        "name": activity.name,
        "kind": activity.kind,
        "duration_workdays": activity.duration_workdays,
        "crew_hours": None if activity.crew_hours is None else Decimal(repr(activity.crew_hours)),
        "crew": activity.crew,
        "after": activity.after or "",
        "before": activity.before or "",
        "not_before": activity.not_before,
        "shortest_workdays": activity.shortest_workdays,
        "longest_workdays": activity.longest_workdays,
    }


def _person(person: NamedPerson) -> Figures:
    return {"name": person.name, "part": person.part, "first_day": person.first_day, "last_day": person.last_day}


def _actual(day: ActualDays) -> Figures:
    return {
        "key": day.key,
        "began_on": day.began_on,
        "began_by": day.began_by,
        "ended_on": day.ended_on,
        "ended_by": day.ended_by,
    }
