"""The small line over each place in the foot of a phone: one fact from stored rows, never worked out for it."""

from datetime import date

from django.db.models import Count, Exists, Min, OuterRef, Q

from catalog.core.ground.day_words import day_words
from jobs.jobs.models import Job
from jobs.needs.models import StoredNeed
from jobs.orders.models import Order, OrderLine, OrderState


def live_facts(places: frozenset[str], today: date) -> dict[str, str]:
    """A fact for each of the places named, by the name of its URL; of the others none."""
    known = {"job_list": _open_jobs, "sites": _open_jobs, "order_dates": _to_order, "receiving": _awaited}
    found = {name: fact(today) for name, fact in known.items() if name in places}
    return {"today": _short(today), **found}


def _open_jobs(today: date) -> str:
    return f"{Job.objects.filter(closed_on=None).count()} open"


def _to_order(today: date) -> str:
    """How many items without an order are past their day, or when the first of the others is due."""
    on_order = OrderLine.objects.filter(job=OuterRef("job"), material=OuterRef("material"))
    lacking = StoredNeed.objects.filter(~Exists(on_order.exclude(order__state=OrderState.CALLED_OFF)))
    lacking = lacking.filter(job__closed_on=None, order_by__isnull=False).exclude(supplier="").exclude(quantity=0)
    found = lacking.aggregate(late=Count("pk", Q(order_by__lt=today)), first=Min("order_by"))
    if found["late"]:
        return f"{found['late']} late"
    return _short(found["first"]) if found["first"] else "nothing due"


def _awaited(today: date) -> str:
    return f"{Order.objects.filter(state=OrderState.PLACED, lines__isnull=False).distinct().count()} placed"


def _short(day: date) -> str:
    """Thu 10: the foot has room for no more, and what it names is near."""
    return " ".join(day_words(day).split()[:2])
