"""Requests as the client reads them on their own page."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from quoting.core.money.settling import Standing
from quoting.payment_requests.models import PaymentRequest
from quoting.payment_requests.services.asked import asked_of
from quoting.platform.papers.models import Paper
from quoting.quotes.models import QuoteRevision


@dataclass(frozen=True)
class ShownRequest:
    """total: under 0 of a credit. open: nought once it is paid or credited. credit: number of what takes it back."""

    number: int
    what: str
    total: Decimal
    open: Decimal
    due: date
    currency: str
    is_credit: bool
    credit: int | None
    has_paper: bool


def shown_requests(revision: QuoteRevision) -> list[ShownRequest]:
    """Every request of a revision, by number."""
    rows = list(PaymentRequest.objects.filter(revision=revision).defer("snapshot"))
    if not rows:
        return []
    request = asked_of([rows[0].job_id])[rows[0].job_id]
    standings = {status.request.number: status for status in request.requests}
    made = set(Paper.objects.filter(payment_request__in=rows).values_list("payment_request", flat=True))
    return [_shown(row, standings.get(row.number), row.pk in made) for row in rows]


def _shown(row: PaymentRequest, standing: Standing | None, has_paper: bool) -> ShownRequest:
    return ShownRequest(
        row.number,
        row.what,
        row.total,
        standing.open if standing else Decimal(0),
        row.due,
        row.currency,
        row.credits_id is not None,
        standing.request.credited_by if standing else None,
        has_paper,
    )
