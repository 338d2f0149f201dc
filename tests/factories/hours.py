"""Workers and hours as rows, past the services that enter them."""

from datetime import UTC, date, datetime
from decimal import Decimal
from itertools import count
from typing import Any

from jobs.hours.models import HoursLeft, TimeEntry, Worker

NOW = datetime(2026, 10, 5, 9, 0, tzinfo=UTC)
_numbers = count(1)


def key() -> str:
    return f"hours-{next(_numbers)}"


def worker(name: str = "Sam Orrin", **more: Any) -> Worker:
    given = {"rate_name": "Carpenter", "first_day": date(2026, 1, 5), **more}
    return Worker.objects.create(name=name, request_key=key(), entered_at=NOW, entered_by_name="O. Owner", **given)


def time_entry(who: Worker, job: Any, minutes: int, day: date = date(2026, 10, 1), **more: Any) -> TimeEntry:
    figures = {"typed_minutes": abs(minutes) or 1, "rate": Decimal("48.00"), "rate_name": who.rate_name, **more}
    return TimeEntry.objects.create(
        worker=who,
        job=job,
        minutes=minutes,
        day=day,
        posted_month=figures.pop("posted_month", day.replace(day=1)),
        request_key=figures.pop("request_key", None) or key(),
        entered_at=NOW,
        entered_by_name="L. Lead",
        **figures,
    )


def hours_left(job: Any, step: str, minutes: int, day: date = date(2026, 10, 2), **more: Any) -> HoursLeft:
    document = {"said_at": NOW, "said_by_name": "L. Lead", "posted_month": day.replace(day=1), **more}
    return HoursLeft.objects.create(job=job, step=step, minutes=minutes, day=day, request_key=key(), **document)
