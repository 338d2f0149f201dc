"""Stored jobs as job files and back.

A job file holds the firm it was written by. When it comes into a catalog that has its firm already, the stored
firm stays as it is: its closures, kit and standards are the office's, and a file from elsewhere must not move
other jobs' dates. Suppliers and materials that the catalog knows stay as well; those it lacks are added.
So an imported job has the figures of its file when the catalog holds the same as the file, and the office's
own figures where it does not.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime
from operator import is_not
from typing import Any, Literal

from django.db import transaction

from catalog.core.ground.document_reader import DocumentError
from catalog.models import Firm
from catalog.services.book import book_of
from catalog.services.catalog_file import store_book
from jobs.core.measure.findings import Finding
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.jobs.models import Job
from jobs.walls.services.wall_cache import walls_worked_up
from jobs.whole_jobs.services.job_store import store_job
from jobs.work_up.services.kept_job_specs import kept_spec
from quoting.core.quotes.job_file import JobFile, read_job_file, write_job_file
from quoting.core.quotes.work_up import WorkUp, work_up
from quoting.platform.firm_day import signature_of
from quoting.pricing.services.least_margin import as_the_firm_asks, with_approval
from quoting.pricing.services.pricing import pricing_of, spec_of, store_pricing
from quoting.texts.services.firm_texts import firm_texts_of

Document = dict[str, Any]
PRICING = "pricing"
MAX_KEPT = 32
_last: dict[int, tuple[JobFile, WorkUp, tuple[WallWorkUp, ...]]] = {}
NOT_YOURS_TO_PRICE = "is for estimators and owners alone; leave this part out, or ask one of them to import the file"


def job_file_of(job: Job, on_day: date) -> JobFile:
    """The stored job with the catalog behind it, in a number of queries that does not grow with either."""
    return _read(job, on_day)[0]


def work_up_job(job: Job, today: date) -> WorkUp:
    """The stored job worked up; raises SurveyError when a wall's figures give no wall."""
    read, work = job_file_to_work_up(job, today)
    return work(read)


def job_file_to_work_up(job: Job, today: date) -> tuple[JobFile, Callable[[JobFile], WorkUp]]:
    """The stored job, and what works it up as of the day, built as it is or another way."""
    read, missing = _read(job, today)

    def work(file: JobFile) -> WorkUp:
        result = _with_gap(_worked_up(job.pk if file is read else 0, file, today), missing)
        return result if result.quote is None else replace(result, quote=with_approval(job, result.quote))

    return read, work


def _worked_up(job_id: int, file: JobFile, today: date) -> WorkUp:
    """What this process worked up last of the job, where all of it is as it was. job_id: 0 for another build."""

    def walls_of(file: JobFile) -> tuple[WallWorkUp, ...]:
        return walls_worked_up(file, today)

    walls, kept = walls_of(file), _last.get(job_id)
    if kept is None or (kept[0], kept[1].today) != (file, today) or any(map(is_not, kept[2], walls)):
        kept = _last[job_id] = file, work_up(file, today, walls, walls_of=walls_of), walls
        while len(_last) > MAX_KEPT:
            _last.pop(next(iter(_last)), None)
    return kept[1]


def _read(job: Job, on_day: date) -> tuple[JobFile, str]:
    """As it is worked up: with what the firm asks of every price."""
    read, missing = _stored(job, on_day)
    return (replace(read, pricing=as_the_firm_asks(read.pricing)) if read.pricing else read), missing


def _stored(job: Job, on_day: date) -> tuple[JobFile, str]:
    spec = kept_spec(job)
    pricing = pricing_of(job)
    priced, missing = spec_of(pricing, on_day) if pricing else (None, "")
    return JobFile(book_of(), spec, priced, firm_texts_of()), missing


def _with_gap(result: WorkUp, missing: str) -> WorkUp:
    if not missing or result.quote is None:
        return result
    gap = Finding("pricing/tax", "gap", missing)
    unpriced = {"priced": None, "deposit": None, "options": (), "offer": None, "gate": None}
    quote = replace(result.quote, **unpriced, findings=(*result.quote.findings, gap))
    return replace(result, quote=quote)


def export_job_file(job: Job, on_day: date, *, with_pricing: bool = True) -> Document:
    """The job as a file whole in itself; a tax given by name is written with the rate of the day.

    with_pricing: False for those who do not see margins; the file then says nothing of how the job is priced.
    """
    if not with_pricing:
        document = write_job_file(JobFile(book_of(), kept_spec(job)))
        del document[PRICING]
        return document
    read, missing = _stored(job, on_day)
    if missing:
        raise DocumentError.at("pricing.tax", missing)
    return write_job_file(read)


@transaction.atomic
def import_job_file(
    document: Document,
    *,
    now: datetime,
    by: Any = None,
    on_known: Literal["refuse", "replace"] = "refuse",
    with_pricing: bool = True,
) -> Job:
    """Bring a job file in: what the catalog lacks, client, job, walls and pricing, all of it or nothing.

    by: the Person who brings it in. What the file says keeps its author and day; that it was brought in, by whom and
    when, stays here. with_pricing: False for those who do not set prices; a file that holds any is refused.
    """
    if not with_pricing and document.get(PRICING) is not None:
        raise DocumentError.at(PRICING, NOT_YOURS_TO_PRICE)
    read = read_job_file(document, book_of() if Firm.objects.exists() else None)
    store_book(read.book, on_known="keep")
    signature = None if by is None else replace(signature_of(by, now), brings_file=True)
    job = store_job(read.job, now=now, by=by, on_known=on_known, signature=signature)
    if read.pricing is not None:
        store_pricing(job, read.pricing, signature=signature)
    return job


def figures_mark(read: JobFile, today: date) -> str:
    """Changes whenever anything that the job's figures of the day rest on does: job, pricing or catalog."""
    text = json.dumps([today.isoformat(), write_job_file(read)], sort_keys=True, allow_nan=False)
    return hashlib.sha256(text.encode()).hexdigest()
