"""A job worked up without its price: every wall, the takeoff, the activities and the dates of what is bought."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, time
from typing import TypeVar

from catalog.core.ground.workdays import WorkCalendar, calendar_with
from catalog.core.materials.catalog_data import Catalog
from catalog.core.materials.offers import had_from
from jobs.core.measure.findings import Finding
from jobs.core.ordering.needs import DatedNeed, idle_dates, needs_of
from jobs.core.schedule.activities import ActivityPlan, plan_activities, site_days
from jobs.core.schedule.job_spec import JobSpec
from jobs.core.takeoff.held_templates import with_templates
from jobs.core.takeoff.takeoff import Takeoff, take_off
from jobs.core.takeoff.wall_work_up import WallWorkUp, work_up_wall
from jobs.core.trim.trim import with_need_date


@dataclass(frozen=True)
class JobInputs:
    """What a job's walls, takeoff and dates are worked up from: the catalog, and the job with its walls."""

    book: Catalog
    job: JobSpec


T = TypeVar("T", bound=JobInputs)


def as_had(read: T) -> T:
    """The job with its catalog as the job has it: each material from the supplier agreed for it.

    read: the catalog and the job. Returns the same with those materials had from theirs. Source: own rule.
    """
    agreed = {
        item.material: item.supplier
        for item in read.job.dates
        if item.supplier and item.material in read.book.materials
    }
    had = tuple(had_from(read.book.materials[code], supplier) for code, supplier in agreed.items())
    return replace(read, book=read.book.with_more((), had)) if had else read


@dataclass(frozen=True)
class JobWorkUp:
    """Everything worked out of one job on one day, its price aside."""

    read: JobInputs
    today: date
    calendar: WorkCalendar
    walls: tuple[WallWorkUp, ...]
    takeoff: Takeoff
    plan: ActivityPlan
    needs: tuple[DatedNeed, ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Everything somebody must read, each once: of the walls, the takeoff, the activities and the dates."""
        every = [*self.takeoff.findings, *self.plan.findings]
        every += [finding for need in self.needs for finding in need.findings]
        return each_once([*every, *self.idle_dates])

    @property
    def idle_dates(self) -> tuple[Finding, ...]:
        """Of each day agreed for a material the job does not take."""
        taken = {need.material for need in self.needs} | {purchase.material for purchase in self.takeoff.purchases}
        return idle_dates(self.read.job.dates, taken, self.read.book)


def each_once(findings: list[Finding]) -> tuple[Finding, ...]:
    """findings: in order. Returns them with each key once, in the place of its first and the words of its last."""
    return tuple({finding.key: finding for finding in findings}.values())


def calendar_of(read: JobInputs) -> WorkCalendar:
    """Days on which the firm works on this job: its own calendar less the site's closures.

    read: the catalog and the job. Returns the calendar.
    """
    firm = read.book.firm
    return calendar_with(firm.name, (*firm.closures, *read.job.closures))


def work_up_job(
    read: JobInputs, today: date, walls: tuple[WallWorkUp, ...] | None = None, now_at: time | None = None
) -> JobWorkUp:
    """Work a job up, its price aside.

    read: the catalog and the job. today: the day from which prices, lead terms and days in hand count. walls: the
    walls of the job worked up already, in its order; None to work them up here. now_at: the firm's time of day, for
    the suppliers' cut-off hours; None when it does not matter.
    Returns the whole; raises SurveyError when a wall's figures give no wall (its `field` starts with the wall's
    key). Everything merely missing is a finding.
    """
    read = as_had(read)
    if walls is None:
        plans = read.job.plans
        walls = tuple(
            work_up_wall(spec, read.book, today, kept_faces=plans.faces_of(spec.key)) for spec in read.job.walls
        )
    walls = tuple(with_templates(wall, read.job.templates) for wall in walls)
    calendar = calendar_of(read)
    plan = plan_activities(read.job, walls, read.book.standards, calendar, read.book.firm.display_units)
    job, days = read.job, site_days(plan, calendar)
    takeoff = take_off(walls, read.book, today, job.overrides, job.plans, job.items, days)
    needs = needs_of(read.job, walls, takeoff.purchases, plan, read.book, read.book.firm.calendar, today, now_at)
    return JobWorkUp(read, today, calendar, _with_need_dates(walls, needs), takeoff, plan, needs)


def _with_need_dates(walls: tuple[WallWorkUp, ...], needs: tuple[DatedNeed, ...]) -> tuple[WallWorkUp, ...]:
    """The walls with the day each made-to-order trim is needed by in its order data."""
    days = {need.material: need.need_by for need in needs if need.need_by is not None}
    return tuple(
        replace(
            wall,
            trims=tuple(
                with_need_date(trim, days[trim.run.material]) if trim.run.material in days else trim
                for trim in wall.trims
            ),
        )
        for wall in walls
    )
