"""Changes being priced: typed, worked out from the walls, or made of an allowance that came to more or less."""

from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.db import transaction

from catalog.core.ground.declared import write
from catalog.core.ground.refusal import Refused
from catalog.services.row_sync import save_if_changed, sync_rows
from catalog.services.typed_money import entry_reader
from jobs.core.measure.survey import SurveyError
from jobs.deleted.models import Deleted, DeletedKind
from jobs.deleted.services.deleted import Deletion, keep_deleted, put_back_by
from jobs.jobs.models import Job
from jobs.jobs.services.versions import next_version
from jobs.walls.services.wall_cache import walls_worked_up
from quoting.changes.models import ChangeDraft, ChangeNote, ChangeState, Substitution
from quoting.changes.services.contracts import accepted_revision, agreed_job_file, agreed_tax, nothing_agreed
from quoting.changes.services.cost_rows import cost_figures, quoted_of
from quoting.changes.services.manual_change_overlap import lines_agreed_already
from quoting.core.changes.change_document import ChangeSpec, read_change
from quoting.core.changes.change_notes import ZERO, ChangeError, ChangeLine
from quoting.core.changes.days_moved import DaysMoved
from quoting.core.changes.materials_change import with_materials_of
from quoting.core.changes.wall_change import WallChange, set_alike, wall_change
from quoting.core.money.change_costs import cost_change
from quoting.core.prices.allowances import Allowance, settle
from quoting.core.prices.figures import PricingError
from quoting.core.quotes.job_file import JobFile
from quoting.core.quotes.work_up import work_up
from quoting.job_files.services.job_files import figures_mark, job_file_of
from quoting.platform.models.core_values import column_values, core_value
from quoting.platform.people.access import PRICERS
from quoting.platform.people.models import Person
from quoting.quotes.models import QuoteRevision
from quoting.quotes.services.snapshots import snapshot_of

Document = dict[str, Any]
NOT_OF_THE_WALLS = DaysMoved(None, None)


def drafts_of(job: Job) -> list[ChangeDraft]:
    return list(ChangeDraft.objects.filter(job=job).prefetch_related("lines", "costs"))


def spec_of_draft(draft: ChangeDraft) -> ChangeSpec:
    lines = tuple(core_value(ChangeLine, line) for line in draft.lines.all())
    return core_value(ChangeSpec, draft, lines=lines, costs=tuple(cost.to_core() for cost in draft.costs.all()))


def save_draft(
    job: Job, document: Document, *, by: Person, now: datetime, draft: ChangeDraft | None = None, seen_version: int = 0
) -> ChangeDraft:
    """A change as typed. Raises Refused, DocumentError, and ChangedMeanwhile for a draft changed since."""
    change = read_change(entry_reader(document), agreed_tax(agreed_revision(job)))
    if draft is None:
        return store_change(job, change, by=by, now=now)
    with transaction.atomic():
        next_version(draft, seen_version)
        return _write(draft, change)


@transaction.atomic
def remove_draft(draft_id: int, deletion: Deletion) -> Deleted | None:
    row = ChangeDraft.objects.select_for_update().filter(pk=draft_id).first()
    if row is None:
        return None
    substitution = Substitution.objects.filter(draft=row).first()
    document = {
        "change": write(spec_of_draft(row)),
        "made_at": row.made_at.isoformat(),
        "made_by_name": row.made_by_name,
        "walls_mark": row.walls_mark,
        "hours_moved": None if row.hours_moved is None else str(row.hours_moved),
        "days_proposed": row.days_proposed,
        "substitution": substitution.pk if substitution else None,
    }
    deleted = keep_deleted(row.job, DeletedKind.CHANGE, str(row.pk), row.title, document, deletion)
    row.delete()
    return deleted


@put_back_by(DeletedKind.CHANGE, roles=PRICERS)
def put_change_back(row: Deleted, deletion: Deletion) -> None:
    """Made and worked out when it was; issuing asks whether its figures still hold."""
    job, text = row.job, row.document
    revision = agreed_revision(job)
    change = read_change(entry_reader(text["change"]), agreed_tax(revision))
    if text["walls_mark"]:
        refuse_second(job)
    if change.kind == "allowance" and _is_settled(revision, change.allowance):
        raise Refused(f'"{change.allowance}" has another change note or draft now; change or withdraw that one.')
    hours = text["hours_moved"]
    draft = ChangeDraft(
        job=job,
        made_at=datetime.fromisoformat(text["made_at"]),
        made_by_name=text["made_by_name"],
        walls_mark=text["walls_mark"],
        hours_moved=None if hours is None else Decimal(hours),
        days_proposed=text["days_proposed"],
    )
    draft = _write(draft, change)
    for substitution in Substitution.objects.filter(pk=text["substitution"], draft=None, note=None):
        substitution.draft = draft
        substitution.save()


