"""What follows from a job's activities beyond its days: the chance of its promised day, and the float of its items."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.ordering.needs import DatedNeed, wants_of
from jobs.core.schedule.completion_risk import RUNS, FinishingChance, finishing_chance


@dataclass(frozen=True)
class ItemFloat:
    """How long an item may come after the day it is needed so that the promised day still holds.

    late_on: the latest day it may be on site. float_workdays: working days of the job from need-by to it, negative
    when the promised day cannot be kept even with it there on need-by.
    """

    need: DatedNeed
    late_on: date
    float_workdays: int


def item_floats(work_up: JobWorkUp) -> tuple[ItemFloat, ...]:
    """The float of every item up to the promised day, the least first.

    work_up: the job. Returns nothing without a promised day or without days; an item that no activity waits
    for has none. Source: the backward pass of the critical path method from the promised day.
    """
    read, needs = work_up.read, {need.material: need for need in work_up.needs}
    floats = []
    for want in wants_of(read.job, work_up.walls, work_up.takeoff.purchases, work_up.plan, read.book):
        late_on, need = work_up.plan.late_wanted_on(want.stage), needs[want.material]
        if late_on is not None and need.need_by is not None:
            floats.append(ItemFloat(need, late_on, work_up.calendar.workdays_between(need.need_by, late_on)))
    return tuple(sorted(floats, key=lambda item: (item.float_workdays, item.need.name)))


def chance_of(work_up: JobWorkUp, goods_on: Mapping[str, date] | None = None, runs: int = RUNS) -> FinishingChance:
    """The chance that a job is done by its promised day, from the seed stored with it.

    work_up: the job. goods_on: by key of an activity, the day from which late goods it wants may be relied on.
    runs: 1 to 100,000. Returns the chance. Raises Refused when it cannot be worked out. Source: as `finishing_chance`.
    """
    job = work_up.read.job
    days = {activity.key: activity.not_before for activity in job.activities} | {
        activity.key: activity.not_before for activity in job.own_activities
    }
    for key, day in (goods_on or {}).items():
        days[key] = max(day, days.get(key) or day)
    return finishing_chance(work_up.plan, work_up.calendar, job.start_on, days, seed=job.chance_seed, runs=runs)
