from collections.abc import Iterable
from dataclasses import replace

from django.db import transaction

from catalog.core.ground.declared import Document
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.units import BareLengthUnit
from catalog.services.material_references import complaints_about
from catalog.services.row_sync import Figures, sync_rows
from jobs.core.measure.findings import Override
from jobs.core.measure.site_measurements import SiteMeasurements
from jobs.core.measure.wall_document import read_wall, write_wall
from jobs.core.measure.wall_spec import WallSpec
from jobs.core.schedule.job_walls import shared_name
from jobs.jobs.models import Job
from jobs.jobs.services.changes import fact_changed, job_changed
from jobs.jobs.services.signatures import signed_wall
from jobs.jobs.services.versions import ChangedMeanwhile, next_version
from jobs.walls.models import Wall
from jobs.walls.services.dimension_signatures import marked_on, with_marks_signed
from jobs.walls.services.override_baselines import with_figures_decided
from jobs.walls.services.site_rows import fill_taken
from jobs.walls.services.wall_checks import complaints_about_figures, names_in
from jobs.walls.services.wall_rows import (
    height_figures,
    layer_figures,
    opening_figures,
    override_figures,
    piece_figures,
    room_figures,
    trim_figures,
    wall_figures,
)
from quoting.platform.people.signatures import Signature

# Of a name's 200 characters, those left beside ", copy" and a number.
MAX_COPIED_NAME = 185


@transaction.atomic
def store_wall(
    job: Job,
    spec: WallSpec,
    *,
    seen_version: int | None = None,
    path: str = "",
    signature: Signature | None = None,
) -> Wall:
    """Make the wall of that key exactly this one, all its parts or nothing.

    Refused with a DocumentError when a figure or a material cannot stand, and with ChangedMeanwhile when the
    wall is no longer at `seen_version`. None, for imports, asks for no version. signature: of new decisions and
    marks; None keeps the names that are given.
    """
    refuse_wrong_walls([(path, spec)])
    wall = _wall_to_fill(job, spec, seen_version)
    _refuse_shared_name(job, spec, path)
    decisions = decisions_on(wall)
    spec = signed_wall(spec, decisions, signature)
    if signature is not None:
        spec = with_marks_signed(spec, marked_on(wall), signature)
    fill_wall(wall, with_figures_decided(spec, decisions))
    job.forget_parts()
    fact_changed(job.pk)
    return wall


def refuse_wrong_walls(walls: Iterable[tuple[str, WallSpec]]) -> None:
    """The path of each wall ends where its entries begin: "" or "walls[0]."."""
    walls = list(walls)
    complaints = [figure for path, spec in walls for figure in complaints_about_figures(spec, path)]
    complaints += complaints_about(row for path, spec in walls for row in names_in(spec, path))
    if complaints:
        raise DocumentError(complaints)


def _wall_to_fill(job: Job, spec: WallSpec, seen_version: int | None) -> Wall:
    Job.objects.select_for_update().get(pk=job.pk)
    wall = job.walls.filter(key=spec.key).first()
    if wall is None and seen_version is not None:
        raise ChangedMeanwhile(spec.name, seen_version, None)
    if wall is None:
        job_changed(job.pk)
        last = job.walls.order_by("-order").values_list("order", flat=True).first()
        return Wall(job=job, order=0 if last is None else last + 1)
    next_version(wall, seen_version)
    return wall


def _refuse_shared_name(job: Job, spec: WallSpec, path: str) -> None:
    other = job.walls.filter(name=spec.name).exclude(key=spec.key).first()
    if other is not None:
        raise DocumentError.at(f"{path}name", shared_name(spec.name, f'"{other.key}"'))


def decisions_on(wall: Wall) -> list[Override]:
    return [override.to_core() for override in wall.overrides.all()] if wall.pk else []


