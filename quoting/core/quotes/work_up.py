"""The main job in one call: a job file in, every wall, the takeoff, the dates and the quote out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, time

from catalog.core.ground.workdays import WorkCalendar, calendar_with
from jobs.core.measure.findings import Finding
from jobs.core.ordering.needs import DatedNeed, needs_of
from jobs.core.schedule.activities import ActivityPlan, plan_activities
from jobs.core.takeoff.held_templates import with_templates
from jobs.core.takeoff.takeoff import Takeoff, take_off
from jobs.core.takeoff.wall_work_up import WallWorkUp, work_up_wall
from jobs.core.trim.trim import with_need_date
from quoting.core.quotes.job_file import JobFile
from quoting.core.quotes.offering import offered
from quoting.core.quotes.quote_sheet import QuoteSheet, sheet_of
from quoting.core.quotes.validity import holds_of, validity


@dataclass(frozen=True)
class WorkUp:
    """Everything worked out of one job on one day. quote: None when the job is not priced yet."""

    read: JobFile
    today: date
    calendar: WorkCalendar
    walls: tuple[WallWorkUp, ...]
    takeoff: Takeoff
    plan: ActivityPlan
    needs: tuple[DatedNeed, ...]
    quote: QuoteSheet | None

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Everything somebody must read, each once: of the walls, the takeoff, the activities, the dates, the quote."""
        found = [*self.takeoff.findings, *self.plan.findings]
        found += [finding for need in self.needs for finding in need.findings]
        found += self.quote.findings if self.quote else ()
        return tuple({finding.key: finding for finding in found}.values())


def calendar_of(read: JobFile) -> WorkCalendar:
    """Days on which the firm works on this job: its own calendar less the site's closures.

    read: the job file. Returns the calendar.
    """
    firm = read.book.firm
    return calendar_with(firm.name, (*firm.closures, *read.job.closures))


def work_up(
    read: JobFile,
    today: date,
    walls: tuple[WallWorkUp, ...] | None = None,
    now_at: time | None = None,
    walls_of: Callable[[JobFile], tuple[WallWorkUp, ...]] | None = None,
) -> WorkUp:
    """Work a job up.

    read: the job file. today: the day from which prices, lead terms and days in hand count. walls: the walls of
    that file worked up already, in its order; None to work them up here. now_at: the firm's time of day, for the
    suppliers' cut-off hours; None when it does not matter. walls_of: works up the walls of the job built another
    way, for options that are builds; None to work them up here.
    Returns the whole; raises SurveyError when a wall's figures give no wall (its `field` starts with the wall's
    key). Everything merely missing is a finding.
    """
    if walls is None:
        plans = read.job.plans
        walls = tuple(
            work_up_wall(spec, read.book, today, kept_faces=plans.faces_of(spec.key)) for spec in read.job.walls
        )
    walls = tuple(with_templates(wall, read.job.templates) for wall in walls)
    calendar = calendar_of(read)
    takeoff = take_off(walls, read.book, today, read.job.overrides, read.job.plans)
    plan = plan_activities(read.job, walls, read.book.standards, calendar)
    needs = needs_of(read.job, walls, takeoff.purchases, plan, read.book, read.book.firm.calendar, today, now_at)
    quote = sheet_of(read, walls, takeoff, plan, today) if read.pricing else None
    if quote is not None:

        def of_build(one: JobFile) -> QuoteSheet | None:
            return work_up(one, today, walls_of(one) if walls_of else None, now_at).quote

        quote = _with_validity(offered(quote, read, of_build), takeoff, needs, read)
    return WorkUp(read, today, calendar, _with_need_dates(walls, needs), takeoff, plan, needs, quote)


def _with_validity(quote: QuoteSheet, takeoff: Takeoff, needs: tuple[DatedNeed, ...], read: JobFile) -> QuoteSheet:
    """No longer than the prices it is made of are held; a sum entered for all materials has no holds."""
    entered = quote.pricing.entered_materials is not None
    holds = () if entered else holds_of(takeoff.purchases, read.book, quote.quoted_on)
    found = validity(quote.quoted_on, quote.pricing.valid_days, holds, needs)
    return replace(quote, valid_until=found.until, findings=(*quote.findings, *found.findings))


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
