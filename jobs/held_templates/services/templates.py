"""The register of templates of a job: entered by whoever traced them, followed wherever they go."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from django.db import IntegrityError, transaction

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import entries_of, read, write
from catalog.core.ground.document_reader import DocumentError, DocumentProblem, Reader
from catalog.services.row_sync import Figures, save_if_changed, sync_rows
from jobs.core.takeoff import held_templates
from jobs.held_templates.models import HeldTemplate, TemplateMove
from jobs.jobs.models import Job
from jobs.jobs.services.changes import job_changed
from quoting.platform.models.core_values import column_values
from quoting.platform.people.signatures import Signature

ENTRIES = tuple(entry.name for entry in entries_of(held_templates.HeldTemplate) if entry.name != "moves")


@transaction.atomic
def add_template(job: Job, document: dict[str, Any], signature: Signature) -> HeldTemplate:
    """A template with its name, shape, wall, line, piece, traced_by, traced_on and kept_at; signed where it is silent.

    The same entries sent twice, as from a phone with a poor signal, are one template.
    """
    given = dict(document)
    traced_on = given.setdefault("traced_on", signature.on.isoformat())
    given["traced_by"] = given.get("traced_by") or signature.by
    kept_at = given.pop("kept_at", None)
    given["moves"] = [{"state": "held", "on": traced_on, "by": signature.by, "kept_at": kept_at}]
    spec = _read(given, signature)
    # Two people entering one name at the same moment: one of them waits here.
    job = Job.objects.select_for_update().get(pk=job.pk)
    present = job.templates.filter(name__iexact=spec.name).first()
    if present is not None:
        if present.to_core() == spec:
            return present
        raise DocumentError.at("name", f'"{spec.name}" is a template of this job already; write another name on it')
    refuse_what_is_not_there(job, spec)
    job_changed(job.pk)
    try:
        with transaction.atomic():
            return _stored(job, spec)
    except IntegrityError as error:
        raise DocumentError.at("name", f'"{spec.name}" is a template of this job already') from error


@transaction.atomic
def change_template(row: HeldTemplate, document: dict[str, Any], signature: Signature) -> HeldTemplate:
    """Correct what the register says: name, shape, wall, line, piece, traced_by, traced_on. Its moves stay."""
    job = Job.objects.select_for_update().get(pk=row.job_id)
    row = HeldTemplate.objects.get(pk=row.pk)
    stored = row.to_core()
    given = {name: value for name, value in document.items() if name in ENTRIES}
    unknown = sorted(set(document) - set(ENTRIES))
    if unknown:
        raise DocumentError(DocumentProblem(name, "is not a name known here") for name in unknown)
    spec = _read(write(stored) | given, signature)
    if job.templates.filter(name__iexact=spec.name).exclude(pk=row.pk).exists():
        raise DocumentError.at("name", f'"{spec.name}" is another template of this job; write another name on it')
    refuse_what_is_not_there(job, spec)
    job_changed(job.pk)
    save_if_changed(row, _figures(spec))
    return row


@transaction.atomic
def move_template(row: HeldTemplate, document: dict[str, Any], signature: Signature) -> HeldTemplate:
    """What became of a template: state, kept_at and on, today where it is silent. Said twice it is one move."""
    row = HeldTemplate.objects.select_for_update().get(pk=row.pk)
    given = {"on": signature.on.isoformat(), **document, "by": signature.by}
    move = read(held_templates.TemplateMove, Reader(given))
    _refuse_days_to_come(move.on, "on", signature)
    stored = row.to_core()
    if stored.moves[-1] == move:
        return row
    if move.on < stored.moves[-1].on:
        raise DocumentError.at(
            "on", f"{day_words(move.on)} is before {day_words(stored.moves[-1].on)}, when it was last moved"
        )
    job_changed(row.job_id)
    TemplateMove.objects.create(template=row, **column_values(move, TemplateMove))
    return row


def templates_of(job: Job) -> tuple[held_templates.HeldTemplate, ...]:
    return tuple(row.to_core() for row in job.templates.prefetch_related("moves"))


def match_templates(job: Job, templates: Iterable[held_templates.HeldTemplate]) -> None:
    """Make the register of a job exactly this one, as a job file says it."""
    templates = list(templates)
    rows = sync_rows(job.templates.all(), map(_figures, templates), key=("name",), owner={"job": job})
    for row, spec in zip(rows, templates, strict=True):
        sync_rows(row.moves.all(), (column_values(move, TemplateMove) for move in spec.moves), owner={"template": row})


def refuse_what_is_not_there(job: Job, spec: held_templates.HeldTemplate) -> None:
    """A template hangs on a wall of its job, on a piece that wall has, and on a run of its trim."""
    wall = job.walls.filter(key=spec.wall).first()
    if wall is None:
        known = ", ".join(job.walls.values_list("key", flat=True)) or "none yet"
        raise DocumentError.at("wall", f'"{spec.wall}" is not a wall of this job; its walls are {known}')
    count = wall.pieces.count()
    if spec.piece is not None and spec.piece > count:
        raise DocumentError.at("piece", f"{spec.piece} is more than {wall.name} has; it has {count}")
    runs = list(wall.trims.values_list("name", flat=True))
    if spec.line and spec.line.strip().casefold() not in {name.strip().casefold() for name in runs}:
        raise DocumentError.at(
            "line", f'"{spec.line}" is not a run of trim of {wall.name}; its runs are {", ".join(runs) or "none yet"}'
        )


def _read(document: dict[str, Any], signature: Signature) -> held_templates.HeldTemplate:
    try:
        spec = read(held_templates.HeldTemplate, Reader(document))
    except DocumentError as error:
        # Its first state is not asked for as such: where it is kept stands among its own entries.
        complaints = [
            DocumentProblem(complaint.path.removeprefix("moves[0]."), complaint.reason)
            for complaint in error.complaints
        ]
        raise DocumentError(complaints) from error
    spec = replace(spec, name=" ".join(spec.name.split()))
    _refuse_days_to_come(spec.traced_on, "traced_on", signature)
    return spec


def _refuse_days_to_come(day: Any, name: str, signature: Signature) -> None:
    if day > signature.on:
        raise DocumentError.at(name, f"{day_words(day)} has not come yet; today is {day_words(signature.on)}")


def _stored(job: Job, spec: held_templates.HeldTemplate) -> HeldTemplate:
    row = HeldTemplate.objects.create(job=job, **_figures(spec))
    for move in spec.moves:
        TemplateMove.objects.create(template=row, **column_values(move, TemplateMove))
    return row


def _figures(spec: held_templates.HeldTemplate) -> Figures:
    return column_values(spec, HeldTemplate, wall_key=spec.wall)
