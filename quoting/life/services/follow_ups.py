"""When somebody asks the client next about a quotation that is out, and who."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.declared import Text, read
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.refusal import Refused
from catalog.services.row_sync import save_if_changed
from jobs.jobs.models import Job
from jobs.jobs.services.changes import fact_changed
from quoting.life.models import FollowUp
from quoting.platform.formatting import day_words
from quoting.platform.people.signatures import Signature
from quoting.quotes.models import QuoteRevision, RevisionState

MAX_NAME_LENGTH = 200


def follow_up_of(job: Job) -> FollowUp | None:
    """Of the revision that is out."""
    rows = FollowUp.objects.select_related("revision")
    return rows.filter(revision__quote__job=job, revision__state=RevisionState.ISSUED).first()


@dataclass(frozen=True)
class NewFollowUp:
    """When somebody asks the client next; without a day nobody does."""

    day: date | None = None
    person: Annotated[str, Text(MAX_NAME_LENGTH), "You when it is not given."] = ""


@transaction.atomic
def set_follow_up(job: Job, document: dict[str, Any], signature: Signature, *, now: datetime) -> FollowUp | None:
    """document: a `NewFollowUp`.

    Raises DocumentError, Refused.
    """
    job = Job.objects.select_for_update().get(pk=job.pk)
    new = read(NewFollowUp, Reader(document))
    day, person = new.day, new.person.strip() or signature.by
    present = follow_up_of(job)
    if day is None:
        if present is not None:
            present.delete()
            fact_changed(job.pk)
        return None
    if day < signature.on:
        raise DocumentError.at("day", f"{day_words(day)} has passed; give today or a later day")
    row = present or FollowUp(revision=_revision_out(job))
    if row.pk is None or (row.day, row.person) != (day, person):
        save_if_changed(row, {"day": day, "person": person, "entered_at": now, "entered_by_name": signature.by})
        fact_changed(job.pk)
    return row


def _revision_out(job: Job) -> QuoteRevision:
    row = QuoteRevision.objects.filter(quote__job=job, state=RevisionState.ISSUED).defer("snapshot").first()
    if row is None:
        raise Refused(f"No quotation of {job} waits for an answer.")
    return row
