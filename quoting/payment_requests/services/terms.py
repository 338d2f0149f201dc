"""What the firm prints on each request, and what a client holds back of one job's; the owner sets both."""

from datetime import datetime
from decimal import Decimal
from typing import Any

from django.db import transaction

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

MAX_HELD = "0.5"


def terms_of_requests() -> RequestTerms | None:
    """None until the owner enters them: without them nothing is issued."""
    return RequestTerms.objects.first()


@transaction.atomic
def set_terms(document: dict[str, Any]) -> RequestTerms:
    """tax_number, days_to_pay, how_to_pay."""
    reader = entry_reader(document)
    figures = {
        "tax_number": reader.text("tax_number", "", longest=60).strip(),
        "days_to_pay": reader.whole("days_to_pay", 0, MAX_DAYS_TO_PAY),
        "how_to_pay": reader.text("how_to_pay", longest=MAX_HOW_TO_PAY).strip(),
    }
    reader.finish()
    row = RequestTerms.objects.select_for_update().first() or RequestTerms()
    save_if_changed(row, figures)
    return row


def retention_of(job: Job) -> JobRetention | None:
    return JobRetention.objects.filter(job=job).first()


@transaction.atomic
def set_retention(
    job: Job, document: dict[str, Any], signature: Signature, *, now: datetime, seen_version: int | None = None
) -> JobRetention:
    """share (0.05 for 5 %; 0 holds nothing back), event, holds_tax. Refused once a request stands."""
    job = held_job(job)
    reader = entry_reader(document)
    share: Decimal = reader.decimal("share", "0", MAX_HELD)
    event, holds_tax = reader.text("event", longest=200).strip(), reader.flag("holds_tax", True)
    count, parts = split_share(share)
    reader.finish()
    standing = PaymentRequest.objects.filter(job=job, credits=None, credited_by=None).first()
    if standing is not None:
        raise Refused(f"{standing} stands. What is held back is agreed before the first request.")
    row = JobRetention.objects.select_for_update().filter(job=job).first()
    if row is None:
        row = JobRetention(job=job)
    else:
        next_version(row, seen_version)
    figures = {"share_count": count, "share_parts": parts, "holds_tax": holds_tax, "event": event}
    save_if_changed(row, figures | {"set_at": now, "set_by_name": signature.by})
    fact_changed(job.pk)
    return row
