"""What is known of closed months by now: what came later, row by row, beside what was closed."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

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

Document = dict[str, Any]


@dataclass(frozen=True)
class JobKnownNow:
    """A job of a closed month, as closed and as known now; rows: what makes the difference."""

    closed: JobOfMonth
    now: JobOfMonth
    rows: tuple[LaterNews, ...]


def known_now(row: ClosedMonth, today: date, kept: Document | None = None) -> list[JobKnownNow]:
    """The jobs of a closed month of which something came later. kept: what `snapshot_of` gave, if it was read."""
    closed = {one["id"]: read_job(one) for one in (kept or snapshot_of(row))["jobs"]}
    now = _figures(closed, row.month, today)
    both = [(closed[pk], one) for pk, one in now.items()]
    found = [JobKnownNow(was, one, later_news(was.rows, one.rows)) for was, one in both]
    return [one for one in found if one.rows or one.closed.cost != one.now.cost]


def later_of(month: date, today: date) -> list[Document]:
    """What counts in the month for earlier, closed months: of each its jobs, with the rows and what they change."""
    by_month: dict[date, set[int]] = {}
    for job, day in _late_rows(month):
        by_month.setdefault(month_of(day), set()).add(job)
    # Snapshots are long, and most months have nothing that came later.
    rows = ClosedMonth.objects.filter(month__lt=month) if by_month else ()
    closed = {row.month: row for row in rows}
    found = [
        one for of in sorted(by_month) if of in closed for one in _of_month(closed, of, by_month[of], month, today)
    ]
    return found + list(_overhead(month))


def _late_rows(month: date) -> Iterable[tuple[int, date]]:
    hours = TimeEntry.objects.filter(posted_month=month, day__lt=month, voided_at=None, job__isnull=False)
    yield from hours.order_by().values_list("job", "day").distinct()
    lines = standing_lines().filter(bill__posted_month=month, bill__day__lt=month, job__isnull=False)
    yield from lines.order_by().values_list("job", "bill__day").distinct()


def _of_month(
    closed: dict[date, ClosedMonth], of: date, jobs: set[int], month: date, today: date
) -> Iterable[Document]:
    was = {one["id"]: read_job(one) for one in snapshot_of(closed[of])["jobs"] if one["id"] in jobs}
    told = _told_since(closed, of, month)
    for pk, now in _figures(jobs, of, today).items():
        rows = {one.row: one for one in was[pk].rows} if pk in was else {}
        before = {**rows, **{one.row: one for one in told.get(pk, ())}}
        if news := later_news(before.values(), now.rows):
            change = sum((one.change for one in news), Decimal("0.00"))
            about = {"month": f"{of:%Y-%m}", "id": pk, "job": now.key, "title": now.title, "change": str(change)}
            corrected = corrected_by(news)
            yield {**about, "rows": [write_news(one, corrected.get(one.row, "")) for one in news]}


def _told_since(closed: dict[date, ClosedMonth], of: date, month: date) -> dict[int, list[RowAmount]]:
    """What the months between have told already of the earlier month."""
    told: dict[int, list[RowAmount]] = {}
    for between in sorted(one for one in closed if of < one < month):
        for entry in snapshot_of(closed[between]).get("later", ()):
            if entry["month"] == f"{of:%Y-%m}" and entry["id"] is not None:
                rows = [RowAmount(one["row"], one["what"], Decimal(one["now"])) for one in entry["rows"]]
                told.setdefault(entry["id"], []).extend(rows)
    return told


def _overhead(month: date) -> Iterable[Document]:
    for row in (one for one in overhead_rows(month) if one.day < month):
        about = {"month": f"{row.day:%Y-%m}", "id": None, "job": "", "title": row.what, "change": str(row.amount)}
        yield {**about, "rows": []}


def _figures(jobs: Iterable[int], month: date, today: date) -> dict[int, JobOfMonth]:
    reads = lives_of(Job.objects.filter(pk__in=jobs).select_related("client"), today).values()
    return {one.job.pk: one.figures for one in with_costs(reads, last_day(month), today)}


def corrected_by(news: Iterable[LaterNews]) -> dict[str, str]:
    """What a row corrects, in words, by the row: an entry or a bill of a closed month, or goods without a bill."""
    rows = [one.row.partition(" ") for one in news]
    hours = [int(name) for stage, _, name in rows if stage == "worked" and name.isdecimal()]
    entries = TimeEntry.objects.filter(pk__in=hours).select_related("reverses__worker", "corrects__worker")
    found = {f"worked {one.pk}": one.reverses or one.corrects for one in entries}
    bills = {name.partition("/")[0] for stage, _, name in rows if stage == "billed"}
    lines = BillLine.objects.filter(bill__in=[int(one) for one in bills])
    for line in lines.select_related("bill__reverses", "order_line__order"):
        of_order = f"{line.order_line.order.number}, {line.order_line.what}" if line.order_line else None
        found[f"billed {line.bill_id}/{line.place}"] = line.bill.reverses or of_order
    return {row: str(one) for row, one in found.items() if one is not None}


def write_news(one: LaterNews, corrects: str = "") -> Document:
    amounts = {name: str(getattr(one, name)) for name in ("was", "now", "change")}
    return {"row": one.row, "what": one.what, **amounts, "corrects": corrects}
