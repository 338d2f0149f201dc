"""What a work-up of a job says of its life: whether every wall draws, and how much stands before sending."""

from datetime import date

from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.jobs.models import Job, WorkedJob
from quoting.life.services.gathering import WorkedFacts
from quoting.pricing.models import Pricing
from quoting.quotes.models import QuoteRevision, RevisionState
from quoting.quotes.services.stored_prices import stored_price

# What is out is priced, and no question of the day.
OUT = (RevisionState.ISSUED, RevisionState.ACCEPTED)


def worked_facts(job: Job, work_up: JobWorkUp | None, today: date) -> WorkedFacts:
    """done: None where the walls cannot be worked out; the row of the job then names the first that does not draw."""
    unmeasured = () if work_up else tuple(_without_a_shape(job))
    measured = work_up is not None and bool(work_up.walls)
    if QuoteRevision.objects.filter(quote__job=job, state__in=OUT).exists():
        return WorkedFacts(unmeasured, measured, None, asked_for_price=False)
    points = _before_sending(job, today) if measured and Pricing.objects.filter(job=job).exists() else None
    return WorkedFacts(unmeasured, measured, points, asked_for_price=True)


def _without_a_shape(job: Job) -> list[str]:
    """The wall that what was found names; every wall where it names none."""
    trouble = WorkedJob.objects.values_list("trouble", flat=True).get(pk=job.pk)
    walls = list(job.walls.values_list("key", "name"))
    return [name for key, name in walls if trouble.startswith(f"{key}.")] or [name for _, name in walls]


def _before_sending(job: Job, today: date) -> int | None:
    """Of its price as it is stored, for which the walls are worked up already."""
    price = stored_price(Job.objects.select_related("client").get(pk=job.pk), today)
    if price is None:
        return None
    return len(price.blocking) or (0 if price.price is not None else 1)
