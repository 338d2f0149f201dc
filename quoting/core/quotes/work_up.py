"""The main job in one call: a job file in, every wall, the takeoff, the dates and the quote out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, time

from jobs.core.measure.findings import Finding
from jobs.core.ordering.job_work_up import JobWorkUp, as_had, each_once, work_up_job
from jobs.core.takeoff.wall_work_up import WallWorkUp
from quoting.core.quotes.job_file import JobFile
from quoting.core.quotes.offering import offered
from quoting.core.quotes.quote_sheet import QuoteSheet, sheet_of
from quoting.core.quotes.validity import holds_of, validity


@dataclass(frozen=True)
class WorkUp(JobWorkUp):
    """A job worked up, and its quote. quote: None when the job is not priced yet."""

    read: JobFile
    quote: QuoteSheet | None

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Everything somebody must read, each once: of the job, then of the quote."""
        return each_once([*super().findings, *(self.quote.findings if self.quote else ())])


def work_up(
    read: JobFile,
    today: date,
    walls: tuple[WallWorkUp, ...] | None = None,
    now_at: time | None = None,
    walls_of: Callable[[JobFile], tuple[WallWorkUp, ...]] | None = None,
) -> WorkUp:
    """Work a job up and price it.

    read: the job file. today, walls, now_at: as `jobs.core.ordering.job_work_up.work_up_job` takes them. walls_of:
    works up the walls of the job built another way, for options that are builds; None to work them up here.
    Returns the whole; raises SurveyError when a wall's figures give no wall (its `field` starts with the wall's
    key). Everything merely missing is a finding.
    """
    read = as_had(read)
    job = work_up_job(read, today, walls, now_at)
    quote = sheet_of(read, job.walls, job.takeoff, job.plan, today) if read.pricing else None
    if quote is not None:

        def of_build(build: JobFile) -> QuoteSheet | None:
            return work_up(build, today, walls_of(build) if walls_of else None, now_at).quote

        quote = _with_validity(offered(quote, read, of_build), job)
    return WorkUp(read, today, job.calendar, job.walls, job.takeoff, job.plan, job.needs, quote)


def _with_validity(quote: QuoteSheet, job: JobWorkUp) -> QuoteSheet:
    """No longer than the prices it is made of are held; a sum entered for all materials has no holds."""
    entered = quote.pricing.entered_materials is not None
    holds = () if entered else holds_of(job.takeoff.purchases, job.read.book, quote.quoted_on)
    result = validity(quote.quoted_on, quote.pricing.valid_days, holds, job.needs)
    return replace(quote, valid_until=result.until, findings=(*quote.findings, *result.findings))
