"""What a client asks on their page: on Today and in the mail of alerts until somebody says it is answered."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated, Any

from django.db import transaction
from django.db.models import QuerySet

from catalog.core.ground.declared import As, Stripped, read
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import Refused
from jobs.jobs.models import Job
from jobs.jobs.services.changes import fact_changed
from quoting.client.models import ClientQuestion
from quoting.platform.people.signatures import Signature
from quoting.quotes.models import QuoteRevision

MAX_QUESTION, MAX_OPEN = 1_000, 10


@dataclass(frozen=True)
class NewQuestion:
    text: Annotated[str, Stripped(MAX_QUESTION), As(label="Your question", rows=3)]


def ask(revision: QuoteRevision, document: dict[str, Any], today: date, address: str, now: datetime) -> None:
    """document: a `NewQuestion`. Asked twice while it is open it is one. Raises DocumentError, Refused."""
    text, job = read(NewQuestion, Reader(document)).text, revision.quote.job_id
    with transaction.atomic():
        Job.objects.select_for_update().get(pk=job)
        waiting = ClientQuestion.objects.filter(revision=revision, answered_at=None)
        if waiting.filter(text=text).exists():
            return
        if waiting.count() >= MAX_OPEN:
            raise Refused(f"{MAX_OPEN} questions of yours wait for an answer. Call us instead.")
        about = {"asked_at": now, "asked_on": today, "from_address": address}
        ClientQuestion.objects.create(revision=revision, text=text, **about)
        fact_changed(job)


@transaction.atomic
def close_question(row: ClientQuestion, signature: Signature, now: datetime) -> None:
    """Twice is once."""
    rows = ClientQuestion.objects.filter(pk=row.pk, answered_at=None)
    if rows.update(answered_at=now, answered_by_name=signature.by):
        fact_changed(row.revision.quote.job_id)


def questions_of(job: Job) -> QuerySet[ClientQuestion]:
    """The latest first."""
    rows = ClientQuestion.objects.filter(revision__quote__job=job).select_related("revision__quote__job__client")
    return rows.defer("revision__snapshot").order_by("-pk")
