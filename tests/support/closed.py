"""Closed jobs with a record: accepted as issued, worked, their boards received and what was left counted."""

from datetime import date
from decimal import Decimal
from typing import Any

from catalog.models import Material
from jobs.deliveries.models import Delivery, ReceiptLine
from jobs.hours.models import TimeEntry, Worker
from jobs.jobs.models import Job
from quoting.quotes.models import QuoteRevision
from quoting.quotes.services.snapshots import snapshot_of
from tests.factories.orders import placed_order
from tests.support.answered import accept, with_paper
from tests.support.worked import NOW, TODAY, issued, small_job

RATE = Decimal("47.13")
"""An odd figure, so that it is seen wherever it leaks."""
BOARD = "GB-14"


def closed_job(key: str, on: date, **ratios: str) -> Job:
    """ratios: by step, hours spent over what the standards gave when the quotation was issued."""
    job = small_job(key)
    revision = with_paper(issued(job, key))
    accept(revision)
    for step, ratio in ratios.items():
        spend(job, step, Decimal(ratio) * hours_of(revision, step))
    Job.objects.filter(pk=job.pk).update(closed_on=on)
    return Job.objects.get(pk=job.pk)


def hours_of(revision: QuoteRevision, step: str) -> Decimal:
    """As they were frozen in the quotation."""
    activities = snapshot_of(revision)["schedule"]["activities"]
    return Decimal(str(next(activity["hours"] for activity in activities if activity["key"] == step)))


def spend(job: Job, step: str, hours: Decimal, **more: Any) -> None:
    """In entries of at most ten hours."""
    text = {"entered_at": NOW, "entered_by_name": "R. Sallow"}
    about = {"rate_name": "Carpenter", "first_day": date(2026, 1, 1), "request_key": "wilm"}
    worker, _ = Worker.objects.get_or_create(name="Wilm Ostrey", defaults=about | text)
    left = round(hours * 60)
    while left > 0:
        minutes = min(left, 600)
        left -= minutes
        TimeEntry.objects.create(
            worker=worker,
            job=job,
            step=step,
            day=TODAY,
            posted_month=TODAY.replace(day=1),
            typed_minutes=minutes,
            minutes=minutes,
            rate=RATE,
            rate_name="Carpenter",
            request_key=f"hours {TimeEntry.objects.count()}",
            **text,
            **more,
        )


def boards_came(job: Job, sheets: int) -> ReceiptLine:
    """In the first pack of the board."""
    board = Material.objects.get(code=BOARD)
    packs = [{"label": board.packs.order_by("pk")[0].label, "count": sheets}]
    line = placed_order(job, board, board.supplier, quantity=sheets, unit="sheets", statement={"packs": packs})
    delivery = Delivery.objects.create(
        order=line.order, request_key=f"came {job.key}", received_on=TODAY, entered_at=NOW, entered_by_name="I. C."
    )
    return ReceiptLine.objects.create(delivery=delivery, line=line, good=sheets, actual_workdays=5)
