"""What is agreed of many jobs, and what of it has come in, in a constant number of queries."""

from collections import defaultdict
from collections.abc import Collection
from contextlib import suppress
from datetime import date
from decimal import Decimal

from django.db.models import Sum

from jobs.core.ordering.release import JobStanding
from quoting.core.money.requests import is_on_signing
from quoting.core.prices.options import OptionError, total_with
from quoting.payment_requests.models import PaymentReceived
from quoting.quotes.models import ClientAnswer, QuoteRevision
from quoting.quotes.services.offers import offer_of
from quoting.quotes.services.signed import accepted_revisions
from quoting.quotes.services.snapshots import SnapshotChanged

MAX_REMEMBERED = 5_000
Choice = tuple[str, tuple[str, ...]]
_due: dict[Choice, tuple[Decimal, Decimal]] = {}


def agreements_of(job_ids: Collection[int], today: date) -> dict[int, JobStanding]:
    """All but the field check, which is of each item's own walls."""
    revisions = accepted_revisions().filter(quote__job__in=job_ids)
    received = _received(job_ids)
    agreements = {job_id: JobStanding(accepted=False) for job_id in job_ids}
    for revision in revisions.select_related("quote", "answer").defer("snapshot"):
        answer: ClientAnswer | None = getattr(revision, "answer", None)
        until = answer.cancel_until if answer else None
        chosen = _chosen(answer)
        agreements[revision.quote.job_id] = JobStanding(
            accepted=True,
            window_until=until if until is not None and until >= today else None,
            deposit_due=_due_of(revision, chosen)[0],
            deposit_received=received[revision.quote.job_id],
        )
    return agreements


def due_on_signing(revision_ids: Collection[int]) -> dict[int, Decimal]:
    """Of accepted revisions, by id: the deposit, and the first instalment where it is due on signing.

    One that cannot be added up is left out; the audit says so.
    """
    rows = QuoteRevision.objects.filter(pk__in=revision_ids).select_related("answer")
    due, missing = {}, []
    for row in rows.defer("snapshot"):
        pair = _due.get((row.snapshot_sha256, _chosen(getattr(row, "answer", None))))
        if pair is None:
            missing.append(row.pk)
        else:
            due[row.pk] = pair[1]
    for row in rows.filter(pk__in=missing) if missing else ():
        with suppress(SnapshotChanged, OptionError, ValueError, KeyError):
            due[row.pk] = _due_of(row, _chosen(getattr(row, "answer", None)))[1]
    return due


def _chosen(answer: ClientAnswer | None) -> tuple[str, ...]:
    return tuple(option["key"] for option in answer.options) if answer else ()


def _due_of(revision: QuoteRevision, chosen: tuple[str, ...]) -> tuple[Decimal, Decimal]:
    """The deposit, and all that is due on signing. Of what is frozen, so it is remembered by the hash of that."""
    key = (revision.snapshot_sha256, chosen)
    if key not in _due:
        if len(_due) >= MAX_REMEMBERED:
            _due.clear()
        total = total_with(offer_of(revision), chosen)
        deposit = total.deposit.amount if total.deposit else Decimal(0)
        first = [instalment for instalment in total.instalments[:1] if is_on_signing(instalment.event)]
        _due[key] = deposit, deposit + sum((due.to_pay for due in first), Decimal(0))
    return _due[key]


def _received(job_ids: Collection[int]) -> dict[int, Decimal]:
    rows = PaymentReceived.objects.filter(job__in=job_ids, undone_at=None).values_list("job")
    return defaultdict(Decimal, rows.annotate(Sum("amount")))
