"""What is agreed of many jobs, and what of it has come in, in a constant number of queries."""

from collections import defaultdict
from collections.abc import Collection
from datetime import date
from decimal import Decimal

from django.db.models import Sum

from jobs.core.ordering.release import JobStanding
from quoting.client.models import PaymentReceived
from quoting.core.prices.options import total_with
from quoting.quotes.models import ClientAnswer, QuoteRevision
from quoting.quotes.services.offers import offer_of
from quoting.quotes.services.signed import accepted_revisions

MAX_REMEMBERED = 5_000
_deposits: dict[tuple[str, tuple[str, ...]], Decimal] = {}


def agreements_of(job_ids: Collection[int], today: date) -> dict[int, JobStanding]:
    """All but the field check, which is of each item's own walls."""
    revisions = accepted_revisions().filter(quote__job__in=job_ids)
    received = _received(job_ids)
    found = {job_id: JobStanding(accepted=False) for job_id in job_ids}
    for revision in revisions.select_related("quote", "answer"):
        answer: ClientAnswer | None = getattr(revision, "answer", None)
        until = answer.cancel_until if answer else None
        chosen = tuple(one["key"] for one in answer.options) if answer else ()
        found[revision.quote.job_id] = JobStanding(
            accepted=True,
            window_until=until if until is not None and until >= today else None,
            deposit_due=_deposit_due(revision, chosen),
            deposit_received=received[revision.quote.job_id],
        )
    return found


def _deposit_due(revision: QuoteRevision, chosen: tuple[str, ...]) -> Decimal:
    """Of what is frozen, so it is worked out once and remembered by the hash of what was frozen."""
    key = (revision.snapshot_sha256, chosen)
    if key not in _deposits:
        if len(_deposits) >= MAX_REMEMBERED:
            _deposits.clear()
        found = total_with(offer_of(revision), chosen).deposit
        _deposits[key] = found.amount if found else Decimal(0)
    return _deposits[key]


def _received(job_ids: Collection[int]) -> dict[int, Decimal]:
    rows = PaymentReceived.objects.filter(job__in=job_ids, undone_at=None).values_list("job")
    return defaultdict(Decimal, rows.annotate(Sum("amount")))
