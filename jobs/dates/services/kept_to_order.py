"""Of which stored needs something is left to order: kept in their rows, so that lists need not count it."""

from collections.abc import Collection

from jobs.needs.models import StoredNeed
from jobs.orders.services.ordered_so_far import ordered_so_far


def keep_to_order(job_ids: Collection[int]) -> None:
    """To be called by whoever holds the lives of these jobs, after what is ordered or wanted was written."""
    for to_order, rows in needs_astray(job_ids).items():
        if rows:
            StoredNeed.objects.filter(pk__in=[row.pk for row in rows]).update(to_order=to_order)


def needs_astray(job_ids: Collection[int] | None = None) -> dict[bool, list[StoredNeed]]:
    """Needs whose rows say otherwise than orders do, by what they should say. job_ids: None for all."""
    every = StoredNeed.objects.all() if job_ids is None else StoredNeed.objects.filter(job__in=job_ids)
    rows = list(every.select_related("job").only("job__closed_on", "material", "statement", "to_order"))
    ordered = ordered_so_far({(row.job_id, row.material): row.statement for row in rows if not row.job.closed_on})
    needs: dict[bool, list[StoredNeed]] = {True: [], False: []}
    for row in rows:
        so_far = ordered.get((row.job_id, row.material))
        to_order = row.job.closed_on is None and (so_far is None or not so_far.is_covered)
        if to_order is not row.to_order:
            needs[to_order].append(row)
    return needs
