"""All rows the money of jobs is worked out from, of many jobs in few queries."""

from collections import defaultdict
from collections.abc import Collection
from datetime import date
from typing import TypeVar

from django.db.models import Min

from jobs.bills.services.bill_rows import bill_rows_of, ordered_freight_of, ordered_rows_of
from jobs.core.costs.bills import BillRow
from jobs.core.costs.hours import HourRow
from jobs.deliveries.models import ReceiptLine
from jobs.hours.services.hour_rows import hour_rows_of, hours_left_of
from jobs.jobs.models import Job
from jobs.needs.models import StoredNeed
from quoting.core.money.completion import SaidToGo
from quoting.core.money.job_costs import JobFacts
from quoting.job_money.models import SaidLeft
from quoting.job_money.services.note_costs import notes_of
from quoting.job_money.services.quoted_sides import quoted_sides_of
from quoting.job_money.services.rates import rates_of


def facts_of(job_ids: Collection[int], today: date, until: date | None = None) -> dict[int, JobFacts]:
    """By job, of those with an accepted quote; no other has a contract to hold its cost against.

    until: by what happened by the end of that day, whichever month it counts in; None for all.
    """
    sides, last = quoted_sides_of(job_ids), until or date.max
    jobs = list(sides)
    notes, rates, hours_to_go = notes_of(jobs, last), rates_of(jobs, today), said_of(jobs, last)
    hours, left, bills = _until(hour_rows_of(jobs), last), hours_left_of(jobs, until), _until(bill_rows_of(jobs), last)
    ordered, freight, fitted = ordered_rows_of(jobs, until), ordered_freight_of(jobs, until), _fitted_by(jobs)
    closed = set(Job.objects.filter(pk__in=jobs, closed_on__lte=last).values_list("pk", flat=True))
    return {
        job: JobFacts(
            side.price,
            side.quoted,
            notes[job],
            hours[job],
            tuple(left[job]),
            bills[job],
            tuple(ordered[job]),
            tuple(freight[job]),
            hours_to_go[job],
            rates[job],
            side.overhead_rule,
            fitted[job],
            job in closed,
        )
        for job, side in sides.items()
    }


Row = TypeVar("Row", HourRow, BillRow)


def _until(rows: dict[int, list[Row]], last: date) -> dict[int, tuple[Row, ...]]:
    return {job: tuple(row for row in of if row.day <= last) for job, of in rows.items()}


def said_of(job_ids: Collection[int], until: date = date.max) -> dict[int, tuple[SaidToGo, ...]]:
    """The newest of each item, by job."""
    newest: dict[int, dict[tuple[str, str], SaidToGo | None]] = {job: {} for job in job_ids}
    for row in SaidLeft.objects.filter(job__in=job_ids, day__lte=until).order_by("said_at", "pk"):
        newest[row.job_id][row.category, row.item] = row.to_core()
    return {
        job: tuple(entry for entry in hours_to_go.values() if entry is not None) for job, hours_to_go in newest.items()
    }


def received_on(job_ids: Collection[int]) -> dict[str, date]:
    """The first day goods of an order line came, by `OrderedRow.row`."""
    rows = ReceiptLine.objects.filter(line__job__in=job_ids).values("line")
    return {str(row["line"]): row["first"] for row in rows.annotate(first=Min("delivery__received_on"))}


def _fitted_by(job_ids: Collection[int]) -> dict[int, dict[str, str]]:
    """The step that fits a material: the activity that first wants it."""
    fitted: defaultdict[int, dict[str, str]] = defaultdict(dict)
    rows = StoredNeed.objects.filter(job__in=job_ids).exclude(stage="")
    for job, material, stage in rows.values_list("job", "material", "stage"):
        fitted[job][material] = stage
    return {job: fitted[job] for job in job_ids}
