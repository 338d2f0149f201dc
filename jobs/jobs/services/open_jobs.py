from datetime import date

from django.db import transaction
from django.db.models import prefetch_related_objects

from jobs.jobs.models import Job
from jobs.jobs.models.jobs import EVERY_PART
from jobs.jobs.services.changes import fact_changed
from jobs.jobs.services.versions import next_version


def with_parts(jobs: list[Job]) -> list[Job]:
    """The same jobs with everything `to_core` reads, in a number of queries that does not grow with them."""
    prefetch_related_objects(jobs, *EVERY_PART)
    return jobs


@transaction.atomic
def close_job(job: Job, on: date, *, seen_version: int | None = None) -> None:
    """Nothing of a closed job asks for a hand any more; it stays to be read and can be opened again."""
    next_version(job, seen_version)
    job.closed_on = on
    job.save(update_fields=["closed_on"])
    fact_changed(job.pk)


@transaction.atomic
def reopen_job(job: Job, *, seen_version: int | None = None) -> None:
    next_version(job, seen_version)
    job.closed_on = None
    job.save(update_fields=["closed_on"])
    fact_changed(job.pk)
