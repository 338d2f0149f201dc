"""Jobs signed and not signed, by the row that makes them so."""

import json
from datetime import UTC, date, datetime

from jobs.jobs.models import Job
from quoting.quotes.models import Quote, QuoteRevision, RevisionState
from quoting.quotes.services.snapshots import hash_of

TAX = {"name": "Sales tax", "rate": "0", "applies_to": "price", "basis": "document", "exempt_certificate": ""}
LINES = [{"section": "Walls", "price": "100.00", "taxed": "100.00", "tax": "0.00"}]
OFFER = {
    "lines": LINES,
    "tax": TAX,
    "options": [],
    "instalments": [{"event": "On completion", "share": "1"}],
    "deposit": None,
    "special_order_cost": "0",
}
SNAPSHOT = json.dumps({"offer": OFFER})
AT = datetime(2026, 10, 5, 9, 0, tzinfo=UTC)


def sign(job: Job) -> QuoteRevision:
    """As if a quote of the job were accepted, with nothing to pay before the end."""
    quote = Quote.objects.create(job=job, number=f"Q-{job.pk}", opened_at=AT)
    return QuoteRevision.objects.create(
        quote=quote, number=1, quoted_on=date(2026, 10, 5), valid_until=date(2027, 10, 5), request_key=f"q-{job.pk}",
        currency="USD", price=100, tax=0, total=100, cost=0, margin=0, rules_version="none", snapshot=SNAPSHOT,
        snapshot_sha256=hash_of(SNAPSHOT), issued_at=AT, issued_by_name="R. Sallow",
        state=RevisionState.ACCEPTED, state_at=AT,
    )  # fmt: skip