def fill_wall(wall: Wall, spec: WallSpec) -> None:
    for name, value in wall_figures(spec).items():
        setattr(wall, name, value)
    wall.save()
    owner: Figures = {"wall": wall}
    pieces = [piece_figures(place, piece) for place, piece in enumerate(spec.pieces)]
    openings = [opening_figures(place, opening) for place, opening in enumerate(spec.openings)]
    trims = [trim_figures(place, trim) for place, trim in enumerate(spec.trims)]
    kit = [
        {"role": role, "order": place, "material_id": code}
        for role, codes in spec.kit.items()
        for place, code in enumerate(codes)
    ]
    overrides = [override_figures(override) for override in spec.overrides]
    sync_rows(wall.pieces.all(), pieces, key=("order",), owner=owner)
    sync_rows(wall.heights.all(), height_figures(spec), key=("order",), owner=owner)
    sync_rows(wall.openings.all(), openings, key=("order",), owner=owner)
    sync_rows(wall.layers.all(), layer_figures(spec), key=("face", "order"), owner=owner)
    sync_rows(wall.trims.all(), trims, key=("order",), owner=owner)
    sync_rows(wall.kit_entries.all(), kit, key=("role", "order"), owner=owner)
    sync_rows(wall.overrides.all(), overrides, key=("key",), owner={"wall": wall, "job": wall.job})
    sync_rows(wall.room_ties.all(), room_figures(spec.room), owner=owner)
    fill_taken(wall, spec.taken)
    wall.forget_parts()


def save_wall(job: Job, spec: WallSpec, *, seen_version: int | None, signature: Signature | None = None) -> Wall:
    """A wall as a screen or the API gives it. A wall not yet there is added when no version was seen."""
    if seen_version is None and job.walls.filter(key=spec.key).exists():
        raise DocumentError.at("key", f'"{spec.key}" is another wall of this job; give a new key')
    return store_wall(job, spec, seen_version=seen_version, signature=signature)


def add_wall_as_it_was(job: Job, spec: WallSpec, *, order: int) -> Wall:
    """One of no other's key or name, in its old place, under the names that stand in it."""
    refuse_wrong_walls([("", spec)])
    wall = _wall_to_fill(job, spec, None)
    wall.order = order
    fill_wall(wall, spec)
    fact_changed(job.pk)
    job.forget_parts()
    return wall


def wall_document(wall: Wall) -> Document:
    return write_wall(wall.to_core())


def wall_from_document(document: Document, bare_unit: BareLengthUnit = "in") -> WallSpec:
    reader = Reader(document, bare_unit=bare_unit)
    spec = read_wall(reader)
    reader.finish()
    return spec


@transaction.atomic
def copy_wall(wall: Wall, *, to: Job | None = None, name: str = "") -> Wall:
    """The same wall once more. Decisions, marks, its place and what was read stay behind: they are of the first one.

    to: another job. name: empty for one that is free there. Raises DocumentError where the name is taken.
    """
    job = to or wall.job
    key = free_wall_key(job, wall.key) if job.walls.filter(key=wall.key).exists() else wall.key
    name = Reader({"name": name or free_wall_name(job, wall.name)}).text("name", longest=200)
    spec = replace(wall.to_core(), key=key, name=name, overrides=(), taken=SiteMeasurements(), room=None)
    return save_wall(job, spec, seen_version=None)


def free_wall_name(job: Job, base: str) -> str:
    """What a copy of a wall of that name may be called in a job."""
    taken = set(job.walls.values_list("name", flat=True))
    if base not in taken:
        return base
    start, number = f"{base[:MAX_COPIED_NAME]}, copy", 1
    name = start
    while name in taken:
        number += 1
        name = f"{start} {number}"
    return name


def free_wall_key(job: Job, base: str) -> str:
    taken = set(job.walls.values_list("key", flat=True))
    number = 2
    while (key := f"{base[:36].rstrip('-')}-{number}") in taken:
        number += 1
    return key


def wall_of(job_key: str, wall_key: str) -> Wall:
    return Wall.objects.select_related("job").get(job__key=job_key, key=wall_key)
