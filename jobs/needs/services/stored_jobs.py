"""What stands of a job, read from rows: facts of its walls, its takeoff and its activities.

`stored_job` is what a page of one job calls, `facts_of_jobs` what a list does. Neither works a job up that has not
changed; a job whose rows are older is worked up once, under its errand, by whoever comes first.
"""

import time
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import TypeVar

from django.db import transaction

from catalog.services.book import book_of
from catalog.services.changes import catalog_number
from jobs.core.results.job_facts import JobFacts
from jobs.core.schedule.activities import ActivityPlan
from jobs.core.takeoff.takeoff import Takeoff
from jobs.jobs.models import Job, WorkedJob
from jobs.needs.models import StoredResult
from jobs.needs.services.date_recalculation import redate_job
from jobs.needs.services.result_rows import (
    FACTS,
    PLAN,
    TAKEOFF,
    facts_of,
    read_result,
    rules_in_force,
    store_results,
    without_pictures,
)
from jobs.needs.services.schedule_refresh import DATE_JOB, ask_to_date
from jobs.needs.services.stored_needs import inputs_digest
from jobs.walls.services.wall_cache import keep_walls
from jobs.work_up.services.job_work_up import JobResult, work_of
from quoting.platform import clock
from quoting.platform.errands.models import Errand, ErrandState
from quoting.platform.errands.services.errands import Outcome, run_errand
from quoting.platform.read_once import read_anew

T = TypeVar("T")
MAX_LIVE = 5
MAX_WAIT_S, LOOK_EVERY_S = 3.0, 0.1


@dataclass(frozen=True)
class StoredJob:
    """What stands of one job. work: of a work-up of this moment, None where rows are read."""

    job_id: int
    facts: JobFacts
    work: JobResult | None = None

    @property
    def trouble(self) -> str:
        """Why the walls cannot be worked out; takeoff and plan are then None."""
        return self.facts.trouble

    @cached_property
    def takeoff(self) -> Takeoff | None:
        if self.work is not None:
            return self.work.done.takeoff if self.work.done else None
        return self._read(TAKEOFF, Takeoff)

    @cached_property
    def plan(self) -> ActivityPlan | None:
        if self.work is not None:
            return self.work.done.plan if self.work.done else None
        return self._read(PLAN, ActivityPlan)

    def _read(self, kind: str, of: type[T]) -> T | None:
        row = StoredResult.objects.filter(job=self.job_id, kind=kind).values_list("document", flat=True).first()
        return read_result(of, row) if row is not None else None


@dataclass(frozen=True)
class ListedFacts:
    """Facts of one job of a list. is_current: nothing has changed since they were worked out."""

    facts: JobFacts
    is_current: bool


def stored_job(job: Job, today: date) -> StoredJob:
    """Raises NoFirmYet where nothing is stored and there is no firm."""
    return _standing(job.pk, today) or _refreshed(job, today) or _worked_up_now(job, today)


def facts_of_jobs(job_ids: Collection[int], today: date) -> dict[int, ListedFacts]:
    """From rows, in a number of queries that does not grow with the jobs; those never worked up are left out.

    A few that are older than their job are worked up first.
    """
    facts = _listed(job_ids, today)
    older = [pk for pk in job_ids if pk not in facts or not facts[pk].is_current]
    if 0 < len(older) <= MAX_LIVE:
        bring_up_to_date(Job.objects.filter(pk__in=older), today)
        facts |= _listed(older, today)
    return facts


def bring_up_to_date(jobs: Iterable[Job], today: date) -> None:
    """Work up, or date anew, what of these open jobs is older than they are; for a few, while somebody waits."""
    for job in jobs:
        if _standing(job.pk, today) is None:
            _refreshed(job, today)


HEAD = ("job__worked__changes", "job__worked__catalog_changes", "job__worked__dated_on", "job__worked__basis")


def _listed(job_ids: Collection[int], today: date) -> dict[int, ListedFacts]:
    rows = StoredResult.objects.filter(job__in=job_ids, kind=FACTS)
    stands = _Standing(today)
    return {
        job: ListedFacts(read_result(JobFacts, document), rules == stands.rules and stands.of(changes, basis, *head))
        for job, document, rules, changes, basis, *head in rows.values_list(
            "job", "document", "rules", "changes", "basis", *HEAD
        )
    }


