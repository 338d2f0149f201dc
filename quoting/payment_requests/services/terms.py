"""What the firm prints on each request, and what a client holds back of one job's; the owner sets both."""

from dataclasses import asdict, dataclass
from datetime import datetime
from decimal import Decimal
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.declared import As, Number, Stripped, Whole, read
from catalog.core.ground.refusal import Refused
from catalog.services.row_sync import save_if_changed
from catalog.services.typed_money import entry_reader
from jobs.jobs.models import Job
from jobs.jobs.services.changes import fact_changed
from jobs.jobs.services.versions import next_version
from quoting.payment_requests.models import JobRetention, PaymentRequest, RequestTerms
from quoting.payment_requests.models.terms import MAX_DAYS_TO_PAY, MAX_HOW_TO_PAY
from quoting.payment_requests.services.entered import held_job
from quoting.platform.people.signatures import Signature
from quoting.pricing.models.shares import split_share


def terms_of_requests() -> RequestTerms | None:
    """None until the owner enters them: without them nothing is issued."""
    return RequestTerms.objects.first()


@dataclass(frozen=True, kw_only=True)
class NewRequestTerms:
    """Printed on each request issued from then on."""

    tax_number: Annotated[str, Stripped(60), As(label="Our tax number", hint="Empty if the firm has none.")] = ""
    days_to_pay: Annotated[int, Whole(0, MAX_DAYS_TO_PAY)]
    how_to_pay: Annotated[str, Stripped(MAX_HOW_TO_PAY), As(hint="Printed on each request.", rows=4)]


@dataclass(frozen=True)
class NewRetention:
    """Set before the first request."""

    share: Annotated[Decimal, Number(high="0.5"), "0.05 is 5 %; 0 holds nothing back."]
    event: Annotated[str, Stripped(200), As(label="Until", hint="Such as: a year after the work is done.")]
    holds_tax: Annotated[bool, "Else the tax is due at once."] = True


@transaction.atomic
def set_terms(document: dict[str, Any]) -> RequestTerms:
    """document: as `NewRequestTerms`."""
    said = read(NewRequestTerms, entry_reader(document))
    row = RequestTerms.objects.select_for_update().first() or RequestTerms()
    save_if_changed(row, asdict(said))
    return row


def retention_of(job: Job) -> JobRetention | None:
    return JobRetention.objects.filter(job=job).first()


@transaction.atomic
def set_retention(
    job: Job, document: dict[str, Any], signature: Signature, *, now: datetime, seen_version: int | None = None
) -> JobRetention:
    """document: as `NewRetention`. Refused once a request stands."""
    job = held_job(job)
    said = read(NewRetention, entry_reader(document))
    count, parts = split_share(said.share)
    standing = PaymentRequest.objects.filter(job=job, credits=None, credited_by=None).first()
    if standing is not None:
        raise Refused(f"{standing} stands. What is held back is agreed before the first request.")
    row = JobRetention.objects.select_for_update().filter(job=job).first()
    if row is None:
        row = JobRetention(job=job)
    else:
        next_version(row, seen_version)
    figures = {"share_count": count, "share_parts": parts, "holds_tax": said.holds_tax, "event": said.event}
    save_if_changed(row, figures | {"set_at": now, "set_by_name": signature.by})
    fact_changed(job.pk)
    return row
