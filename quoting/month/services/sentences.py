"""What the owner says of a job's month: why it made what it made."""

from datetime import date, datetime
from typing import Any

from django.db import transaction

from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.services.row_sync import save_if_changed
from jobs.jobs.models import Job
from quoting.month.models import CauseSentence
from quoting.month.models.closed_months import MAX_SENTENCE
from quoting.platform.people.signatures import Signature
from quoting.platform.posting import hold_open


@transaction.atomic
def say_why(job: Job, month: date, document: dict[str, Any], signature: Signature, *, now: datetime) -> CauseSentence:
    """text: up to 300 characters. Said again it takes the place of what was said, as long as the month is open."""
    reader = Reader(document)
    text = " ".join(reader.text("text", "", longest=MAX_SENTENCE).split())
    reader.finish()
    if not text:
        raise DocumentError.at("text", "is empty; say in a sentence why the job made what it made")
    hold_open(month)
    row = CauseSentence.objects.select_for_update().filter(job=job, month=month).first()
    row = row or CauseSentence(job=job, month=month)
    if row._state.adding or row.text != text:
        save_if_changed(row, {"text": text, "entered_at": now, "entered_by_name": signature.by})
    return row
