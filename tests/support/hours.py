"""A crew, its rate, and hours sent as a phone sends them. Today is Mon 5 Oct 2026."""

from datetime import UTC, date, datetime
from typing import Any

from jobs.hours.models import TimeEntry, Worker
from jobs.hours.services.entering import Entered, enter_hours
from jobs.jobs.models import Job
from quoting.platform.people.signatures import Signature
from quoting.pricing.services.taxes import set_labour_rate
from tests.factories.hours import key, worker

TODAY = date(2026, 10, 5)
NOW = datetime(2026, 10, 5, 15, 0, tzinfo=UTC)
LEAD = Signature("L. Lead", TODAY)


def rate(amount: str = "48.00", starts_on: str = "2026-01-01", name: str = "Carpenter") -> None:
    set_labour_rate({"name": name, "rate": amount, "starts_on": starts_on})


def crew(*names: str) -> list[Worker]:
    """At 48.00 an hour."""
    rate()
    return [worker(name) for name in names]


def line(who: Worker, minutes: int = 480, day: date = TODAY, **more: Any) -> dict[str, Any]:
    return {"worker": who.pk, "day": day.isoformat(), "minutes": minutes, **more}


def send(job: Job | None, *lines: dict[str, Any], signature: Signature = LEAD, **more: Any) -> Entered:
    document = {"request_key": key(), "lines": list(lines), **more}
    return enter_hours(document, signature, now=NOW, among=Worker.objects.all(), job=job)


def entry_of(job: Job, who: Worker, minutes: int = 480, day: date = TODAY, **more: Any) -> TimeEntry:
    given = {"step": "framing", **more}
    return send(job, line(who, minutes, day, **given)).rows[0]