class _Standing:
    """Whether rows stand, by what they rest on. The catalog is read once, and only where its number cannot say it."""

    def __init__(self, today: date) -> None:
        self.today, self.rules = today, rules_in_force()

    @cached_property
    def number(self) -> int:
        return catalog_number()

    @cached_property
    def basis(self) -> str:
        return inputs_digest(book_of(), self.today)

    def of(self, at: int, basis: str, changes: int, catalog: int | None, dated_on: date | None, stored: str) -> bool:
        if at != changes or not basis:
            return False
        by_number = basis == stored and self.is_dated(changes, catalog, dated_on, stored)
        return by_number or basis == self.basis

    def is_dated(self, changes: int, catalog: int | None, dated_on: date | None, stored: str) -> bool:
        """Whether the days of the needs are of this day and catalog too. stored: empty for a closed job."""
        return not stored or (catalog == self.number and dated_on == self.today)


def _standing(job_id: int, today: date) -> StoredJob | None:
    pair = _stored(job_id, today)
    if pair is None:
        return None
    stored, is_dated = pair
    if not is_dated:
        redate_job(job_id, today)
    return stored


def _stored(job_id: int, today: date) -> tuple[StoredJob, bool] | None:
    """What stands of a job, and whether the days of its needs do too."""
    stands = _Standing(today)
    rows = StoredResult.objects.filter(job=job_id, kind=FACTS, rules=stands.rules)
    for document, at, basis, *head in rows.values_list("document", "changes", "basis", *HEAD):
        if stands.of(at, basis, *head):
            return StoredJob(job_id, read_result(JobFacts, document)), stands.is_dated(*head)
    return None


def is_as_stored(job: Job, today: date) -> bool:
    """For the audit: whether what claims to stand is what a work-up finds now; drawings are not drawn again."""
    pair = _stored(job.pk, today)
    if pair is None:
        return True
    work = work_of(job, book_of(), today)
    fresh = StoredJob(job.pk, facts_of(work.done, work.trouble, pictures=False), work)
    stored = pair[0]
    return (without_pictures(stored.facts), stored.takeoff, stored.plan) == (fresh.facts, fresh.takeoff, fresh.plan)


def _refreshed(job: Job, today: date) -> StoredJob | None:
    """Worked up under the errand of the job, so that a worker does not do it as well; None for a closed job."""
    if job.closed_on is not None or _state(job.pk) == ErrandState.FAILED:
        return None
    ask_to_date([job.pk], clock.now())
    errand = Errand.objects.get(kind=DATE_JOB, key=str(job.pk))
    if run_errand(errand.pk, "page") == Outcome.NOT_OURS:
        _wait_for(job.pk)
    return _standing(job.pk, today)


def _state(job_id: int) -> str | None:
    return Errand.objects.filter(kind=DATE_JOB, key=str(job_id)).values_list("state", flat=True).first()


def _wait_for(job_id: int) -> None:
    ends_at = time.monotonic() + MAX_WAIT_S
    while _state(job_id) == ErrandState.CLAIMED and time.monotonic() < ends_at:
        time.sleep(LOOK_EVERY_S)


def _worked_up_now(job: Job, today: date) -> StoredJob:
    """Kept as well, unless the job changes in between or is open: rows of open jobs follow their errand alone."""
    head, _ = WorkedJob.objects.get_or_create(pk=job.pk)
    with read_anew():
        book = book_of()
        work = work_of(job, book, today)
    if job.closed_on is not None:
        with transaction.atomic():
            if WorkedJob.objects.select_for_update().filter(pk=job.pk, changes=head.changes).exists():
                basis = inputs_digest(book, today)
                store_results(job.pk, work.done, work.trouble, changes=head.changes, basis=basis)
                keep_walls(job.pk, work.done)
    return StoredJob(job.pk, facts_of(work.done, work.trouble), work)
