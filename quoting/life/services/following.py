"""What the rows of jobs' lives follow: loaded as the service starts."""

from collections.abc import Collection
from datetime import datetime

from django.db.models import Q

from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.jobs.models import Job
from jobs.jobs.services.changes import after_fact
from jobs.needs.services.schedule_refresh import ask_to_date
from jobs.needs.services.stored_needs import after_counting, after_refresh, before_storing
from jobs.orders.services.order_changes import after_ordering
from quoting.life.models import KeptLife
from quoting.life.services.keeping import held_lives, keep_lives
from quoting.life.services.worked import worked_facts
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people.services.people import after_rename
from quoting.quotes.services.signed import after_signing

JOBS_AT_ONCE = 25


def job_refreshed(job: Job, work_up: JobWorkUp | None) -> None:
    """Of a closed job what was found last stays."""
    today = day_at_the_firm(clock.now())
    keep_lives([job.pk], None if job.closed_on else {job.pk: worked_facts(job, work_up, today)})


def facts_changed(job_ids: Collection[int]) -> None:
    keep_lives(job_ids)


def dates_counted(job_ids: Collection[int]) -> None:
    keep_lives(job_ids, dates_alone=True)


def job_signed(job_id: int) -> None:
    keep_lives([job_id])


def person_renamed(before: str, after: str) -> None:
    rows = KeptLife.objects.filter(Q(facts__estimator=before) | Q(facts__lead=before))
    keep_in_lots(list(rows.values_list("pk", flat=True)))


def catch_up_lives(now: datetime) -> None:
    """Each minute: rows that are missing, and those a new day turned. Done twice it does no more than once."""
    missing = Job.objects.filter(life=None).order_by("pk").values_list("pk", "closed_on")
    ask_to_date([pk for pk, closed_on in missing if closed_on is None], now)
    turned = Job.objects.filter(life__turns_on__lte=day_at_the_firm(now), closed_on=None).order_by("pk")
    keep_in_lots([*(pk for pk, _ in missing), *turned.values_list("pk", flat=True)])


def keep_in_lots(job_ids: list[int]) -> None:
    for first in range(0, len(job_ids), JOBS_AT_ONCE):
        keep_lives(job_ids[first : first + JOBS_AT_ONCE])


before_storing.append(held_lives)
after_refresh.append(job_refreshed)
after_counting.append(dates_counted)
after_ordering.append(facts_changed)
after_fact.append(facts_changed)
after_signing.append(job_signed)
after_rename.append(person_renamed)
