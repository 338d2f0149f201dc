"""The small line over each place in the foot of a phone: one fact from rows that are kept, never worked out for it."""

from datetime import date
from typing import Any

from django.db.models import Count, Min, Q, Sum

from catalog.core.ground.day_words import day_words, month_words
from jobs.core.costs.hours import hours_words
from jobs.core.ordering.order_by import late_count
from jobs.hours.models import TimeEntry
from jobs.jobs.models import Job
from jobs.jobs.services.signed import SIGNED, of_work
from jobs.needs.models import LEFT_TO_ORDER, StoredNeed
from quoting.core.money.month import next_month
from quoting.life.models import KeptLife
from quoting.month.services.closing import last_closed
from quoting.platform.read_once import read_once


def live_facts(places: frozenset[str], today: date) -> dict[str, str]:
    """A fact for each of the places named, by the name of its URL; of the others none."""
    known = {
        "job_list": _jobs,
        "sites": _sites,
        "order_dates": _to_order,
        "receiving": _awaited,
        "month": _to_close,
        "hours": _hours,
    }
    facts = {name: fact(today) for name, fact in known.items() if name in places}
    return {"today": _short(today.isoformat()), **facts}


def _jobs(today: date) -> str:
    late = KeptLife.objects.filter(job__closed_on=None, ended="", next_by__lt=today).count()
    return late_count(late, "job") if late else f"{open_jobs()} open"


def _sites(today: date) -> str:
    return f"{open_jobs()} open"


def open_jobs() -> int:
    return read_once("open jobs", lambda: Job.objects.filter(closed_on=None).count())


def _to_order(today: date) -> str:
    """Of signed jobs: how many items are past their day, else when the first of them is due."""
    rows = StoredNeed.objects.filter(of_work(SIGNED), LEFT_TO_ORDER).exclude(quantity=0)
    result = rows.aggregate(late=Count("pk", Q(order_by__lt=today)), first=Min("order_by"))
    if result["late"]:
        return late_count(result["late"], "item")
    return _short(result["first"].isoformat()) if result["first"] else "none due"


def _awaited(today: date) -> str:
    signed = KeptLife.objects.filter(of_work(SIGNED), job__closed_on=None).values_list("facts__coming", flat=True)
    coming: list[dict[str, Any]] = [entry for of_job in signed for entry in of_job or ()]
    due = {entry["order"] for entry in coming if entry["expected_on"] and entry["expected_on"] <= today.isoformat()}
    return f"{len(due)} due" if due else "none due"


def _to_close(today: date) -> str:
    """The month that is closed next; the running one while none is closed."""
    closed = read_once("last closed month", last_closed)
    return f"{month_words(next_month(closed) if closed else today)[:3]} open"


def _hours(today: date) -> str:
    """Worked today, as entered so far."""
    minutes = TimeEntry.objects.filter(day=today, voided_at=None).aggregate(sum=Sum("minutes"))["sum"]
    return f"{hours_words(minutes)} today" if minutes else "none today"


def _short(day: str) -> str:
    """Thu 10: the foot has room for no more, and what it names is near."""
    return " ".join(day_words(date.fromisoformat(day)).split()[:2])