def draft_from_walls(job: Job, *, by: Person, now: datetime, today: date) -> ChangeDraft:
    """The job as it stands less the job as agreed, both at the prices of the day and by the agreed way of pricing.

    One at a time: the next difference counts from what was signed; a substitution agreed in words is taken off it.
    Raises Refused.
    """
    revision = agreed_revision(job)
    refuse_second(job)
    present = job_file_of(job, today)
    walls = worked_out(agreed_job_file(revision), present, today)
    if not walls.lines and not walls.swaps:
        raise Refused("The walls and their costs are as agreed: there is nothing to put into a change note.")
    swaps = [swap.sentence for swap in walls.swaps]
    agreed_already = lines_agreed_already(revision, walls.swaps)
    change = ChangeSpec(
        kind="substitution" if swaps else "walls",
        title="Changed walls" if not swaps else "One material for another",
        reason="\n".join(["Changed on the walls since the quotation was accepted.", *swaps]),
        lines=(*walls.lines, *agreed_already),
        # What takes a note off again says its cost on its line.
        costs=() if agreed_already else walls.costs,
        original="; ".join(f"{swap.wall}, {swap.where}: {swap.original}" for swap in walls.swaps)[:2000],
        replacement="; ".join(f"{swap.wall}, {swap.where}: {swap.replacement}" for swap in walls.swaps)[:2000],
    )
    mark = figures_mark(present, today)
    return store_change(job, change, by=by, now=now, walls_mark=mark, moved=walls.moved)


def draft_from_allowance(
    job: Job, what: str, actual: Decimal, *, by: Person, now: datetime, today: date
) -> ChangeDraft:
    """What an allowance of the accepted quote came to, as a change of the difference. Raises Refused."""
    revision = agreed_revision(job)
    allowance = next((entry for entry in allowances_of(revision) if entry.what == what), None)
    if allowance is None:
        raise Refused(f'The accepted quote has no allowance "{what[:200]}".')
    if _is_settled(revision, what):
        raise Refused(f'"{what[:200]}" has a change note or a draft already; change or withdraw that one.')
    try:
        came_to = settle(allowance, actual)
    except PricingError as error:
        raise Refused(str(error)) from error
    if not came_to.difference:
        raise Refused(f"{what[:200]} came to what was allowed, so nothing changes.")
    whole = agreed_tax(revision).applies_to == "price" or allowance.category == "materials"
    line = ChangeLine(what[:200], came_to.difference, came_to.difference if whole else ZERO)
    change = ChangeSpec("allowance", f"Allowance: {what}"[:200], came_to.sentence, lines=(line,), allowance=what)
    return store_change(job, change, by=by, now=now)


def allowances_of(revision: QuoteRevision) -> tuple[Allowance, ...]:
    pricing = agreed_job_file(revision).pricing
    return pricing.terms.allowances if pricing else ()


def _is_settled(revision: QuoteRevision, what: str) -> bool:
    if ChangeDraft.objects.filter(job=revision.quote.job_id, kind="allowance", allowance=what).exists():
        return True
    counted = (ChangeState.ISSUED, ChangeState.SIGNED)
    noted = ChangeNote.objects.filter(revision=revision, kind="allowance", state__in=counted)
    return any(snapshot_of(note)["change"]["allowance"] == what for note in noted)


def agreed_revision(job: Job) -> QuoteRevision:
    revision = accepted_revision(job)
    if revision is None:
        raise nothing_agreed(job)
    return revision


def refuse_second(job: Job) -> None:
    draft = ChangeDraft.objects.filter(job=job).exclude(walls_mark="").first()
    if draft is not None:
        raise Refused(f'"{draft.title}" is worked out from the walls already: issue or delete it first.')
    for note in ChangeNote.objects.filter(job=job, state=ChangeState.ISSUED, kind__in=("walls", "substitution")):
        raise Refused(f"{note} waits for a signature: until it has one, or is withdrawn, no other is worked out.")


def worked_out(agreed: JobFile, present: JobFile, today: date) -> WallChange:
    try:
        before, after = (work_up(file, today, walls_worked_up(file, today)) for file in set_alike(agreed, present))
        after = with_materials_of(before, after)
        change = wall_change(before, after)
        return replace(change, costs=cost_change(quoted_of(before), quoted_of(after)))
    except ChangeError as error:
        raise Refused(str(error)) from error
    except SurveyError as error:
        raise Refused(f"The walls cannot be worked out. {error.field}: {error.reason}") from error


@transaction.atomic
def store_change(
    job: Job,
    change: ChangeSpec,
    *,
    by: Person,
    now: datetime,
    walls_mark: str = "",
    moved: DaysMoved = NOT_OF_THE_WALLS,
) -> ChangeDraft:
    draft = ChangeDraft(
        job=job,
        made_at=now,
        made_by_name=by.full_name,
        walls_mark=walls_mark,
        hours_moved=moved.hours,
        days_proposed=moved.workdays,
    )
    return _write(draft, change)


def _write(draft: ChangeDraft, change: ChangeSpec) -> ChangeDraft:
    save_if_changed(draft, column_values(change, ChangeDraft))
    figures = [{"order": place, **vars(line)} for place, line in enumerate(change.lines)]
    sync_rows(draft.lines.all(), figures, owner={"draft": draft})
    sync_rows(draft.costs.all(), cost_figures(change), owner={"draft": draft})
    return draft
