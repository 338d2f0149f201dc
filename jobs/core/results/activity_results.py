"""What follows from a job's activities beyond its days: the chance of its promised day, and the float of its items."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.ordering.needs import DatedNeed, wants_of
from jobs.core.schedule.completion_risk import RUNS, FinishingChance, finishing_chance
from jobs.core.schedule.crew_clashes import CrewClash
from jobs.core.schedule.people import NameClash

Document = dict[str, Any]


@dataclass(frozen=True)
class ItemFloat:
    """How long an item may come after the day it is needed so that the promised day still holds.

    late_on: the latest day it may be on site. float_workdays: working days of the job from need-by to it, negative
    when the promised day cannot be kept even with it there on need-by.
    """

    need: DatedNeed
    late_on: date
    float_workdays: int


def item_floats(done: JobWorkUp) -> tuple[ItemFloat, ...]:
    """The float of every item up to the promised day, the least first.

    done: the job worked up. Returns nothing without a promised day or without days; an item that no activity waits
    for has none. Source: the backward pass of the critical path method from the promised day.
    """
    read, needs = done.read, {need.material: need for need in done.needs}
    found = []
    for want in wants_of(read.job, done.walls, done.takeoff.purchases, done.plan, read.book):
        late_on, need = done.plan.late_wanted_on(want.stage), needs[want.material]
        if late_on is not None and need.need_by is not None:
            found.append(ItemFloat(need, late_on, done.calendar.workdays_between(need.need_by, late_on)))
    return tuple(sorted(found, key=lambda one: (one.float_workdays, one.need.name)))


def chance_of(done: JobWorkUp, goods_on: Mapping[str, date] | None = None, runs: int = RUNS) -> FinishingChance:
    """The chance that a job is done by its promised day, from the seed stored with it.

    done: the job worked up. goods_on: by key of an activity, the day from which late goods it wants may be relied on.
    runs: 1 to 100,000. Returns the chance. Raises Refused when it cannot be worked out. Source: as `finishing_chance`.
    """
    job = done.read.job
    days = {one.key: one.not_before for one in job.activities} | {one.key: one.not_before for one in job.own_activities}
    for key, day in (goods_on or {}).items():
        days[key] = max(day, days.get(key) or day)
    return finishing_chance(done.plan, done.calendar, job.start_on, days, seed=job.chance_seed, runs=runs)


def chance_document(done: JobWorkUp, found: FinishingChance) -> Document:
    """The chance as JSON values; shares from 0 to 1."""
    return {
        "job": done.read.job.key,
        "promised_on": found.promised_on.isoformat() if found.promised_on else None,
        "finish": done.plan.finish.isoformat() if done.plan.finish else None,
        "chance": found.chance,
        "days": [{"share": share, "day": day.isoformat()} for share, day in found.days.items()],
        "criticality": [{"activity": name, "share": share} for name, share in found.criticality],
        "remedies": [
            {"what": one.what, "activity": one.activity, "chance": round(one.chance, 6), "gain": round(one.gain, 6)}
            for one in found.remedies
        ],
        "runs": found.runs,
        "compared_runs": found.compared_runs,
        "seed": found.seed,
        "distribution": found.distribution,
    }


def clash_document(clash: CrewClash) -> Document:
    """Days on which more people are wanted than there are, as JSON values."""
    return {
        "first_day": clash.first_day.isoformat(),
        "last_day": clash.last_day.isoformat(),
        "wanted": clash.wanted,
        "wanted_signed": clash.wanted_signed,
        "there": clash.there,
        "parts": [
            {
                "job": part.job,
                "activity": part.activity,
                "first_day": part.first_day.isoformat(),
                "last_day": part.last_day.isoformat(),
                "people": part.people,
                "signed": part.signed,
            }
            for part in clash.parts
        ],
    }


def name_clash_document(clash: NameClash) -> Document:
    """Days on which one person is named to several jobs, as JSON values."""
    return {
        "name": clash.name,
        "first_day": clash.first_day.isoformat(),
        "last_day": clash.last_day.isoformat(),
        "jobs": list(clash.jobs),
    }
