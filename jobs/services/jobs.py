import re
from dataclasses import replace
from datetime import datetime
from typing import Any, Literal

from django.db import IntegrityError, transaction
from django.db.models import Count, Q

from catalog.core.reading import Complaint, DocumentError, Reader
from catalog.core.units import BareLengthUnit
from catalog.services.known import Named, complaints_about
from catalog.services.rows import match_rows
from catalog.services.suppliers import closure_figures
from jobs.core.job import JobSpec
from jobs.core.job_document import read_job, write_job
from jobs.core.wall_document import Document
from jobs.models import Job, Wall
from jobs.services.clients import client_for
from jobs.services.versions import next_version
from jobs.services.wall_checks import doubles, override_doubles
from jobs.services.wall_rows import override_figures
from jobs.services.walls import fill_wall, refuse_wrong_walls

OnKnown = Literal["refuse", "replace"]
TRIES_FOR_A_KEY = 20


@transaction.atomic
def store_job(
    spec: JobSpec,
    *,
    now: datetime,
    by: Any = None,
    on_known: OnKnown = "refuse",
    seen_version: int | None = None,
) -> Job:
    """Make the job of that key exactly this one, walls and all, or nothing.

    A key that is taken is refused, or with "replace" that job is made this one. by: the Person who does it.
    """
    refuse_wrong_job(spec)
    job = Job.objects.select_for_update().filter(key=spec.key).first()
    if job is None:
        job = _new_job(spec, now, by)
    elif on_known == "refuse":
        raise _taken(spec.key)
    else:
        next_version(job, seen_version)
    _fill_job(job, spec)
    _fill_walls(job, spec)
    job.forget_parts()
    return job


def refuse_wrong_job(spec: JobSpec) -> None:
    complaints: list[Complaint] = []
    for check in (
        lambda: _refuse_wrong_head(spec),
        lambda: refuse_wrong_walls((f"walls[{place}].", wall) for place, wall in enumerate(spec.walls)),
    ):
        try:
            check()
        except DocumentError as error:
            complaints.extend(error.complaints)
    if complaints:
        raise DocumentError(complaints)


def _refuse_wrong_head(spec: JobSpec) -> None:
    complaints = override_doubles(spec.overrides, "job.overrides")
    complaints += doubles([one.key for one in spec.activities], "job.activities")
    complaints += complaints_about(
        Named(f"job.dates[{place}].material", one.material) for place, one in enumerate(spec.dates)
    )
    if complaints:
        raise DocumentError(complaints)


def _taken(key: str) -> DocumentError:
    return DocumentError.at(
        "job.key", f'there is a job "{key}" already; give another key, or replace that job'
    )


def _new_job(spec: JobSpec, now: datetime, by: Any) -> Job:
    job = Job(key=spec.key, title=spec.title, client=client_for(spec.client), created_at=now, created_by=by)
    _set_head(job, spec)
    try:
        with transaction.atomic():
            job.save()
    except IntegrityError as error:
        # Someone took the key between our look and our write.
        raise _taken(spec.key) from error
    return job


def _set_head(job: Job, spec: JobSpec) -> None:
    job.title, job.site_address = spec.title, spec.site_address
    job.start_on, job.crew = spec.start_on, spec.crew


def _fill_job(job: Job, spec: JobSpec) -> None:
    if job.client.to_core() != spec.client:
        job.client = client_for(spec.client)
    _set_head(job, spec)
    job.save()
    owner = {"job": job}
    dates = [
        {
            "material_id": one.material,
            "need_by": one.need_by,
            "cushion_workdays": one.cushion_workdays,
            "sign_off_workdays": one.sign_off_workdays,
        }
        for one in spec.dates
    ]
    activities = [
        {
            "key": one.key,
            "duration_workdays": one.duration_workdays,
            "not_before": one.not_before,
            "left_out": one.left_out,
        }
        for one in spec.activities
    ]
    overrides = [override_figures(one) for one in spec.overrides]
    match_rows(job.closures.all(), map(closure_figures, spec.closures), owner=owner)
    match_rows(job.item_dates.all(), dates, key=("material_id",), owner=owner)
    match_rows(job.activity_changes.all(), activities, key=("key",), owner=owner)
    match_rows(job.overrides.filter(wall=None), overrides, key=("key",), owner=owner)


def _fill_walls(job: Job, spec: JobSpec) -> None:
    present = {wall.key: wall for wall in job.walls.all()}
    for place, wall_spec in enumerate(spec.walls):
        wall = present.pop(wall_spec.key, None)
        if wall is None:
            wall = Wall(job=job)
        else:
            next_version(wall, None)
        wall.order = place
        fill_wall(wall, wall_spec)
    for wall in present.values():
        wall.delete()


def create_job(
    document: dict[str, Any], *, now: datetime, by: Any = None, bare_unit: BareLengthUnit = "in"
) -> Job:
    """A new job from `client`, `job` and perhaps `walls`; without a key it is given the next one."""
    about = document.get("job")
    if not isinstance(about, dict) or about.get("key"):
        return import_job(document, now=now, by=by, bare_unit=bare_unit)
    spec = read_job(Reader({**document, "job": {**about, "key": "J-0000"}}, bare_unit=bare_unit))
    for attempt in range(TRIES_FOR_A_KEY):
        key = next_job_key()
        try:
            return store_job(replace(spec, key=key), now=now, by=by)
        except DocumentError as error:
            if error.complaints != _taken(key).complaints or attempt == TRIES_FOR_A_KEY - 1:
                raise
    raise AssertionError("unreachable: the last try returns or raises")


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
) -> Job:
    """The parts `client`, `job` and `walls` of a job file; its other parts are others' to read."""
    return store_job(read_job(Reader(document, bare_unit=bare_unit)), now=now, by=by, on_known=on_known)


def export_job(job: Job) -> Document:
    """The parts `client`, `job` and `walls`. Lengths carry their unit."""
    return write_job(job.to_core())


@transaction.atomic
def save_job_head(
    job: Job,
    document: dict[str, Any],
    *,
    seen_version: int | None,
    note: str | None = None,
    bare_unit: BareLengthUnit = "in",
) -> Job:
    """Change entries of `client` and `job`, as in a job file; what is not named stays, walls too."""
    present = write_job(job.to_core())
    about, client = document.get("job", {}), document.get("client", {})
    if isinstance(about, dict) and about.get("key", job.key) != job.key:
        raise DocumentError.at("job.key", "the key stands in papers and links and cannot change")
    merged = {
        "client": {**present["client"], **client} if isinstance(client, dict) else client,
        "job": {**present["job"], **about} if isinstance(about, dict) else about,
    }
    spec = read_job(Reader(merged, bare_unit=bare_unit))
    _refuse_wrong_head(spec)
    next_version(job, seen_version)
    job.note = job.note if note is None else note
    _fill_job(job, spec)
    job.forget_parts()
    return job


@transaction.atomic
def delete_job(job: Job, *, seen_version: int | None = None) -> None:
    next_version(job, seen_version)
    job.delete()


def job_of(key: str) -> Job:
    return Job.objects.select_related("client").get(key=key)


def list_jobs(search: str = "") -> list[Job]:
    rows = Job.objects.select_related("client").annotate(wall_count=Count("walls"))
    for word in search.split():
        rows = rows.filter(
            Q(key__icontains=word) | Q(title__icontains=word) | Q(client__name__icontains=word)
        )
    return list(rows)
