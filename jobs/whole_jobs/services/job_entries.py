"""Jobs entered, whole or in part, as a job file says them."""

import re
from contextlib import suppress
from dataclasses import replace
from datetime import datetime
from typing import Any

from django.db import transaction

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.refusal import Refused
from catalog.core.ground.units import BareLengthUnit
from jobs.core.schedule.job_spec import JobSpec
from jobs.deleted.models import Deleted, DeletedKind
from jobs.deleted.services.deleted import Deletion, put_back_by
from jobs.jobs.models import Job
from jobs.jobs.services.changes import fact_changed
from jobs.jobs.services.versions import next_version
from jobs.whole_jobs.services.job_store import KeyTaken, OnKnown, fill_job, refuse_wrong_head, store_job
from quoting.platform.people.signatures import Signature

TRIES_FOR_A_KEY = 20


def create_job(
    document: dict[str, Any],
    *,
    now: datetime,
    by: Any = None,
    bare_unit: BareLengthUnit = "in",
    signature: Signature | None = None,
) -> Job:
    """A new job from `client`, `job` and perhaps `walls`; without a key it is given the next one."""
    about = document.get("job")
    if not isinstance(about, dict) or about.get("key"):
        return import_job(document, now=now, by=by, bare_unit=bare_unit, signature=signature)
    spec = read(JobSpec, Reader({**document, "job": {**about, "key": "J-0000"}}, bare_unit=bare_unit))
    for _ in range(TRIES_FOR_A_KEY - 1):
        with suppress(KeyTaken):
            return store_job(replace(spec, key=next_job_key()), now=now, by=by, signature=signature)
    return store_job(replace(spec, key=next_job_key()), now=now, by=by, signature=signature)


def next_job_key() -> str:
    keys = Job.objects.filter(key__startswith="J-").values_list("key", flat=True)
    numbers = [int(key[2:]) for key in keys if re.fullmatch(r"J-[0-9]{1,9}", key)]
    return f"J-{max(numbers, default=0) + 1:04d}"


def import_job(
    document: dict[str, Any],
    *,
    now: datetime,
    by: Any = None,
    bare_unit: BareLengthUnit = "in",
    on_known: OnKnown = "refuse",
    signature: Signature | None = None,
) -> Job:
    """The parts `client`, `job` and `walls` of a job file; its other parts are others' to read."""
    spec = read(JobSpec, Reader(document, bare_unit=bare_unit))
    return store_job(spec, now=now, by=by, on_known=on_known, signature=signature)


def changed_head(job: Job, document: dict[str, Any], *, bare_unit: BareLengthUnit = "in") -> JobSpec:
    """The job with those entries of `client` and `job` changed, walls and all the rest as stored. Stores nothing."""
    stored = job.to_core()
    present = write(stored)
    about, client = document.get("job", {}), document.get("client", {})
    if isinstance(about, dict) and about.get("key", job.key) != job.key:
        raise DocumentError.at("job.key", "the key stands in papers and links and cannot change")
    merged = {
        "client": {**present["client"], **client} if isinstance(client, dict) else client,
        "job": {**present["job"], **about} if isinstance(about, dict) else about,
    }
    spec = read(JobSpec, Reader(merged, bare_unit=bare_unit))
    refuse_wrong_head(spec)
    if spec.templates != stored.templates:
        raise DocumentError.at("job.templates", "are kept in the register of templates; change them there")
    if spec.actual_days != stored.actual_days:
        raise DocumentError.at("job.actual_days", "are said activity by activity; begin or end each on its own")
    return replace(spec, walls=stored.walls)


@transaction.atomic
def save_job_head(
    job: Job,
    document: dict[str, Any],
    *,
    seen_version: int | None,
    note: str | None = None,
    bare_unit: BareLengthUnit = "in",
    signature: Signature | None = None,
    deletion: Deletion | None = None,
) -> Job:
    """Change entries of `client` and `job`, as in a job file; what is not named stays, walls too.

    deletion: by whom items that are left out are deleted.
    """
    spec = changed_head(job, document, bare_unit=bare_unit)
    next_version(job, seen_version)
    job.note = job.note if note is None else note
    fill_job(job, spec, signature, deletion)
    job.forget_parts()
    fact_changed(job.pk)
    return job


@put_back_by(DeletedKind.ITEM)
def put_item_back(row: Deleted, deletion: Deletion) -> None:
    items = write(row.job.to_core())["job"].get("items", [])
    if any(item["key"] == row.key for item in items):
        raise Refused(f'{row} cannot be put back: the job has another item with the key "{row.key}".')
    save_job_head(row.job, {"job": {"items": [*items, row.document]}}, seen_version=None)
