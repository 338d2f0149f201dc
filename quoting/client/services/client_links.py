"""The secret way to a client's page: made for one revision, told once, looked up by its hash alone."""

import secrets
from datetime import date, datetime

from django.db import transaction

from catalog.core.ground.refusal import Refused
from jobs.jobs.services.changes import fact_changed
from quoting.client.models import ClientLink
from quoting.platform.people.services.tokens import digest_of
from quoting.quotes.models import QuoteRevision
from quoting.quotes.services.revisions import is_open_to_client

SECRET_BYTES = 32


@transaction.atomic
def make_link(
    revision_id: int, *, now: datetime, today: date, by_name: str, by_hand: bool = False
) -> tuple[ClientLink, str]:
    """The row, and the secret, which is nowhere kept. The link before it stops working. by_hand: it goes with no mail.

    Raises Refused for a revision that is neither accepted nor can be.
    """
    revision = QuoteRevision.objects.select_for_update(of=("self",)).select_related("quote").get(pk=revision_id)
    if not is_open_to_client(revision, today):
        raise Refused(f"{revision} can no longer be accepted, so it gets no link. Issue a new revision first.")
    withdraw_links(revision, now)
    secret = secrets.token_urlsafe(SECRET_BYTES)
    handed_at = now if by_hand else None
    row = ClientLink.objects.create(
        revision=revision, digest=digest_of(secret), made_at=now, made_by_name=by_name, handed_at=handed_at
    )
    if by_hand:
        fact_changed(revision.quote.job_id)
    return row, secret


def withdraw_links(revision: QuoteRevision, now: datetime) -> int:
    """How many were in use: one, or none."""
    return ClientLink.objects.filter(revision=revision, withdrawn_at=None).update(withdrawn_at=now)


def live_link(revision: QuoteRevision) -> ClientLink | None:
    return ClientLink.objects.filter(revision=revision, withdrawn_at=None).first()


def find_link(secret: str) -> ClientLink | None:
    """Withdrawn ones as well: whoever holds one is told so. Reads, and changes nothing."""
    rows = ClientLink.objects.select_related("revision__quote__job__client")
    return rows.filter(digest=digest_of(secret)).first()
