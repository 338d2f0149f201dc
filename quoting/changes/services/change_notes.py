"""Issuing a change note, its signature, and taking it back: each once, by one conditional step."""

from datetime import date, datetime

from django.db import transaction
from django.db.models import Max

from catalog.core.ground.refusal import Refused
from jobs.jobs.models import Job
from jobs.jobs.services.changes import fact_changed
from jobs.jobs.services.versions import ChangedMeanwhile
from quoting.changes.models import (
    ChangeAnswer,
    ChangeDraft,
    ChangeNote,
    ChangeNoteCost,
    ChangeNoteLine,
    ChangeState,
    Substitution,
)
from quoting.changes.services.change_drafts import spec_of_draft
from quoting.changes.services.change_paper import change_paper
from quoting.changes.services.change_papers import request_change_note
from quoting.changes.services.change_snapshots import change_snapshot_text
from quoting.changes.services.contracts import Contract, agreed_tax, contract_of, nothing_agreed
from quoting.changes.services.cost_rows import cost_figures
from quoting.changes.services.substitutions import link_to_note, substituted_file
from quoting.core.changes.change_document import ChangeSpec
from quoting.core.changes.change_notes import ChangeError, PricedChange, price_change
from quoting.core.prices.tax import TaxRule
from quoting.core.quotes.job_file import JobFile
from quoting.job_files.services.job_files import figures_mark, job_file_of
from quoting.platform.models.core_values import column_values
from quoting.platform.papers.models import Paper
from quoting.platform.people.models import Person
from quoting.quotes.models import QuoteRevision, RevisionState
from quoting.quotes.services.given_answers import Given, columns_of
from quoting.quotes.services.snapshots import hash_of

MAX_REQUEST_KEY = 100
ANSWERS = {"signed": ChangeState.SIGNED, "declined": ChangeState.DECLINED}


def issue_change(
    draft: ChangeDraft, *, request_key: str, seen_version: int, by: Person, now: datetime, today: date
) -> ChangeNote:
    """Freeze a draft as the job's next change note, and ask for its paper. The same request issues once.

    Raises Refused, ChangedMeanwhile when the draft is no longer as it was shown.
    """
    if not 0 < len(request_key) <= MAX_REQUEST_KEY:
        raise Refused(f"A request is named by 1 to {MAX_REQUEST_KEY} characters; ask from a fresh page.")
    with transaction.atomic():
        # One at a time for a job: its number, and the contract sum it is printed with, follow from those before.
        job = Job.objects.select_for_update().get(pk=draft.job_id)
        issued = issued_before(job, request_key)
        if issued is not None:
            return issued
        draft = _as_shown(draft, seen_version)
        contract = contract_of(job)
        if contract is None:
            raise nothing_agreed(job)
        present = _still_the_same(draft, job, today)
        return _freeze(draft, contract, present, request_key, by, now, today)


def issued_before(job: Job, request_key: str) -> ChangeNote | None:
    note = ChangeNote.objects.select_related("job").filter(request_key=request_key).first()
    if note is not None and note.job_id != job.pk:
        raise Refused("This request has issued another job's change note; open the page of this job again.")
    return note


def _as_shown(draft: ChangeDraft, seen_version: int) -> ChangeDraft:
    # Held to the end: an edit that comes between is either seen here, or told that the draft is gone.
    row = ChangeDraft.objects.select_for_update().filter(pk=draft.pk).first()
    if row is None or row.version != seen_version:
        raise ChangedMeanwhile(str(draft), seen_version, row.version if row else None)
    return row


def _still_the_same(draft: ChangeDraft, job: Job, today: date) -> JobFile | None:
    """The job as it stands, for a draft worked out from it; refused when it has changed since."""
    if not draft.walls_mark:
        return None
    job = Job.objects.select_related("client").get(pk=job.pk)
    substitution = Substitution.objects.filter(draft=draft).first()
    present = substituted_file(substitution, job, today) if substitution else job_file_of(job, today)
    if figures_mark(present, today) != draft.walls_mark:
        raise Refused(
            "The job, its costs or the catalog's prices have changed since this was worked out, or it was on another "
            "day. Nothing was issued: delete the draft and work it out again."
        )
    return present


