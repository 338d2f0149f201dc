"""What stands of many jobs and their items that a release to order waits for, in a constant number of queries."""

from collections import defaultdict
from collections.abc import Collection
from dataclasses import replace
from datetime import date
from decimal import Decimal

from django.db.models import Sum

from jobs.core.ordering.needs import DatedNeed
from jobs.core.ordering.release import JobStanding, ReleaseHold, SampleState, release_holds, standing_of_need
from jobs.orders.models import SignOff
from quoting.client.models import ClientAnswer, PaymentReceived
from quoting.core.prices.options import total_with
from quoting.quotes.models import QuoteRevision, RevisionState
from quoting.quotes.services.offers import offer_of

Samples = dict[tuple[int, str], SampleState]
MOST_REMEMBERED = 5_000
_deposits: dict[tuple[str, tuple[str, ...]], Decimal] = {}


def job_standings(job_ids: Collection[int], today: date) -> dict[int, JobStanding]:
    """All but the field check, which is of each item's own walls."""
    revisions = QuoteRevision.objects.filter(quote__job__in=job_ids, state=RevisionState.ACCEPTED)
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
        if len(_deposits) >= MOST_REMEMBERED:
            _deposits.clear()
        found = total_with(offer_of(revision), chosen).deposit
        _deposits[key] = found.amount if found else Decimal(0)
    return _deposits[key]


def _received(job_ids: Collection[int]) -> dict[int, Decimal]:
    rows = PaymentReceived.objects.filter(job__in=job_ids, undone_at=None).values_list("job")
    return defaultdict(Decimal, rows.annotate(Sum("amount")))


def samples_of(job_ids: Collection[int]) -> Samples:
    """By what was entered last of each item; one of which nothing was entered asks for none."""
    found: Samples = {}
    for row in SignOff.objects.filter(job__in=job_ids).order_by("entered_at", "pk"):
        state: SampleState = "approved" if row.agreed_on else "asked" if row.asked_on else "to_ask"
        found[row.job_id, row.material_id] = state
    return found


def item_holds(
    need: DatedNeed,
    missing: Collection[str],
    checked_on: date | None,
    job: JobStanding,
    sample: SampleState,
    today: date,
) -> tuple[ReleaseHold, ...]:
    """missing: sentences of what its order does not state. checked_on: the day its walls were confirmed on site."""
    line = standing_of_need(need, tuple(missing), sample)
    return release_holds(line, replace(job, field_checked_on=checked_on), today)
