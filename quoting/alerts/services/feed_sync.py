"""Events of calendar feeds follow the stored needs, the orders and the lives of jobs, in their transactions."""

from collections.abc import Collection

from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.jobs.models import Job
from jobs.needs.services.stored_needs import after_redating, after_refresh
from jobs.orders.services.order_changes import after_ordering
from quoting.alerts.services.feed_events import keep_items, keep_job, keep_signing
from quoting.alerts.services.feed_steps import keep_steps
from quoting.life.services.keeping import after_keeping
from quoting.platform import clock
from quoting.quotes.services.signed import after_signing


def job_refreshed(job: Job, work_up: JobWorkUp | None) -> None:
    keep_job(job, work_up, clock.now())


def items_changed(job_ids: Collection[int]) -> None:
    keep_items(job_ids, clock.now())


def job_signed(job_id: int) -> None:
    keep_signing(job_id, clock.now())


def lives_kept(job_ids: Collection[int]) -> None:
    keep_steps(job_ids, clock.now())


after_keeping.append(lives_kept)
after_refresh.append(job_refreshed)
after_signing.append(job_signed)
after_redating.append(items_changed)
after_ordering.append(items_changed)
