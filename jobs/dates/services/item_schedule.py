"""Items of open jobs as they are read from rows; jobs whose rows are older than they are, worked up while few."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time
from decimal import Decimal
from typing import Any

from django.db.models import F, Q

from catalog.core.ground.declared import write
from catalog.core.ground.workdays import WorkCalendar
from catalog.core.materials.specs import Supplier as SupplierSpec
from catalog.services.book import book_of, firm_of
from catalog.services.changes import catalog_number_once
from catalog.services.suppliers import suppliers_by_code
from jobs.core.ordering.needs import DatedNeed, counted_on
from jobs.core.ordering.order_lines import mark_of, statement_of
from jobs.core.ordering.order_timing import checked_on
from jobs.jobs.models import Job
from jobs.jobs.services.signed import signed_jobs
from jobs.needs.models import StoredNeed
from jobs.needs.services.stored_jobs import MAX_LIVE, bring_up_to_date
from jobs.work_up.services.job_work_up import JobResult, worked_up
from quoting.platform.read_once import few_of, is_of_a_page


@dataclass(frozen=True)
class DateContext:
    """What is needed to read days as they count now. calendar: the firm's. suppliers: by code."""

    today: date
    now_at: time | None
    calendar: WorkCalendar
    suppliers: Mapping[str, SupplierSpec]

    def counted(self, need: DatedNeed) -> DatedNeed:
        return counted_on(need, self.suppliers.get(need.supplier or ""), self.calendar, self.today, self.now_at)


@dataclass(frozen=True)
class DatedItem:
    """One item of one job. missing: what its order does not state, in sentences. stated: what it does, as a document.

    checked_on: from when the walls it is made to are confirmed on site. as_of: the day its dates were worked out on,
    None when they stand. amount: what it costs, None while a price is missing.
    """

    job: Job
    need: DatedNeed
    missing: tuple[str, ...] = ()
    stated: Mapping[str, Any] = field(default_factory=dict)
    checked_on: date | None = None
    as_of: date | None = None
    amount: Decimal | None = None

    @property
    def mark(self) -> str:
        return mark_of(self.stated)


@dataclass(frozen=True)
class OpenJobItems:
    """What can be read of all open jobs. live: worked up now, for their rows are older. older: jobs of which the rows
    are read all the same. awaited: those of them that have changed since, or were never worked up. signed: ids of the
    jobs that are, closed ones among them."""

    desk: DateContext
    live: tuple[JobResult, ...]
    live_items: tuple[DatedItem, ...]
    older: Mapping[int, Job]
    awaited: tuple[Job, ...]
    signed: frozenset[int] = frozenset()

    @property
    def live_ids(self) -> list[int]:
        return [result.job.pk for result in self.live]

    def of_row(self, row: StoredNeed) -> DatedItem:
        job = self.older.get(row.job_id, row.job)
        as_of = job.worked.dated_on if row.job_id in self.older else None
        return DatedItem(
            row.job,
            self.desk.counted(row.to_core()),
            tuple(row.missing),
            row.statement,
            row.field_checked_on,
            as_of,
            row.amount,
        )


def desk_at(moment: datetime) -> DateContext:
    """moment: by the firm's own clock. Raises NoFirmYet."""
    return DateContext(moment.date(), moment.time(), firm_of().calendar, suppliers_by_code())


def open_items(moment: datetime, job: Job | None = None) -> OpenJobItems:
    """Of all open jobs, or of one. Raises NoFirmYet where there are jobs and no firm.

    Without workers the dates of a few jobs are live and all others stand as they were found.
    """
    if not Job.objects.filter(closed_on=None).exists():
        return OpenJobItems(DateContext(moment.date(), moment.time(), WorkCalendar("the firm"), {}), (), (), {}, ())
    desk = desk_at(moment)
    stale = _stale(desk.today, job)
    if 0 < len(stale) <= MAX_LIVE and is_of_a_page():
        bring_up_to_date(stale, desk.today)
        stale = _stale(desk.today, job)
    changed = [job for job in stale if not _stands(job)]
    live = stale if len(stale) <= MAX_LIVE else changed if len(changed) <= MAX_LIVE else []
    worked = worked_up(live, book_of(), desk.today, desk.now_at) if live else ()
    ids = {job.pk for job in live}
    older = {job.pk: job for job in stale if job.pk not in ids and _was_worked_up(job)}
    items = tuple(item for work in worked for item in items_of_work(work))
    awaited = tuple(job for job in changed if job.pk not in ids)
    signed = frozenset(few_of(signed_jobs(), "signed jobs"))
    return OpenJobItems(desk, worked, items, older, awaited, signed)


def _stale(today: date, job: Job | None) -> list[Job]:
    """Open jobs that changed since they were worked up, or were dated by an older catalog or on another day."""
    older = ~Q(worked__catalog_changes=catalog_number_once()) | ~Q(worked__dated_on=today)
    changed = Q(worked=None) | Q(worked__worked_changes=None) | ~Q(worked__worked_changes=F("worked__changes"))
    jobs = Job.objects.filter(closed_on=None).filter(changed | older)
    jobs = jobs if job is None else jobs.filter(pk=job.pk)
    return list(jobs.select_related("client", "worked").order_by("pk"))


def _was_worked_up(job: Job) -> bool:
    return hasattr(job, "worked") and job.worked.worked_changes is not None


def _stands(job: Job) -> bool:
    return _was_worked_up(job) and job.worked.worked_changes == job.worked.changes


def items_of_work(work: JobResult) -> list[DatedItem]:
    """The same items as from rows, from a work-up of this moment."""
    work_up = work.done
    if work_up is None:
        return []
    materials, bought = work_up.read.book.materials, {entry.material: entry for entry in work_up.takeoff.purchases}
    items = []
    for need in work_up.needs:
        purchase = bought.get(need.material)
        statement = statement_of(materials[need.material], purchase, work_up.walls)
        items.append(
            DatedItem(
                work.job,
                need,
                statement.missing_sentences,
                write(statement),
                checked_on(work_up.walls, need.material),
                amount=purchase.cost if purchase else None,
            )
        )
    return items
