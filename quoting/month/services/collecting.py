"""What clients owe on a day, and the money that comes in and goes out within thirty days of it."""

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import Annotated

from catalog.core.ground.declared import Exact
from jobs.bills.models import Bill
from jobs.jobs.models import Job
from quoting.core.money.settling import Asked, Standing
from quoting.payment_requests.models import PaymentRequest
from quoting.payment_requests.services.asked import asked_of

DAYS_AHEAD = 30
NOTHING = Decimal("0.00")


@dataclass(frozen=True)
class ToCollect:
    """A request with money open."""

    job: Job
    standing: Standing


@dataclass(frozen=True)
class CashAhead:
    """coming: open requests due by `until`, overdue ones too. going: bills due from the day on."""

    until: date
    coming: Annotated[Decimal, Exact()]
    going: Annotated[Decimal, Exact()]


def to_collect(until: date) -> list[ToCollect]:
    """By the day they are due."""
    jobs = Job.objects.filter(pk__in=PaymentRequest.objects.values("job")).select_related("client")
    known = {job.pk: job for job in jobs}
    requests: dict[int, Asked] = asked_of(known, until)
    rows = [ToCollect(known[pk], request) for pk, of in requests.items() for request in of.requests if request.open > 0]
    return sorted(rows, key=lambda collect: (collect.standing.request.due, collect.standing.request.number))


def cash_ahead(rows: list[ToCollect], until: date) -> CashAhead:
    last = until + timedelta(days=DAYS_AHEAD)
    coming = sum((row.standing.open for row in rows if row.standing.request.due <= last), NOTHING)
    bills = Bill.objects.filter(due__range=(until, last), voided_at=None, entered_at__isnull=False, reverses=None)
    going = sum((bill.sign * (bill.total or NOTHING) for bill in bills.filter(reversed_by=None)), NOTHING)
    return CashAhead(last, coming, going)
