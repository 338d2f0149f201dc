from datetime import datetime
from typing import Any, Literal

from django.db import IntegrityError, transaction

from catalog.core.ground.declared import write
from catalog.core.ground.document_reader import DocumentError, DocumentProblem, gather
from catalog.core.ground.plain_text import plain
from catalog.models import Supplier
from catalog.services.material_references import MaterialRef, complaints_about
from catalog.services.row_sync import sync_rows
from catalog.services.suppliers import closure_figures
from jobs.core.schedule.job_spec import JobSpec
from jobs.deleted.models import DeletedKind
from jobs.deleted.services.deleted import Deletion, keep_deleted
from jobs.held_templates.services.templates import match_templates
from jobs.jobs.models import Job
from jobs.jobs.services.activities import fill_activities, match_actual_days
from jobs.jobs.services.changes import fact_changed, job_changed
from jobs.jobs.services.clients import client_for
from jobs.jobs.services.signatures import signed, signed_wall
from jobs.jobs.services.versions import next_version
from jobs.plans.services.plans import fill_plans
from jobs.walls.models import Wall
from jobs.walls.services.deleted_walls import drop_wall
from jobs.walls.services.dimension_signatures import marked_on, with_marks_signed
from jobs.walls.services.override_baselines import with_figures_decided
from jobs.walls.services.wall_checks import doubles
from jobs.walls.services.wall_rows import override_figures
from jobs.walls.services.walls import decisions_on, fill_wall, refuse_wrong_walls
from quoting.platform.models.core_values import column_values
from quoting.platform.people.signatures import Signature

OnKnown = Literal["refuse", "replace"]


@transaction.atomic
def store_job(
    spec: JobSpec,
    *,
    now: datetime,
    by: Any = None,
    on_known: OnKnown = "refuse",
    seen_version: int | None = None,
    signature: Signature | None = None,
) -> Job:
    """Make the job of that key exactly this one, walls and all, or nothing.

    A key that is taken is refused, or with "replace" that job is made this one. by: the Person who does it.
    signature: of decisions that are new or changed, or of who brings them in; None keeps the names given.
    """
    refuse_wrong_job(spec)
    job = Job.objects.select_for_update().filter(key=spec.key).first()
    if job is None:
        job = _new_job(spec, now, by)
        job_changed(job.pk)
    elif on_known == "refuse":
        raise KeyTaken.by(spec.key)
    else:
        next_version(job, seen_version)
    deletion = Deletion(by.full_name if by else signature.by if signature else "The service itself", now)
    fill_job(job, spec, signature, deletion)
    _fill_walls(job, spec, signature, deletion)
    match_templates(job, spec.templates)
    match_actual_days(job, spec.actual_days)
    job.forget_parts()
    fact_changed(job.pk)
    return job


def refuse_wrong_job(spec: JobSpec) -> None:
    walls = [(f"walls[{place}].", wall) for place, wall in enumerate(spec.walls)]
    gather((lambda: refuse_wrong_head(spec), lambda: refuse_wrong_walls(walls)))


def refuse_wrong_head(spec: JobSpec) -> None:
    complaints = list(doubles([override.key for override in spec.overrides], "job.overrides"))
    complaints += doubles([activity.key for activity in spec.activities], "job.activities")
    complaints += complaints_about(
        MaterialRef(f"job.dates[{place}].material", item.material) for place, item in enumerate(spec.dates)
    )
    complaints += complaints_about(
        MaterialRef(f"job.on_hand[{place}].material", stock.material) for place, stock in enumerate(spec.plans.on_hand)
    )
    sellers = {date.supplier for date in spec.dates if date.supplier}
    known = set(Supplier.objects.filter(code__in=sellers).values_list("code", flat=True)) if sellers else set()
    complaints += [
        DocumentProblem(f"job.dates[{place}].supplier", f'"{item.supplier}" is not the code of a supplier')
        for place, item in enumerate(spec.dates)
        if item.supplier and item.supplier not in known
    ]
    complaints += complaints_about(
        MaterialRef(f"job.items[{place}].material", item.material) for place, item in enumerate(spec.items)
    )
    if complaints:
        raise DocumentError(complaints)


class KeyTaken(DocumentError):
    @classmethod
    def by(cls, key: str) -> "KeyTaken":
        reason = f'there is a job "{key}" already; give another key, or replace that job'
        return cls([DocumentProblem("job.key", reason)])


def _new_job(spec: JobSpec, now: datetime, by: Any) -> Job:
    job = Job(key=spec.key, title=spec.title, client=client_for(spec.client), created_at=now, created_by=by)
    _set_head(job, spec)
    try:
        with transaction.atomic():
            job.save()
    except IntegrityError as error:
        # Someone took the key between our look and our write.
        raise KeyTaken.by(spec.key) from error
    return job


def _set_head(job: Job, spec: JobSpec) -> None:
    own = column_values(spec, Job)
    for name in own.keys() - {"key", "client_id"}:
        setattr(job, name, own[name])


def fill_job(job: Job, spec: JobSpec, signature: Signature | None = None, deletion: Deletion | None = None) -> None:
    """deletion: of the items that are not in it any more; None where none can go."""
    if job.client.to_core() != spec.client:
        job.client = client_for(spec.client)
    _set_head(job, spec)
    job.save()
    owner = {"job": job}
    dates = [column_values(date, job.item_dates.model) for date in spec.dates]
    items = [column_values(item, job.items.model, activity=item.activity or "") for item in spec.items]
    stored = [override.to_core() for override in job.overrides.filter(wall=None)]
    overrides = [override_figures(override) for override in signed(spec.overrides, stored, signature)]
    sync_rows(job.closures.all(), closure_figures(spec.closures), owner=owner)
    sync_rows(job.item_dates.all(), dates, key=("material_id",), owner=owner)
    if deletion is not None:
        _keep_items_gone(job, spec, deletion)
    sync_rows(job.items.all(), items, key=("key",), owner=owner)
    fill_activities(job, spec)
    sync_rows(job.overrides.filter(wall=None), overrides, key=("key",), owner=owner)
    fill_plans(job, spec.plans, signature)


def _keep_items_gone(job: Job, spec: JobSpec, deletion: Deletion) -> None:
    stay = [entry.key for entry in spec.items]
    for row in job.items.exclude(key__in=stay).select_related("material"):
        item, name = row.to_core(), f"{plain(row.quantity)} × {row.material.name}"
        keep_deleted(job, DeletedKind.ITEM, item.key, name, write(item), deletion)


def _fill_walls(job: Job, spec: JobSpec, signature: Signature | None, deletion: Deletion) -> None:
    present = {wall.key: wall for wall in job.walls.all()}
    for place, wall_spec in enumerate(spec.walls):
        wall = present.pop(wall_spec.key, None)
        if wall is None:
            wall = Wall(job=job)
        else:
            next_version(wall, None)
        wall.order = place
        stored = decisions_on(wall)
        decided = with_marks_signed(signed_wall(wall_spec, stored, signature), marked_on(wall), signature)
        # A file keeps what its decisions say, or leave out.
        taken_here = signature is not None and not signature.brings_file
        fill_wall(wall, with_figures_decided(decided, stored) if taken_here else decided)
    for wall in present.values():
        drop_wall(wall, deletion)
