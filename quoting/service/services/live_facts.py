"""The small line over each place in the foot of a phone: one fact from rows that are kept, never worked out for it."""

from collections.abc import Iterable
from datetime import date
from typing import Any

from django.db.models import Count, Q

from catalog.core.ground.day_words import day_words
from jobs.core.ordering.order_by import late_count
from jobs.jobs.models import Job
from quoting.life.models import KeptLife


def live_facts(places: frozenset[str], today: date) -> dict[str, str]:
    """A fact for each of the places named, by the name of its URL; of the others none."""
    known = {"job_list": _jobs, "sites": _sites, "order_dates": _to_order, "receiving": _awaited}
    found = {name: fact(today) for name, fact in known.items() if name in places}
    return {"today": _short(today.isoformat()), **found}


def _jobs(today: date) -> str:
    late = Count("pk", Q(life__ended="", life__next_by__lt=today))
    found = Job.objects.filter(closed_on=None).aggregate(open=Count("pk"), late=late)
    return late_count(found["late"], "job") if found["late"] else f"{found['open']} open"


def _sites(today: date) -> str:
    return f"{Job.objects.filter(closed_on=None).count()} open"


def _to_order(today: date) -> str:
    """Of signed jobs: how many items are past their day, else when the first of them is due."""
    days = sorted(item["order_by"] for item in _of_signed_jobs("to_order") if item["order_by"])
    late = sum(1 for day in days if day < today.isoformat())
    if late:
        return late_count(late, "item")
    return _short(days[0]) if days else "none due"


def _awaited(today: date) -> str:
    coming = _of_signed_jobs("coming")
    due = {one["order"] for one in coming if one["expected_on"] and one["expected_on"] <= today.isoformat()}
    return f"{len(due)} due" if due else "none due"


def _of_signed_jobs(name: str) -> Iterable[dict[str, Any]]:
    signed = KeptLife.objects.filter(job__closed_on=None, facts__signed_on__isnull=False)
    return [one for kept in signed.values_list(f"facts__{name}", flat=True) for one in kept or ()]


def _short(day: str) -> str:
    """Thu 10: the foot has room for no more, and what it names is near."""
    return " ".join(day_words(date.fromisoformat(day)).split()[:2])
