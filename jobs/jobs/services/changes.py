"""Every change of a job, or of anything in it, is counted and told in the transaction that makes it."""

from collections.abc import Callable, Collection

from django.db.models import F

from jobs.jobs.models import WorkedJob

after_change: list[Callable[[int], None]] = []
"""Called with the id of the job, before its parts are written; whoever listens must not read them yet."""


def job_changed(job_id: int) -> None:
    rows = WorkedJob.objects.filter(pk=job_id)
    if not rows.update(changes=F("changes") + 1):
        WorkedJob.objects.get_or_create(pk=job_id)
    for message in after_change:
        message(job_id)


after_fact: list[Callable[[Collection[int]], None]] = []
"""Called with ids of jobs of which something others follow was written, in that transaction."""


def fact_changed(*job_ids: int) -> None:
    """To be called after the rows are written: whoever listens reads them."""
    for message in after_fact:
        message(sorted(set(job_ids)))
