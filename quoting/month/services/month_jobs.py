"""The jobs of a month with what they cost: those finished in it, and those that go on."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from jobs.jobs.models import Job
from quoting.core.money.earned import earned_of
from quoting.core.money.job_costs import JobCosts
from quoting.core.money.month import last_day
from quoting.core.money.month_figures import JobOfMonth
from quoting.core.money.month_job import job_of_month
from quoting.core.money.settling import Asked
from quoting.job_money.services.job_costs import job_costs_of
from quoting.life.services.reading import ReadLife, lives_of
from quoting.payment_requests.services.asked import asked_of
from quoting.quotes.services.signed import accepted_revisions


@dataclass(frozen=True)
class MonthJob:
    """unbilled: earned and not requested, under nought where more is requested than earned."""

    read: ReadLife
    costs: JobCosts
    asked: Asked
    figures: JobOfMonth

    @property
    def job(self) -> Job:
        return self.read.job

    @property
    def unbilled(self) -> Decimal:
        return -earned_of(self.costs, self.asked.billed).over_billed


def jobs_of(month: date, today: date) -> list[MonthJob]:
    """Those finished in the month first, then those that go on; by what happened until its end."""
    until = min(last_day(month), today)
    return with_costs([read for read in _signed(month, until, today) if _is_of(read, month)], until, today)


def with_costs(reads: Iterable[ReadLife], until: date, today: date) -> list[MonthJob]:
    """By what happened by the end of the day, as it is known today."""
    by_id = {read.job.pk: read for read in reads}
    costs, requests = job_costs_of(by_id, today, until), asked_of(by_id, until)
    jobs = [_month_job(by_id[pk], cost, requests[pk], until) for pk, cost in costs.items()]
    return sorted(jobs, key=lambda job: (job.figures.done_on is None, job.figures.done_on or until, job.job.pk))


def _signed(month: date, until: date, today: date) -> Iterable[ReadLife]:
    signed = accepted_revisions().order_by().values("quote__job")
    jobs = Job.objects.filter(pk__in=signed).exclude(closed_on__lt=month).select_related("client")
    reads = lives_of(jobs, today).values()
    return [read for read in reads if read.facts.signed_on is None or read.facts.signed_on <= until]


def _is_of(read: ReadLife, month: date) -> bool:
    """Not over before the month."""
    over = [day for day in (read.facts.last_end, read.facts.closed_on) if day is not None]
    return not over or min(over) >= month


def _done_on(read: ReadLife, until: date) -> date | None:
    days = [day for day in (read.facts.last_end, read.facts.closed_on) if day is not None and day <= until]
    return min(days, default=None)


def _month_job(read: ReadLife, costs: JobCosts, request: Asked, until: date) -> MonthJob:
    job = read.job
    figures = job_of_month(job.key, job.title, job.client.name, _done_on(read, until), costs)
    return MonthJob(read, costs, request, figures)
