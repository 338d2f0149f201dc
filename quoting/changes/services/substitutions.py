"""Another item in the place of one that cannot come: a change of what was agreed, signed before it is built."""

from datetime import date, datetime
from typing import Any

from django.db import transaction

from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.refusal import Refused
from catalog.models import Material
from jobs.deliveries.services.order_events import held_order
from jobs.jobs.models import Job
from jobs.orders.models import OrderLine
from quoting.changes.models import ChangeDraft, ChangeNote, Substitution
from quoting.changes.services.change_drafts import agreed_revision, refuse_second, store_change, worked_out
from quoting.changes.services.contracts import agreed_job_file
from quoting.changes.services.stand_ins import agreed_today, refuse_unfit
from quoting.core.changes.change_document import ChangeSpec
from quoting.core.changes.change_notes import ZERO, ChangeLine
from quoting.core.changes.wall_change import WallChange
from quoting.core.quotes.job_file import JobFile
from quoting.core.quotes.rebuilding import swapped
from quoting.job_files.services.job_files import figures_mark
from quoting.platform.people.models import Person


def substitutions_of(job: Job) -> list[Substitution]:
    rows = Substitution.objects.filter(job=job).select_related("line__order", "draft", "note", "material", "instead")
    return list(rows)


def substitute(
    job: Job, document: dict[str, Any], *, by: Person, now: datetime, today: date, line: OrderLine | None = None
) -> tuple[Substitution, bool]:
    """Draft the change: material, instead, reason. line: of an order, where it was ordered already.

    What was agreed stays; the walls are changed once the client has signed. Asked twice while its draft stands it is
    one. Raises DocumentError and Refused.
    """
    reader = Reader(document)
    material = line.material_id if line is not None else reader.text("material", longest=60)
    reader.pass_over("material")
    instead, reason = reader.text("instead", longest=60), reader.text("reason")
    reader.finish()
    revision = agreed_revision(job)
    with transaction.atomic():
        job = Job.objects.select_for_update().select_related("client").get(pk=job.pk)
        if line is not None:
            held_order(line.order_id)
        present = _standing(job, material, instead, line)
        if present is not None:
            return present, False
        refuse_second(job)
        read = agreed_today(job, today)
        refuse_unfit(read, material, instead)
        after = swapped(read, material, instead).read
        result = worked_out(agreed_job_file(revision), after, today)
        change = _change(result, material, instead, reason)
        mark = figures_mark(after, today)
        draft = store_change(job, change, by=by, now=now, walls_mark=mark, moved=result.moved)
        row = Substitution.objects.create(
            job=job,
            line=line,
            material=_material(material, "material"),
            instead=_material(instead, "instead"),
            reason=reason,
            draft=draft,
            made_at=now,
            made_by_name=by.full_name,
        )
        return row, True


def _standing(job: Job, material: str, instead: str, line: OrderLine | None) -> Substitution | None:
    rows = Substitution.objects.filter(job=job, material=material, instead=instead, line=line, draft__isnull=False)
    return rows.select_related("draft").first()


def _material(code: str, name: str) -> Material:
    result = Material.objects.filter(code=code).first()
    if result is None:
        raise DocumentError.at(name, f'"{code}" is no material of the catalog; choose one that is')
    return result


def substituted_file(row: Substitution, job: Job, today: date) -> JobFile:
    """The job as agreed with the substitution made, at the prices of the day: what its note will be issued for."""
    return swapped(agreed_today(job, today), row.material_id, row.instead_id).read


def _change(change: WallChange, material: str, instead: str, reason: str) -> ChangeSpec:
    if not change.swaps:
        raise Refused(f'"{material}" and "{instead}" stand nowhere in each other\'s place on the agreed walls.')
    return ChangeSpec(
        kind="substitution",
        title=f"{change.swaps[0].replacement} in place of {change.swaps[0].original}"[:200],
        reason="\n".join([reason, *(swap.sentence for swap in change.swaps)]),
        lines=change.lines or (ChangeLine(f"{change.swaps[0].wall}, changed"[:200], ZERO, ZERO, ZERO),),
        original="; ".join(f"{swap.wall}, {swap.where}: {swap.original}" for swap in change.swaps)[:2000],
        replacement="; ".join(f"{swap.wall}, {swap.where}: {swap.replacement}" for swap in change.swaps)[:2000],
        costs=change.costs,
    )


def link_to_note(draft: ChangeDraft, note: ChangeNote) -> None:
    """What was being priced is issued: the substitution goes with it."""
    row = Substitution.objects.filter(draft=draft).first()
    if row is not None:
        row.draft, row.note = None, note
        row.save()
