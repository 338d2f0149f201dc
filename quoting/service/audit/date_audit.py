"""Invariants of stored needs; loaded with the other audit checks."""

from collections.abc import Iterable
from datetime import datetime, timedelta

from django.db.models import Exists, OuterRef, Q

from catalog.core.ground.day_words import day_words
from jobs.jobs.models import Job, WorkedJob
from jobs.needs.models import StoredNeed
from jobs.needs.services.schedule_refresh import DATE_JOB, stale_heads
from jobs.needs.services.stored_jobs import is_as_stored
from quoting.platform.errands.models import Errand, ErrandState
from quoting.platform.firm_day import day_at_the_firm
from quoting.service.audit.services.audit import audit_check

ONE_DAY = timedelta(days=1)


@audit_check("order dates")
def long_lead_items_have_a_date_or_a_gap(now: datetime) -> Iterable[str]:
    rows = StoredNeed.objects.filter(job__closed_on=None, order_by=None).exclude(supply="stocked")
    for row in rows.select_related("job").order_by("job_id", "pk"):
        if not any(finding["weight"] == "gap" for finding in row.findings):
            yield f"{row.job}: {row.name} ({row.material}) has no order-by date, and no gap says why."
    for head in WorkedJob.objects.filter(job__closed_on=None).exclude(trouble="").select_related("job"):
        yield f"{head.job} cannot be worked out. {head.trouble}"


@audit_check("stored results")
def stored_results_are_those_of_a_work_up(now: datetime) -> Iterable[str]:
    """Of open jobs what claims to stand is asked; what is older than its job says so itself."""
    today = day_at_the_firm(now)
    for job in Job.objects.filter(closed_on=None).select_related("client").order_by("pk"):
        if not is_as_stored(job, today):
            yield f"{job}: what pages read of it is not what a work-up finds; close it and open it again."


@audit_check("stored needs")
def rows_are_no_older_than_a_day(now: datetime) -> Iterable[str]:
    """A minute after a job changed its rows may well be older than it; a day after somebody is not doing their part."""
    today = day_at_the_firm(now)
    never = Job.objects.filter(Q(worked=None) | Q(worked__dated_on=None), closed_on=None, created_at__lt=now - ONE_DAY)
    for job in never:
        yield f"{job} was never worked up, so nothing of it stands in the lists of dates."
    for head in stale_heads(today).filter(dated_on__lt=today - ONE_DAY).select_related("job"):
        yield f"The dates of {head.job} are those of {day_words(head.dated_on)}."
    for errand in Errand.objects.filter(kind=DATE_JOB, state=ErrandState.FAILED):
        yield f"Errand {errand.pk} ({errand.kind} {errand.key}) failed, so that job's dates stay as they were."
    heads = WorkedJob.objects.filter(pk=OuterRef("job_id"), worked_changes__isnull=False)
    for row in StoredNeed.objects.filter(~Exists(heads)):
        yield f"{row} is kept, but nothing says what it was worked out of."
