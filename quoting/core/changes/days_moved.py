"""How far a change moves the end of the work: hours added up over all steps before they are rounded to days."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from catalog.core.ground.workdays import WorkCalendar
from jobs.core.schedule.activities import PlannedActivity, hours_gaps, plan_activities
from jobs.core.schedule.job_spec import ActivityChange, JobSpec
from quoting.core.changes.change_notes import MAX_DAYS_MOVED
from quoting.core.quotes.work_up import WorkUp

THRESHOLD = "change_days_from"
MAX_HOURS_MOVED = 1_000_000
"""More than any firm works on a job: such hours are a figure gone wrong."""


@dataclass(frozen=True)
class DaysMoved:
    """What a change of the walls does to the work.

    hours: man-hours more, negative for fewer, to a tenth; None while some are not known. workdays: by which the end
    moves, proposed to whoever decides, negative for sooner; None when that cannot be worked out.
    """

    hours: Decimal | None
    workdays: int | None


def days_moved(before: WorkUp, after: WorkUp) -> DaysMoved:
    """Propose the days of a change.

    Args:
        before, after: the job without and with the change, worked up on one day.

    Returns:
        The hours, and the days. Steps in both jobs count by the sum of their hours, whose parts of days are added
        up before they are rounded; steps and waits that come or go count as they are dated.

    Raises:
        nothing of its own.

    Source: own rule; the firm states from how many days on a change moves the end (the standard `change_days_from`).
    """
    if hours_gaps(before.plan, before.walls) or hours_gaps(after.plan, after.walls):
        return DaysMoved(None, None)
    hours = sum(activity.hours for activity in after.plan.activities) - sum(
        activity.hours for activity in before.plan.activities
    )
    least = after.read.book.standards.fact(THRESHOLD)
    old, new = _by_hours(before), _by_hours(after)
    both = [key for key in old if key in new]
    steps = days_between(before.plan.finish, _finish_with(after, {key: old[key] for key in both}), after.calendar)
    tenths = Decimal(repr(hours)).quantize(Decimal("0.1"), ROUND_HALF_UP)
    if abs(hours) > MAX_HOURS_MOVED:
        return DaysMoved(None, None)
    if steps is None or least is None:
        return DaysMoved(tenths, None)
    days = proposed(steps + sum(_exact(new[key]) - _exact(old[key]) for key in both), least.number)
    return DaysMoved(tenths, days if abs(days) <= MAX_DAYS_MOVED else None)


def proposed(workdays: float, least_workdays: float) -> int:
    """Whole days to propose.

    workdays: by which the work takes longer, either sign, with parts of a day. least_workdays: of the firm, > 0;
    below it nothing is proposed, from it on at least a day. Rounds to the nearest day, half away from zero.
    Source: own rule.

    >>> [proposed(days, 0.5) for days in (0.49, 0.5, 1.4, 1.5, -0.5)]
    [0, 1, 1, 2, -1]
    """
    size = Decimal(repr(round(abs(workdays), 6)))
    if size < Decimal(repr(least_workdays)):
        return 0
    days = max(1, int(size.quantize(Decimal(1), ROUND_HALF_UP)))
    return days if workdays > 0 else -days


def days_between(before: date | None, after: date | None, calendar: WorkCalendar) -> int | None:
    """Working days from one finish to another, negative when the second is sooner; None when one is not known.

    before, after: days. calendar: of the firm on this job.
    Source: own convention.

    >>> from catalog.core.ground.workdays import calendar_with
    >>> days_between(date(2027, 1, 8), date(2027, 1, 12), calendar_with("The firm"))
    2
    """
    if before is None or after is None:
        return None
    return calendar.workdays_between(before, after)


def _by_hours(work_up: WorkUp) -> dict[str, PlannedActivity]:
    return {activity.key: activity for activity in work_up.plan.activities if activity.exact_workdays is not None}


def _exact(step: PlannedActivity) -> float:
    return step.exact_workdays or 0.0


def _finish_with(after: WorkUp, steps: dict[str, PlannedActivity]) -> date | None:
    """When the job would be done if these steps took as long as before."""
    job: JobSpec = after.read.job
    changes = {activity.key: activity for activity in job.activities}
    for key, step in steps.items():
        present = changes.get(key) or ActivityChange(key)
        changes[key] = replace(present, duration_workdays=step.duration_workdays)
    job = replace(job, activities=tuple(changes.values()))
    return plan_activities(job, after.walls, after.read.book.standards, after.calendar).finish
