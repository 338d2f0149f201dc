"""Another item in the place of one that cannot come: a change of what was agreed, signed before it is built."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.declared import Text, Whole, read
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


@dataclass(frozen=True)
class NewSubstitution:
    """order and place: of the line it is for, where it was ordered already; else material."""

    instead: Annotated[str, Text(60)]
    reason: str
    material: Annotated[str | None, Text(60)] = None
    order: Annotated[str | None, Text(20)] = None
    place: Annotated[int | None, Whole(0, 5_000), "Of the line on its order."] = None

    def line_of(self, job: Job) -> OrderLine | None:
        """The line named. Raises DocumentError where there is none such."""
        if (self.order is None) != (self.place is None):
            raise DocumentError.at("order", "goes with place: name both of them, or neither")
        if self.order is None:
            return None
        rows = OrderLine.objects.filter(order__number=self.order, place=self.place, job=job).select_related("order")
        if not rows:
            raise DocumentError.at("order", f'"{self.order}" has no line {self.place} for this job')
        return rows[0]


def substitute(
    job: Job, document: dict[str, Any], *, by: Person, now: datetime, today: date, line: OrderLine | None = None
) -> tuple[Substitution, bool]:
    """Draft the change: of a NewSubstitution. line: of an order, where it was ordered already.

    What was agreed stays; the walls are changed once the client has signed. Asked twice while its draft stands it is
    one. Raises DocumentError and Refused.
    """
    asked = read(NewSubstitution, Reader(document))
    line, instead, reason = line or asked.line_of(job), asked.instead, asked.reason
    material = line.material_id if line is not None else asked.material
    if material is None:
        raise DocumentError.at("material", "is missing")
    revision = agreed_revision(job)
    with transaction.atomic():
        job = Job.objects.select_for_update().select_related("client").get(pk=job.pk)
        if line is not None:
            held_order(line.order_id)
        present = _standing(job, material, instead, line)
        if present is not None:
            return present, False
        refuse_second(job)
        agreed = agreed_today(job, today)
        refuse_unfit(agreed, material, instead)
        after = swapped(agreed, material, instead).read
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
        raise DocumentError.at(name, f'"{code}" is not a material in the catalog; choose one that is')
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
