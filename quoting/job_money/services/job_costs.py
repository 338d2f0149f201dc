"""Cost, bridge and earned share of many jobs, from their rows; the same figures for page, paper, API and month."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from quoting.core.money.bridge import Bridge, BridgeError, bridge_of
from quoting.core.money.cost_warnings import CostWarning, WarningFacts, cost_warnings
from quoting.core.money.earned import Earned, earned_of
from quoting.core.money.job_costs import JobCosts, job_costs
from quoting.core.money.quoted import NOTHING
from quoting.core.money.settling import Asked
from quoting.job_money.services.facts import facts_of, received_on
from quoting.job_money.services.limits import limits_of_firm
from quoting.life.models import KeptLife
from quoting.payment_requests.services.asked import asked_of
from quoting.pricing.models import Pricing
from quoting.quotes.models import RevisionApproval
from quoting.quotes.services.signed import accepted_revisions

A_MONTH = timedelta(days=30)


@dataclass(frozen=True)
class JobMoney:
    """bridge: None while a price is not over nought, which has no margin."""

    costs: JobCosts
    bridge: Bridge | None
    earned: Earned
    asked: Asked
    warnings: tuple[CostWarning, ...]
    currency: str


def job_costs_of(job_ids: Collection[int], today: date, until: date | None = None) -> dict[int, JobCosts]:
    """By job, of those with an accepted quote; until: as of `facts_of`."""
    return {job: job_costs(facts) for job, facts in facts_of(job_ids, today, until).items()}


def money_of(job_ids: Collection[int], today: date) -> dict[int, JobMoney]:
    """Everything the pages of money say, by job, of those with an accepted quote."""
    costs = job_costs_of(job_ids, today)
    jobs = list(costs)
    requests, came, running, currencies = asked_of(jobs), received_on(jobs), _running_since(jobs), _currencies(jobs)
    limits, before = limits_of_firm(), job_costs_of(jobs, today, today - A_MONTH)
    by_author = _passed_by_author(jobs)
    money = {}
    for job, cost in costs.items():
        gained = earned_of(cost, requests[job].billed)
        overdue = sum((row.open for row in requests[job].overdue(today)), NOTHING)
        facts = WarningFacts(today, came, before[job].margin, running.get(job), overdue, job in by_author)
        warnings = cost_warnings(cost, gained, facts, limits)
        money[job] = JobMoney(cost, _bridge(cost), gained, requests[job], warnings, currencies[job])
    return money


def _bridge(costs: JobCosts) -> Bridge | None:
    try:
        return bridge_of(costs)
    except BridgeError:
        return None


def _running_since(job_ids: Collection[int]) -> dict[int, date]:
    """When work began, of jobs that are on site."""
    rows = KeptLife.objects.filter(job__in=job_ids, station="on_site", ended="")
    begun = {row.job_id: row.to_core().begun_on for row in rows}
    return {job: day for job, day in begun.items() if day is not None}


def _passed_by_author(job_ids: Collection[int]) -> set[int]:
    """Jobs whose low margin was approved by whoever had last changed how they are priced."""
    rows = RevisionApproval.objects.filter(revision__in=accepted_revisions(), revision__quote__job__in=job_ids)
    text = rows.values_list("revision__quote__job", "approved_by", "revision__issued_at")
    return {job for job, approver, at in text if _author_of(job, at) == approver}


def _author_of(job_id: int, at: datetime) -> int | None:
    rows = Pricing.history.filter(job=job_id, history_date__lte=at).order_by("-history_date", "-history_id")
    entry: int | None = rows.values_list("history_user", flat=True).first()
    return entry


def _currencies(job_ids: Collection[int]) -> dict[int, str]:
    return dict(accepted_revisions().filter(quote__job__in=job_ids).order_by().values_list("quote__job", "currency"))
