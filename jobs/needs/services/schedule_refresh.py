"""Keeping stored needs no older than their jobs: who is asked to work up what, and when."""

from collections.abc import Iterable
from datetime import date, datetime

from django.db import transaction
from django.db.models import Exists, F, OuterRef, Q, QuerySet

from catalog.services.book import NoFirmYet, book_of
from catalog.services.changes import catalog_number
from jobs.jobs.models import Job, WorkedJob
from jobs.needs.models import StoredResult
from jobs.needs.services.result_rows import FACTS, rules_in_force
from jobs.needs.services.stored_needs import InputVersions, refresh_job, seen_now
from jobs.work_up.services.job_work_up import JobResult, work_of
from quoting.platform.errands.models import Errand, ErrandState
from quoting.platform.errands.services.repeatable_errands import queue_again

DATE_JOB = "date_job"
RECOMPUTE_DATES = "recompute_dates"
ALL = "all"


def ask_to_date(job_ids: Iterable[int], now: datetime) -> None:
    for job_id in job_ids:
        queue_again(DATE_JOB, str(job_id), {"job": job_id}, now)


def ask_to_recompute(now: datetime) -> None:
    queue_again(RECOMPUTE_DATES, ALL, {}, now)


def find_needs(job_id: int, today: date) -> tuple[InputVersions, JobResult | None] | None:
    """None for a job that is gone; without work for one that is closed. What it rests on is read first."""
    if not Job.objects.filter(pk=job_id).exists():
        return None
    seen = seen_now(job_id, today)
    job = Job.objects.select_related("client").get(pk=job_id)
    return seen, None if job.closed_on else _worked(job, today)


def _worked(job: Job, today: date) -> JobResult:
    try:
        return work_of(job, book_of(), today)
    except NoFirmYet as error:
        return JobResult(job, None, str(error))


@transaction.atomic
def keep_needs(job_id: int, seen: InputVersions, work: JobResult | None, now: datetime) -> None:
    job = Job.objects.filter(pk=job_id).first()
    if job is None:
        return
    refresh_job(job, work, seen, now)
    if not WorkedJob.objects.filter(pk=job_id, changes=seen.changes).exists():
        ask_to_date([job_id], now)
    elif catalog_number() != seen.catalog:
        ask_to_recompute(now)


def stale_heads(today: date) -> QuerySet[WorkedJob]:
    """Of open jobs: changed since they were worked up, or dated by an older catalog or on another day."""
    older = ~Q(catalog_changes=catalog_number()) | ~Q(dated_on=today)
    return WorkedJob.objects.filter(job__closed_on=None).filter(
        Q(worked_changes=None) | ~Q(worked_changes=F("changes")) | older
    )


def without_results() -> QuerySet[WorkedJob]:
    """Of open jobs that were worked up: by other rules than those in force, as before an upgrade."""
    results = StoredResult.objects.filter(job=OuterRef("pk"), kind=FACTS, rules=rules_in_force())
    return WorkedJob.objects.filter(~Exists(results), job__closed_on=None, worked_changes__isnull=False)


def catch_up(now: datetime, today: date) -> None:
    """Each minute: what no errand is on its way to, from the rows alone. One that failed waits for a change.

    Two at once ask for the same errands, and those are rows that are there once.
    """
    on_their_way = Errand.objects.filter(kind=DATE_JOB).exclude(state=ErrandState.DONE)
    numbers = {int(key) for key in on_their_way.values_list("key", flat=True)}
    never = Job.objects.filter(closed_on=None, worked=None).values_list("pk", flat=True)
    upgraded = without_results().values_list("pk", flat=True)
    stale = [row for row in stale_heads(today) if row.pk not in numbers]
    changed = [row.pk for row in stale if row.worked_changes != row.changes]
    ask_to_date([pk for pk in dict.fromkeys((*never, *changed, *upgraded)) if pk not in numbers], now)
    if len(stale) > len(changed):
        ask_to_recompute(now)
