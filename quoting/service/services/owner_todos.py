"""What the owner and the office do beside open jobs: months to be closed, and what closed jobs have not paid."""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from django.db.models import DecimalField, F, OuterRef, QuerySet, Subquery, Sum
from django.db.models.functions import Coalesce

from catalog.core.ground.day_words import month_words
from catalog.core.ground.workdays import WorkCalendar
from catalog.services.book import firm_of
from jobs.core.ordering.order_by import days_in_hand
from quoting.core.life.day_list import Todo
from quoting.core.money.month import month_to_close
from quoting.life.models import KeptLife
from quoting.month.services.closing import last_closed
from quoting.month.services.missing import entries_missing
from quoting.month.services.snapshots import first_month
from quoting.payment_requests.models import PaymentReceived, PaymentRequest
from quoting.platform.read_once import read_once

MAX_JOBS = 40
_MONEY = DecimalField(max_digits=14, decimal_places=2)


def todos_of_month(today: date) -> Iterator[Todo]:
    """One query while no month is to be closed, two while none ever was; then two more."""
    closed = read_once("last closed month", last_closed)
    first = None if closed else first_month()
    if closed is None and first is None:
        return
    calendar = firm_of().calendar
    todos = month_to_close(closed, first, today, calendar)
    if todos is None:
        return
    month, day = todos
    name, _, year = month_words(month).partition(" ")
    text = f"Close {name}" if month.year == today.year else f"Close {name} {year}"
    in_hand, place = days_in_hand(today, day, calendar), ("month_of", f"{month:%Y-%m}")
    yield Todo(text, _missing_words(len(entries_missing(month, today))), day, in_hand, (), "Open the month", place)


def _missing_words(count: int) -> str:
    """Of hours and drafts. Goods without a bill are worked out by the month itself."""
    if not count:
        return "Hours are in, and no bill is a draft."
    return f"{count} {'entry' if count == 1 else 'entries'} of hours or bills {'is' if count == 1 else 'are'} missing."


def todos_of_closed_jobs(today: date, calendar: WorkCalendar) -> Iterator[Todo]:
    """Requests of closed jobs with money open. One query."""
    for row in _unpaid()[:MAX_JOBS]:
        for request in row.to_core().requests:
            if request.open:
                yield Todo(
                    f"Collect request {request.number}: {request.what}",
                    "The job is closed.",
                    request.due,
                    days_in_hand(today, request.due, calendar),
                    (row.job.title,),
                    "Open the requests",
                    ("since_signed", str(row.pk)),
                    amount=request.open,
                )


def _unpaid() -> QuerySet[KeptLife]:
    """Closed jobs that were asked for more than they paid; what is credited, given back or undone adds up to nought."""
    wanted = _sum(PaymentRequest.objects.all(), "total")
    paid = _sum(PaymentReceived.objects.filter(undone_at=None), "amount")
    rows = KeptLife.objects.filter(next_by=None, ended="closed").exclude(station="paid")
    rows = rows.annotate(asked=Coalesce(wanted, Decimal(0)), paid=Coalesce(paid, Decimal(0)))
    return rows.filter(asked__gt=F("paid")).select_related("job").order_by("pk")


def _sum(rows: QuerySet[PaymentRequest] | QuerySet[PaymentReceived], column: str) -> Subquery:
    of_job = rows.filter(job=OuterRef("pk")).order_by().values("job").annotate(sum=Sum(column)).values("sum")
    return Subquery(of_job, output_field=_MONEY)
