"""What follows from activities as answers show it: the chance of a promised day, people wanted twice."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Annotated, Any, NamedTuple

from catalog.core.ground.declared import As, Of, View
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.schedule.completion_risk import FinishingChance, Remedy
from jobs.core.schedule.crew_clashes import CrewDays
from jobs.core.schedule.people import NameClash


class ChanceOfJob(NamedTuple):
    work_up: JobWorkUp
    chance: FinishingChance
    late_goods: Sequence[Any]


class DayOfRuns(View):
    """The day by which a share of the runs were done."""

    share: Annotated[float, Of(lambda entry: entry[0])]
    day: Annotated[date, Of(lambda entry: entry[1])]


class Criticality(View):
    """How often an activity lay on the path that set the end."""

    activity: Annotated[str, Of(lambda entry: entry[0])]
    share: Annotated[float, Of(lambda entry: entry[1])]


class LateGoodsShown(View):
    """Goods that hold an activity until they may be relied on."""

    what: str
    usable_on: date


class FinishingChanceShown(View):
    """The chance that a job is done by its promised day, of so many simulated runs."""

    document_name = "finishing_chance"

    job: Annotated[str, Of("work_up.read.job.key")]
    promised_on: Annotated[date | None, Of("chance.promised_on")]
    finish: Annotated[date | None, Of("work_up.plan.finish")]
    chance: Annotated[float | None, Of("chance.chance")]
    days: Annotated[tuple[DayOfRuns, ...], Of(lambda of: of.chance.days.items())]
    criticality: Annotated[tuple[Criticality, ...], Of("chance.criticality")]
    remedies: Annotated[tuple[Remedy, ...], Of("chance.remedies")]
    runs: Annotated[int, Of("chance.runs")]
    compared_runs: Annotated[int, Of("chance.compared_runs")]
    seed: Annotated[int, Of("chance.seed")]
    distribution: Annotated[str, Of("chance.distribution")]
    late_goods: tuple[LateGoodsShown, ...]


class CrewClashShown(View):
    """Days in a row on which more people are wanted than there are. wanted_signed: of those, by signed jobs."""

    first_day: date
    last_day: date
    wanted: int
    wanted_signed: int
    there: int
    parts: tuple[CrewDays, ...]


class CrewsAhead(NamedTuple):
    today: date
    ahead: Any


class CrewClashesShown(View):
    """Days on which open jobs together want more people than the firm has on site."""

    document_name = "crew_clashes"

    today: date
    people_on_site: Annotated[int | None, Of("ahead.people")]
    clashes: Annotated[tuple[CrewClashShown, ...], Of("ahead.clashes")]
    named: Annotated[tuple[NameClash, ...], As(name="named_twice"), Of("ahead.named")]
    being_worked_out: Annotated[tuple[str, ...], Of(lambda of: [job.key for job in of.ahead.out_of_date])]
