"""What was asked for of many jobs, what of it is paid and what is open, in two queries."""

from collections import defaultdict
from collections.abc import Collection, Iterable
from datetime import date

from quoting.core.money.request_parts import Parts
from quoting.core.money.requests import RELEASE
from quoting.core.money.settling import Asked, CameIn, IssuedRequest, settle
from quoting.payment_requests.models import PaymentReceived, PaymentRequest


def asked_of(job_ids: Collection[int], until: date | None = None) -> dict[int, Asked]:
    """Of every job, by its id. until: as it stood at the end of that day; a request credited later still stands."""
    requests = PaymentRequest.objects.filter(job__in=job_ids).defer("snapshot").order_by("number")
    payments = PaymentReceived.objects.filter(job__in=job_ids, undone_at=None, undoes=None, undone_by=None)
    if until is not None:
        requests, payments = requests.filter(day__lte=until), payments.filter(received_on__lte=until)
    by_job: defaultdict[int, list[PaymentRequest]] = defaultdict(list)
    for row in requests:
        by_job[row.job_id].append(row)
    came: defaultdict[int, list[CameIn]] = defaultdict(list)
    for payment in payments:
        came[payment.job_id].append(CameIn(str(payment.pk), payment.received_on, payment.amount))
    return {job: settle(issued(by_job[job]), came[job]) for job in job_ids}


def issued(rows: Iterable[PaymentRequest]) -> list[IssuedRequest]:
    """As they are settled: those that credit another stand beside what they credit."""
    rows = list(rows)
    credited = {row.credits_id: row.number for row in rows if row.credits_id is not None}
    return [
        IssuedRequest(row.number, row.day, row.due, row.what, row.to_pay, _held(row), credited.get(row.pk))
        for row in rows
        if row.credits_id is None
    ]


def _held(row: PaymentRequest) -> Parts:
    return -row.parts("asked") if row.part == RELEASE else row.parts("held")
