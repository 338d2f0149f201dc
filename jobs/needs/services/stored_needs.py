"""What a work-up found of a job, kept as rows: its needs with their dates, and what is missing or to be decided."""

import hashlib
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.db import transaction

from catalog.core.ground.declared import write
from catalog.core.materials.catalog_data import Catalog
from catalog.services.changes import catalog_number
from jobs.core.measure.dimension_holds import Hold
from jobs.core.measure.findings import Finding
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.ordering.needs import DatedNeed, wants_of
from jobs.core.ordering.order_lines import statement_of
from jobs.core.ordering.order_timing import checked_on
from jobs.jobs.models import Job, WorkedJob
from jobs.needs.models import StoredNeed
from jobs.needs.models.stored_needs import DAYS, OF_A_HOLD, finding_document, stored_finding
from jobs.needs.services.result_rows import drop_results, store_results
from jobs.walls.services.wall_cache import keep_walls, what_walls_take
from jobs.work_up.services.findings import findings_of_the_job
from jobs.work_up.services.job_work_up import JobResult
from quoting.platform.models.core_values import column_values

before_storing: list[Callable[[list[int]], object]] = []
"""Called with ids of jobs before their needs are written, by whoever holds rows that others hold before needs."""
after_refresh: list[Callable[[Job, JobWorkUp | None], None]] = []
"""Called in the transaction that stores a job's needs; without a work-up where the job is closed or in trouble."""
after_redating: list[Callable[[list[int]], None]] = []
"""Called with the ids of jobs whose dates were counted again, in the transaction that stores those."""

after_counting: list[Callable[[list[int]], None]] = []
"""Called with the ids of all jobs whose dates were counted, moved or not, in that transaction."""

# Whether something of it is left to order follows from orders as well: whoever follows both writes it.
NOT_STORED_HERE = ("id", "job", "material", "to_order")
COLUMNS = [field.name for field in StoredNeed._meta.concrete_fields if field.name not in NOT_STORED_HERE]
OF_THE_JOB = ("quantity", "amount", "driven_by", "holds", "field_checked_on", "statement", "missing")
DATE_COLUMNS = [name for name in COLUMNS if name not in OF_THE_JOB]


@dataclass(frozen=True)
class InputVersions:
    """What a work-up rests on, read before anything else of it: what changes later makes it old, never wrong."""

    changes: int
    catalog: int
    today: date


def seen_now(job_id: int, today: date) -> InputVersions:
    row, _ = WorkedJob.objects.get_or_create(pk=job_id)
    return InputVersions(row.changes, catalog_number(), today)


def inputs_digest(book: Catalog, today: date) -> str:
    """Mark over what quantities and days of activities take from the catalog; dates alone rest on more than that."""
    return hashlib.sha256(repr((what_walls_take(book, today), book.firm.closures)).encode()).hexdigest()


@transaction.atomic
def refresh_job(job: Job, work: JobResult | None, seen: InputVersions, now: datetime) -> None:
    """Store what the work-up of a job found, and drop what is gone. work: None for a closed job."""
    work_up = work.done if work else None
    book = (work.book or (work_up.read.book if work_up else None)) if work else None
    rows = _rows(job, work_up) if work_up else []
    head: dict[str, Any] = {
        "worked_changes": seen.changes,
        "catalog_changes": seen.catalog,
        "dated_on": seen.today,
        "worked_up_at": now,
        "basis": inputs_digest(book, seen.today) if book else "",
        "trouble": work.trouble if work else "",
        "findings": findings_of_the_job(work_up) if work_up else [],
    }
    # The head first: whoever dates rows again holds it too.
    WorkedJob.objects.filter(pk=job.pk).update(**head)
    hold_before_storing([job.pk])
    StoredNeed.objects.filter(job=job).exclude(material__in=[row.material for row in rows]).delete()
    store_rows(rows, COLUMNS)
    if work is None:
        drop_results(job.pk)
    else:
        store_results(job.pk, work_up, work.trouble, changes=seen.changes, basis=head["basis"])
    keep_walls(job.pk, work_up)
    for message in after_refresh:
        message(job, work_up)


def findings_of_needs(job: Job) -> list[Finding]:
    """What must be read of the days of its items, as they were last dated."""
    rows = StoredNeed.objects.filter(job=job).values_list("findings", flat=True)
    return [stored_finding(entry) for row in rows for entry in row]


def hold_before_storing(job_ids: list[int]) -> None:
    for hold in before_storing:
        hold(job_ids)


def store_rows(rows: Iterable[StoredNeed], columns: list[str]) -> None:
    StoredNeed.objects.bulk_create(
        rows, update_conflicts=True, unique_fields=["job", "material"], update_fields=columns, batch_size=200
    )


def _rows(job: Job, work_up: JobWorkUp) -> list[StoredNeed]:
    read, purchases = work_up.read, {purchase.material: purchase for purchase in work_up.takeoff.purchases}
    dated = {need.material: need for need in work_up.needs}
    rows = []
    for want in wants_of(read.job, work_up.walls, work_up.takeoff.purchases, work_up.plan, read.book):
        bought = purchases.get(want.material)
        statement = statement_of(read.book.materials[want.material], bought, work_up.walls)
        others = {
            "amount": bought.cost if bought else None,
            "supplier": "",
            "agreed_supplier": want.supplier or "",
            "holds": [_hold_document(hold) for hold in want.holds],
            "field_checked_on": checked_on(work_up.walls, want.material),
            "statement": write(statement),
            "missing": list(statement.missing_sentences),
        }
        row = StoredNeed(job=job, **column_values(want, StoredNeed, **others))
        fill_dates(row, dated[want.material])
        rows.append(row)
    return rows


def fill_dates(row: StoredNeed, need: DatedNeed) -> bool:
    """Put into a row what its catalog entry and its back-pass say. True when anything of it differs."""
    before = [getattr(row, name) for name in DATE_COLUMNS]
    term, dates = need.term, need.dates
    row.name, row.supply, row.supplier, row.unit = need.name, need.supply, need.supplier or "", need.unit
    row.cushion_workdays, row.sign_off_workdays = need.cushion_workdays, need.sign_off_workdays
    row.production_days = term.production_days if term else None
    row.production_counts = term.production_counts if term else ""
    row.transit_workdays = term.transit_workdays if term else None
    row.term_source, row.term_stated_by = (term.source, term.stated_by) if term else ("", "")
    row.term_stated_on = term.stated_on if term else None
    row.planned_workdays = need.planned_workdays
    for name in (*DAYS, "cut_off"):
        setattr(row, name, getattr(dates, name, None))
    row.findings = [finding_document(finding) for finding in need.findings]
    return before != [getattr(row, name) for name in DATE_COLUMNS]


def _hold_document(hold: Hold) -> dict[str, str]:
    own = {name: getattr(hold, name) for name in OF_A_HOLD}
    return own | finding_document(hold.finding)
