"""What of a month is not entered yet: days without hours, drafts of bills, goods here without a bill."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import Annotated

from django.db.models import FilteredRelation, Q

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import As, Count, Exact
from catalog.services.book import firm_of
from jobs.bills.models import Bill
from jobs.hours.models import Worker
from jobs.orders.models import Order
from quoting.core.money.job_costs import JobCosts
from quoting.core.money.month import last_day
from quoting.month.services.posted_rows import entries_of

MAX_DAYS_NAMED = 3
Works = tuple[str, date, date | None]
"""A name with its first and its last day."""


@dataclass(frozen=True)
class Missing:
    """amount: what rests on it, None where nobody knows. page, about: where it is entered; day: of the hours."""

    document_name = "missing_entry"

    sentence: Annotated[str, As(name="what")]
    amount: Annotated[Decimal | None, Exact()] = None
    page: str = ""
    about: Annotated[int | None, Count()] = None
    day: date | None = None


def missing_of(month: date, today: date, costs: Mapping[int, JobCosts]) -> list[Missing]:
    """today: its day counts as over only tomorrow."""
    return [*entries_missing(month, today), *_rates(month), *_bills(costs.values())]


def entries_missing(month: date, today: date) -> list[Missing]:
    """Days without hours and drafts of bills. Two queries."""
    until = min(last_day(month), today - timedelta(days=1))
    return [*_hours(month, until), *_drafts(until)]


def _hours(first: date, last: date) -> Iterator[Missing]:
    """By the day, the names beside it; somebody with many such days has a line of their own."""
    calendar = firm_of().calendar
    days = [first + timedelta(days=place) for place in range((last - first).days + 1)]
    open_days = [day for day in days if calendar.is_workday(day)]
    by_day: defaultdict[date, list[str]] = defaultdict(list)
    for (name, begins, ends), entered in _days_entered(first, last).items():
        without = [day for day in open_days if begins <= day <= (ends or day) and day not in entered]
        if len(without) > MAX_DAYS_NAMED:
            yield Missing(
                f"No hours of {name} on {len(without)} days from {day_words(without[0])}",
                page="hours",
                day=without[0],
            )
            continue
        for day in without:
            by_day[day].append(name)
    for day, names in sorted(by_day.items()):
        message = f"Hours of {day_words(day)} are missing: {', '.join(names)}"
        yield Missing(message, page="hours", day=day)


def _rates(month: date) -> Iterator[Missing]:
    """Whose hours cost nothing yet, from the first day on."""
    first = {row.worker.name: row.day for row in reversed(entries_of(month)) if row.rate is None}
    for name, day in sorted(first.items()):
        yield Missing(f"No rate for hours of {name}, from {day_words(day)}", page="hours", day=day)


def _days_entered(first: date, last: date) -> dict[Works, set[date | None]]:
    """Of everybody who works in these days, by name: the days with hours; only None where there are none."""
    workers = Worker.objects.filter(first_day__lte=last).exclude(last_day__lt=first)
    in_time = Q(entries__voided_at=None, entries__day__range=(first, last))
    rows = workers.annotate(entered=FilteredRelation("entries", condition=in_time))
    days: dict[Works, set[date | None]] = {}
    for name, begins, ends, day in rows.values_list("name", "first_day", "last_day", "entered__day").distinct():
        days.setdefault((name, begins, ends), set()).add(day)
    return days


def _drafts(last: date) -> Iterator[Missing]:
    for bill in Bill.objects.filter(entered_at=None, voided_at=None, day__lte=last).select_related("supplier"):
        of = f", {bill.seller}" if bill.seller else ""
        yield Missing(f"{bill}{of}: a draft, not entered", bill.total, "bill", bill.pk)


def _bills(costs: Iterable[JobCosts]) -> Iterator[Missing]:
    """Goods that are here without a bill, by the order."""
    amounts: defaultdict[str, Decimal] = defaultdict(Decimal)
    for job in costs:
        orders = {row.row: row.order for row in job.facts.ordered}
        for part in job.parts:
            if part.stage == "received":
                amounts[orders.get(part.row, part.row)] += part.amount
    rows = {row.number: row for row in Order.objects.filter(number__in=amounts).select_related("supplier")}
    for number, amount in amounts.items():
        order = rows[number]
        yield Missing(f"Order {number}, {order.supplier.name}: received, no bill yet", amount, "order", order.pk)
