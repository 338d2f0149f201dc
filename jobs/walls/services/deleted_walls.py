"""A wall that is deleted can be put back for thirty days, with its decisions, marks, readings and photos."""

from dataclasses import replace

from django.db import transaction

from catalog.core.ground.declared import Document, read, write
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import Refused
from jobs.core.measure.brought_in import BroughtIn
from jobs.core.measure.wall_document import write_wall
from jobs.core.measure.wall_spec import WallSpec
from jobs.deleted.models import Deleted, DeletedKind
from jobs.deleted.services.deleted import Deletion, keep_deleted, put_back_by
from jobs.jobs.services.changes import fact_changed
from jobs.jobs.services.versions import next_version
from jobs.walls.models import Wall, WallPhoto
from jobs.walls.services.walls import add_wall_as_it_was, wall_from_document


@transaction.atomic
def delete_wall(wall: Wall, *, deletion: Deletion, seen_version: int | None = None) -> Deleted:
    next_version(wall, seen_version)
    row = drop_wall(wall, deletion)
    fact_changed(wall.job_id)
    wall.job.forget_parts()
    return row


def drop_wall(wall: Wall, deletion: Deletion) -> Deleted:
    """To be called in the transaction that takes the wall's next version."""
    wall.forget_parts()
    spec = wall.to_core()
    document = {
        "wall": write_wall(spec),
        "brought_in": _brought_in(spec),
        "photos": list(wall.photos.values_list("pk", flat=True)),
        "order": wall.order,
    }
    row = keep_deleted(wall.job, DeletedKind.WALL, wall.key, wall.name, document, deletion)
    wall.delete()
    return row


@put_back_by(DeletedKind.WALL)
def put_wall_back(row: Deleted, deletion: Deletion) -> None:
    job, document = row.job, row.document
    if job.walls.filter(key=row.key).exists():
        raise Refused(
            f'{row} cannot be put back: the job has another wall with the key "{row.key}". Delete that first.'
        )
    if job.walls.filter(name=row.name).exists():
        raise Refused(f"{row} cannot be put back: another wall has its name now. Give that another name first.")
    spec = _with_what_came(wall_from_document(document["wall"]), document["brought_in"])
    wall = add_wall_as_it_was(job, spec, order=document["order"])
    # Of its photos those that nobody took down or gave to another wall meanwhile.
    for photo in WallPhoto.objects.filter(pk__in=document["photos"], job=job, wall=None):
        photo.wall = wall
        photo.save()


def _brought_in(spec: WallSpec) -> Document:
    """What a document of a wall does not say: how its decisions and marks came here."""
    return {
        "overrides": {override.key: write(override.brought_in) for override in spec.overrides if override.brought_in},
        "marks": {mark.dimension: write(mark.mark.brought_in) for mark in spec.taken.marks if mark.mark.brought_in},
    }


def _read(written: Document | None) -> BroughtIn | None:
    return None if written is None else read(BroughtIn, Reader(written))


def _with_what_came(spec: WallSpec, written: Document) -> WallSpec:
    overrides = tuple(
        replace(override, brought_in=_read(written["overrides"].get(override.key))) for override in spec.overrides
    )
    marks = tuple(
        replace(mark, mark=replace(mark.mark, brought_in=_read(written["marks"].get(mark.dimension))))
        for mark in spec.taken.marks
    )
    return replace(spec, overrides=overrides, taken=replace(spec.taken, marks=marks))
