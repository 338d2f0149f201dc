"""A revision's state: what it may become, and whether it can still be accepted."""

from datetime import date, datetime

from django.db import transaction

from catalog.core.ground.day_words import day_words
from catalog.core.ground.refusal import Refused
from jobs.jobs.services.changes import fact_changed
from quoting.quotes.models import Quote, QuoteRevision, RevisionState


def is_acceptable(revision: QuoteRevision, today: date) -> bool:
    """Up to and including its last day. today: in the firm's time zone."""
    return revision.state == RevisionState.ISSUED and today <= revision.valid_until


def is_open_to_client(revision: QuoteRevision, today: date) -> bool:
    """It can be accepted, or it is: then its certificate and its change notes are found on its page."""
    return revision.state == RevisionState.ACCEPTED or is_acceptable(revision, today)


def is_latest(revision: QuoteRevision) -> bool:
    return not QuoteRevision.objects.filter(quote=revision.quote_id, number__gt=revision.number).exists()


@transaction.atomic
def move_revision(
    revision_id: int,
    state: RevisionState,
    *,
    now: datetime,
    by_name: str,
    reason: str = "",
    valid_on: date | None = None,
) -> QuoteRevision:
    """One conditional UPDATE from "issued": of two who decide at once, the second is told what the first did.

    valid_on: a day that must not be after its last one, for what a client may only do while the quote is valid.
    """
    standing = QuoteRevision.objects.filter(pk=revision_id, state=RevisionState.ISSUED)
    if valid_on is not None:
        standing = standing.filter(valid_until__gte=valid_on)
    moved = standing.update(state=state, state_at=now, state_by_name=by_name, state_reason=reason)
    revision = QuoteRevision.objects.select_related("quote").get(pk=revision_id)
    if not moved and revision.state == RevisionState.ISSUED:
        raise Refused(f"{revision} could be accepted until {day_words(revision.valid_until)}; that day has passed.")
    if not moved:
        raise Refused(f"{revision} is {revision.get_state_display().lower()}, and that is final.")
    fact_changed(revision.quote.job_id)
    return revision


def withdraw_revision(revision_id: int, *, now: datetime, by_name: str, reason: str) -> QuoteRevision:
    if not reason.strip():
        raise Refused("A quote is withdrawn for a reason; write it down.")
    return move_revision(revision_id, RevisionState.WITHDRAWN, now=now, by_name=by_name, reason=reason.strip())


@transaction.atomic
def mark_lapsed(now: datetime, today: date) -> int:
    """Every issued revision whose last day is over has lapsed. Doing it twice does nothing more."""
    over = QuoteRevision.objects.filter(state=RevisionState.ISSUED, valid_until__lt=today)
    jobs = list(over.values_list("quote__job", flat=True))
    lapsed = over.update(
        state=RevisionState.LAPSED, state_at=now, state_by_name="", state_reason="Its last day passed."
    )
    fact_changed(*jobs)
    return lapsed


def revision_of(number: str, revision: int) -> QuoteRevision:
    return QuoteRevision.objects.select_related("quote__job").get(quote__number=number, number=revision)


def list_revisions(quote: Quote) -> list[QuoteRevision]:
    """The latest first; without the snapshots, which are large."""
    return list(quote.revisions.select_related("quote", "paper").defer("snapshot"))
