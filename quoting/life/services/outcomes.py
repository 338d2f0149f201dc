"""Why no contract came of a job, as somebody of the firm says: said once, and taken back if wrong."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.declared import Choice, Text, read
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.refusal import EntryError, Refused
from catalog.services.row_sync import save_if_changed
from jobs.jobs.models import Job
from jobs.jobs.services.changes import fact_changed
from quoting.life.models import OutcomeKind, QuoteOutcome
from quoting.platform.formatting import day_words
from quoting.platform.people.signatures import Signature
from quoting.quotes.models import QuoteRevision, RevisionState
from quoting.quotes.services.signed import signed_jobs

MAX_WORDS = 2000
GONE = (RevisionState.SUPERSEDED, RevisionState.WITHDRAWN)


def outcome_of(job: Job) -> QuoteOutcome | None:
    """What stands, also where a later revision makes it count no more."""
    return QuoteOutcome.objects.filter(job=job, undone_at=None).first()


@dataclass(frozen=True)
class NewOutcome:
    """Why no contract came of a job. `words` are needed for another reason."""

    kind: Annotated[str, Choice(tuple(OutcomeKind.values))]
    words: Annotated[str, Text(MAX_WORDS)] = ""
    said_on: Annotated[date | None, "Today when it is not given."] = None

    def __post_init__(self) -> None:
        if self.kind == OutcomeKind.OTHER and not self.words.strip():
            raise EntryError("words", "are missing; say in a few words why it is lost")


@transaction.atomic
def enter_outcome(
    job: Job, document: dict[str, Any], signature: Signature, *, now: datetime
) -> tuple[QuoteOutcome, bool]:
    """document: a `NewOutcome`. The same said twice is one; the row, and whether it is new.

    Raises DocumentError, Refused.
    """
    job = Job.objects.select_for_update().get(pk=job.pk)
    new = read(NewOutcome, Reader(document))
    said_on = new.said_on or signature.on
    if said_on > signature.on:
        raise DocumentError.at("said_on", f"{day_words(said_on)} has not come yet; today is {day_words(signature.on)}")
    if job.pk in signed_jobs():
        raise Refused(f"{job} is signed. What becomes of it now is agreed with the client.")
    revision = _latest(job)
    text: dict[str, Any] = {"kind": new.kind, "words": new.words.strip(), "said_on": said_on}
    text["revision_id"] = revision.pk if revision else None
    present = outcome_of(job)
    if present is not None:
        if all(getattr(present, name) == value for name, value in text.items()):
            return present, False
        _undo(present, signature, now)
    row = QuoteOutcome.objects.create(job=job, **text, entered_at=now, entered_by_name=signature.by)
    fact_changed(job.pk)
    return row, True


@transaction.atomic
def take_outcome_back(job: Job, signature: Signature, *, now: datetime) -> bool:
    """The job goes on. Taken back twice it is taken back once: whether there was one."""
    job = Job.objects.select_for_update().get(pk=job.pk)
    present = outcome_of(job)
    if present is None:
        return False
    _undo(present, signature, now)
    fact_changed(job.pk)
    return True


def _undo(row: QuoteOutcome, signature: Signature, now: datetime) -> None:
    save_if_changed(row, {"undone_at": now, "undone_by_name": signature.by})


def _latest(job: Job) -> QuoteRevision | None:
    rows = QuoteRevision.objects.filter(quote__job=job).exclude(state__in=GONE)
    return rows.defer("snapshot").order_by("-number").first()
