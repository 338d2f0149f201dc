"""What waits for a decision in each room of a job, from rows that are kept: the red numbers beside the rooms."""

from collections import Counter
from collections.abc import Mapping
from datetime import date

from jobs.jobs.models import Job, WorkedJob
from quoting.life.models import KeptLife


def waiting_counts(job: Job, today: date) -> Mapping[str, int]:
    """walls: decisions open on its walls. price: points before it can be sent. buying: items past their order-by day.
    site: dimensions to be confirmed before something is ordered. A closed job waits for nothing."""
    if job.closed_on:
        return {}
    counts = WorkedJob.objects.filter(job=job.pk).values_list("findings", flat=True).first() or []
    stored = KeptLife.objects.filter(job=job.pk).values_list("facts", flat=True).first() or {}
    late = [item for item in stored.get("to_order", ()) if item["order_by"] and item["order_by"] < today.isoformat()]
    return {
        "walls": sum(1 for entry in counts if entry.get("decide")),
        "price": 0 if stored.get("revision") else stored.get("before_sending") or 0,
        "buying": len(late) if stored.get("signed_on") else 0,
        "site": stored.get("dimensions") or 0,
    }


def to_decide_by_wall(job: Job) -> Counter[str]:
    """Decisions open on each wall of a job, by its key."""
    rows = WorkedJob.objects.filter(job=job.pk).values_list("findings", flat=True).first() or []
    return Counter(str(entry["decide"]) for entry in rows if entry.get("decide"))