def _freeze(
    draft: ChangeDraft,
    contract: Contract,
    present: JobFile | None,
    request_key: str,
    by: Person,
    now: datetime,
    today: date,
) -> ChangeNote:
    change, tax, number = spec_of_draft(draft), agreed_tax(contract.revision), _next_number(draft.job_id)
    priced = _priced(change, tax)
    if contract.sums.total + contract.sums.relief + min(priced.total, 0) < 0:
        raise Refused("With this change the contract sum would be under zero; lower what is left out.")
    paper = change_paper(change, priced, contract, number=number, tax=tax, issued_on=today, prepared_by=by.full_name)
    snapshot = change_snapshot_text(change, paper, present)
    note = ChangeNote.objects.create(
        job_id=draft.job_id,
        revision=contract.revision,
        number=number,
        request_key=request_key,
        **column_values(change, ChangeNote),
        **column_values(priced, ChangeNote),
        currency=contract.currency,
        issued_at=now,
        issued_on=today,
        issued_by=by,
        issued_by_name=by.full_name,
        snapshot=snapshot,
        snapshot_sha256=hash_of(snapshot),
        state_at=now,
        state_by_name=by.full_name,
    )
    ChangeNoteLine.objects.bulk_create(
        ChangeNoteLine(note=note, order=place, **vars(line)) for place, line in enumerate(priced.lines)
    )
    ChangeNoteCost.objects.bulk_create(ChangeNoteCost(note=note, **figures) for figures in cost_figures(change))
    link_to_note(draft, note)
    draft.delete()
    request_change_note(note, now)
    fact_changed(note.job_id)
    return note


def numbers_of_notes(job_id: int) -> set[int]:
    """Of all notes issued of a job, however they were answered."""
    return set(ChangeNote.objects.filter(job=job_id).values_list("number", flat=True))


def _next_number(job_id: int) -> int:
    """Numbers run on through the job, whichever acceptance the notes before were to."""
    last: int | None = ChangeNote.objects.filter(job=job_id).aggregate(last=Max("number"))["last"]
    return (last or 0) + 1


def _priced(change: ChangeSpec, tax: TaxRule) -> PricedChange:
    try:
        return price_change(change.lines, tax)
    except ChangeError as error:
        raise Refused(str(error)) from error


def answer_change(note: ChangeNote, given: Given, *, now: datetime, today: date) -> ChangeAnswer:
    """Signed or declined, kept as it was given. The same answer given twice is one. Raises Refused."""
    if given.kind not in ANSWERS:
        raise Refused("Say whether the note is signed or declined.")
    given = given.checked()
    paper = Paper.objects.filter(change_note=note).first()
    if given.kind == "signed" and paper is None:
        raise Refused("The paper of this note is not made yet, and it is what is signed. Try again shortly.")
    with transaction.atomic():
        if _move(note.pk, ANSWERS[given.kind], now=now, by_name=given.typed_name, reason=given.reason):
            answer = ChangeAnswer.objects.create(note_id=note.pk, **columns_of(given, paper, now=now, today=today))
            fact_changed(note.job_id)
            return answer
    stored = ChangeAnswer.objects.select_related("note__job").filter(note=note).first()
    if stored is not None and (stored.answer, stored.typed_name) == (given.kind, given.typed_name):
        return stored
    raise Refused(_final(note.pk))


@transaction.atomic
def withdraw_change(note_id: int, *, now: datetime, by_name: str, reason: str) -> None:
    """Take a note back that is not answered yet, for a reason. Raises Refused."""
    if not reason.strip():
        raise Refused("A change note is withdrawn for a reason; write it down.")
    if not _move(note_id, ChangeState.WITHDRAWN, now=now, by_name=by_name, reason=reason.strip()):
        raise Refused(_final(note_id))
    fact_changed(*ChangeNote.objects.filter(pk=note_id).values_list("job", flat=True))


def _move(note_id: int, state: ChangeState, *, now: datetime, by_name: str, reason: str) -> bool:
    """One conditional UPDATE: of two who answer at once, the second is told what the first did.

    No join: PostgreSQL looks again only at the row itself once it has waited for the first.
    """
    agreed = QuoteRevision.objects.filter(state=RevisionState.ACCEPTED)
    standing = ChangeNote.objects.filter(pk=note_id, state=ChangeState.ISSUED, revision__in=agreed)
    return bool(standing.update(state=state, state_at=now, state_by_name=by_name, state_reason=reason))


def _final(note_id: int) -> str:
    note = ChangeNote.objects.select_related("job").get(pk=note_id)
    return f"{note} is {note.get_state_display().lower()}, and that is final."
