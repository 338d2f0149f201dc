"""The jobs of fixtures/, stored as the service would hold them."""

from datetime import UTC, datetime

from catalog.services.catalog_file import store_book
from jobs.models import Job
from jobs.services.jobs import store_job
from tests.documents import JOBS, job_file

STORED_AT = datetime(2026, 10, 5, 9, 0, tzinfo=UTC)


def stored_job(name: str) -> Job:
    """One of the whole jobs of fixtures/, its catalog with it."""
    read = job_file(name)
    store_book(read.book)
    return store_job(read.job, now=STORED_AT)


def stored_jobs() -> list[Job]:
    return [stored_job(name) for name in JOBS]
