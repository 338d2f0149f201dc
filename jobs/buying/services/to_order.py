"""What is to be ordered, over all open jobs, from stored needs."""

from jobs.needs.models import StoredNeed
from jobs.orders.services.ordered_so_far import OrderedSoFar, ordered_so_far


def not_ordered(**narrowed: object) -> list[StoredNeed]:
    rows = list(StoredNeed.objects.filter(job__closed_on=None, **narrowed).exclude(supplier="").exclude(quantity=0))
    ordered = ordered_so_far({(row.job_id, row.material): row.statement for row in rows}, with_drafts=True)
    return [row for row in rows if not _is_covered(ordered.get((row.job_id, row.material)))]


def _is_covered(so_far: OrderedSoFar | None) -> bool:
    return so_far is not None and so_far.is_covered
