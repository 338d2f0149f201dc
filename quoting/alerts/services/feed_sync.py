"""Events of calendar feeds follow the stored needs of jobs, in the transactions that store those."""

from jobs.jobs.models import Job
from jobs.needs.services.stored_needs import after_redating, after_refresh
from quoting.alerts.services.feed_events import keep_items, keep_job, keep_signing
from quoting.core.quotes.work_up import WorkUp
from quoting.platform import clock
from quoting.quotes.services.signed import after_signing


def job_refreshed(job: Job, done: WorkUp | None) -> None:
    keep_job(job, done, clock.now())


def jobs_redated(job_ids: list[int]) -> None:
    keep_items(job_ids, clock.now())


def job_signed(job_id: int) -> None:
    keep_signing(job_id, clock.now())


after_refresh.append(job_refreshed)
after_signing.append(job_signed)
after_redating.append(jobs_redated)
