"""Dates of stored needs counted again from the rows alone, where what they were worked out of still stands."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date

from django.db import transaction
from django.db.models import F

from catalog.core.materials.catalog_data import Catalog
from catalog.services.book import book_of
from catalog.services.changes import catalog_number
from jobs.core.ordering.needs import DatedNeed, Want, date_want
from jobs.jobs.models import WorkedJob
from jobs.needs.models import StoredNeed
from jobs.needs.services.stored_needs import (
    DATE_COLUMNS,
    after_counting,
    after_redating,
    fill_dates,
    hold_before_storing,
    inputs_digest,
    store_rows,
)
from quoting.platform.read_once import read_anew

JOBS_AT_ONCE = 25
Say = Callable[[str, int], None]
Dater = Callable[[StoredNeed], DatedNeed]


def _say_nothing(text: str, percent: int) -> None:
    pass


@dataclass(frozen=True)
class Redated:
    """job_ids: whose dates were counted again. changed: rows written. to_work_up: jobs whose rows do not stand."""

    job_ids: tuple[int, ...]
    changed: int
    to_work_up: tuple[int, ...]


def recompute_dates(today: date, say: Say = _say_nothing) -> Redated:
    """All open jobs, some at a time, each lot in a transaction of its own: done twice it does no more than once.

    The number of the catalog is read first, so that what changes while this runs leaves the rows older than it.
    """
    catalog = catalog_number()
    book = book_of()
    basis = inputs_digest(book, today)
    standing, fallen = _sorted_out(basis)
    dated, changed = _dater(book, today), 0
    for lot in _lots(standing):
        say(f"Counting the dates of {len(standing)} jobs", 100 * lot.start // len(standing))
        changed += _redate(standing[lot.start : lot.stop], dated, basis, catalog, today)
    return Redated(tuple(standing), changed, tuple(fallen))


def redate_job(job_id: int, today: date) -> None:
    """The same of one job, for a page that cannot wait; where its quantities do not stand it does nothing."""
    with read_anew():
        catalog, book = catalog_number(), book_of()
        _redate([job_id], _dater(book, today), inputs_digest(book, today), catalog, today)


def _sorted_out(basis: str) -> tuple[list[int], list[int]]:
    standing, fallen = [], []
    rows = WorkedJob.objects.filter(job__closed_on=None, worked_changes__isnull=False).order_by("pk")
    for job_id, stands in rows.values_list("pk", "basis"):
        (standing if stands == basis else fallen).append(job_id)
    return standing, fallen


def _lots(job_ids: list[int]) -> Iterator[range]:
    for first in range(0, len(job_ids), JOBS_AT_ONCE):
        yield range(first, first + JOBS_AT_ONCE)


@transaction.atomic
def _redate(job_ids: list[int], dated: Dater, basis: str, catalog: int, today: date) -> int:
    heads = WorkedJob.objects.select_for_update(of=("self",)).filter(
        pk__in=job_ids, basis=basis, worked_changes=F("changes"), job__closed_on=None
    )
    held = list(heads.order_by("pk").values_list("pk", flat=True))
    hold_before_storing(held)
    rows = [row for row in StoredNeed.objects.filter(job__in=held) if fill_dates(row, dated(row))]
    store_rows(rows, DATE_COLUMNS)
    WorkedJob.objects.filter(pk__in=held).update(catalog_changes=catalog, dated_on=today)
    moved = sorted({row.job_id for row in rows})
    if moved:
        for message in after_redating:
            message(moved)
    for message in after_counting:
        message(held)
    return len(rows)


def _dater(book: Catalog, today: date) -> Dater:
    """Dates what a row wants; what is wanted alike by many jobs is dated once. Quantities and holds move no date."""
    calendar = book.firm.calendar
    known: dict[Want, DatedNeed] = {}

    def dated(row: StoredNeed) -> DatedNeed:
        want = row.to_dated_want()
        if want.material not in book.materials:
            return row.to_core()
        if want not in known:
            known[want] = date_want(want, book, calendar, today)
        return known[want]

    return dated
