"""What is known of closed months by now: what came later, row by row, beside what was closed."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Annotated

from catalog.core.ground.declared import Count, Document, Exact, Month
from jobs.bills.models import BillLine
from jobs.bills.services.bill_rows import standing_lines
from jobs.hours.models import TimeEntry
from jobs.jobs.models import Job
from quoting.core.money.month import last_day, month_of
from quoting.core.money.month_figures import JobOfMonth, LaterNews, RowAmount, later_news
from quoting.core.money.month_job import read_job
from quoting.life.services.reading import lives_of
from quoting.month.models import ClosedMonth
from quoting.month.services.month_jobs import with_costs
from quoting.month.services.posted_rows import overhead_rows
from quoting.month.services.snapshots import snapshot_of


@dataclass(frozen=True)
class JobKnownNow:
    """A job of a closed month, as closed and as known now; rows: what makes the difference."""

    closed: JobOfMonth
    now: JobOfMonth
    rows: tuple[LaterNews, ...]


@dataclass(frozen=True)
class LaterOfJob:
    """What a job of an earlier month came to since; id: None of what is of no job."""

    month: Annotated[date, Month()]
    id: Annotated[int | None, Count()]
    job: str
    title: str
    change: Annotated[Decimal, Exact()]
    rows: tuple[LaterNews, ...] = ()


def known_now(row: ClosedMonth, today: date, stored: Document | None = None) -> list[JobKnownNow]:
    """The jobs of a closed month of which something came later. stored: what `snapshot_of` gave, if it was read."""
    closed = {entry["id"]: read_job(entry) for entry in (stored or snapshot_of(row))["jobs"]}
    now = _figures(closed, row.month, today)
    both = [(closed[pk], month) for pk, month in now.items()]
    steps = [JobKnownNow(was, month, later_news(was.rows, month.rows)) for was, month in both]
    return [entry for entry in steps if entry.rows or entry.closed.cost != entry.now.cost]


def later_of(month: date, today: date) -> list[LaterOfJob]:
    """What counts in the month for earlier, closed months: of each its jobs, with the rows and what they change."""
    by_month: dict[date, set[int]] = {}
    for job, day in _late_rows(month):
        by_month.setdefault(month_of(day), set()).add(job)
    # Snapshots are long, and most months have nothing that came later.
    rows = ClosedMonth.objects.filter(month__lt=month) if by_month else ()
    closed = {row.month: row for row in rows}
    later = [
        entry for of in sorted(by_month) if of in closed for entry in _of_month(closed, of, by_month[of], month, today)
    ]
    return later + list(_overhead(month))


def _late_rows(month: date) -> Iterable[tuple[int, date]]:
    hours = TimeEntry.objects.filter(posted_month=month, day__lt=month, voided_at=None, job__isnull=False)
    yield from hours.order_by().values_list("job", "day").distinct()
    lines = standing_lines().filter(bill__posted_month=month, bill__day__lt=month, job__isnull=False)
    yield from lines.order_by().values_list("job", "bill__day").distinct()


def _of_month(
    closed: dict[date, ClosedMonth], of: date, jobs: set[int], month: date, today: date
) -> Iterable[LaterOfJob]:
    was = {entry["id"]: read_job(entry) for entry in snapshot_of(closed[of])["jobs"] if entry["id"] in jobs}
    amounts = _told_since(closed, of, month)
    for pk, now in _figures(jobs, of, today).items():
        known = {row.row: row for row in was[pk].rows} if pk in was else {}
        before = {**known, **{amount.row: amount for amount in amounts.get(pk, ())}}
        if news := later_news(before.values(), now.rows):
            change = sum((fresh.change for fresh in news), Decimal("0.00"))
            corrected = corrected_by(news)
            rows = tuple(replace(fresh, corrects=corrected.get(fresh.row, "")) for fresh in news)
            yield LaterOfJob(of, pk, now.key, now.title, change, rows)


def _told_since(closed: dict[date, ClosedMonth], of: date, month: date) -> dict[int, list[RowAmount]]:
    """What the months between have told already of the earlier month."""
    amounts: dict[int, list[RowAmount]] = {}
    for between in sorted(day for day in closed if of < day < month):
        for entry in snapshot_of(closed[between]).get("later", ()):
            if entry["month"] == f"{of:%Y-%m}" and entry["id"] is not None:
                rows = [RowAmount(each["row"], each["what"], Decimal(each["now"])) for each in entry["rows"]]
                amounts.setdefault(entry["id"], []).extend(rows)
    return amounts


def _overhead(month: date) -> Iterable[LaterOfJob]:
    for row in (actual for actual in overhead_rows(month) if actual.day < month):
        yield LaterOfJob(row.day, None, "", row.what, row.amount)


def _figures(jobs: Iterable[int], month: date, today: date) -> dict[int, JobOfMonth]:
    reads = lives_of(Job.objects.filter(pk__in=jobs).select_related("client"), today).values()
    return {cost.job.pk: cost.figures for cost in with_costs(reads, last_day(month), today)}


def corrected_by(news: Iterable[LaterNews]) -> dict[str, str]:
    """What a row corrects, in words, by the row: an entry or a bill of a closed month, or goods without a bill."""
    rows = [fresh.row.partition(" ") for fresh in news]
    hours = [int(name) for stage, _, name in rows if stage == "worked" and name.isdecimal()]
    entries = TimeEntry.objects.filter(pk__in=hours).select_related("reverses__worker", "corrects__worker")
    corrected = {f"worked {entry.pk}": entry.reverses or entry.corrects for entry in entries}
    bills = {name.partition("/")[0] for stage, _, name in rows if stage == "billed"}
    lines = BillLine.objects.filter(bill__in=[int(bill) for bill in bills])
    for line in lines.select_related("bill__reverses", "order_line__order"):
        of_order = f"{line.order_line.order.number}, {line.order_line.what}" if line.order_line else None
        corrected[f"billed {line.bill_id}/{line.place}"] = line.bill.reverses or of_order
    return {row: str(entry) for row, entry in corrected.items() if entry is not None}
