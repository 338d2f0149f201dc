"""Whether a job is signed: one of its revisions stands accepted. Everybody asks this; nobody stores it."""

from collections.abc import Callable
from typing import Any

from django.db.models import QuerySet

from quoting.quotes.models import QuoteRevision, RevisionState

after_signing: list[Callable[[int], None]] = []
"""Called with the id of a job that was signed, or whose acceptance was taken back, in that transaction."""


def accepted_revisions() -> QuerySet[QuoteRevision]:
    return QuoteRevision.objects.filter(state=RevisionState.ACCEPTED)


def signed_jobs() -> QuerySet[Any, int]:
    return accepted_revisions().order_by().values_list("quote__job", flat=True)


def signing_changed(job_id: int) -> None:
    for message in after_signing:
        message(job_id)
