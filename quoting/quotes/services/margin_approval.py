"""Approving a price below the least margin: what was shown is what is approved, or nothing is."""

from datetime import date, datetime

from django.db import transaction

from catalog.core.ground.refusal import Refused
from jobs.core.measure.survey import SurveyError
from jobs.jobs.models import Job
from quoting.job_files.services.job_files import figures_mark, job_file_of, work_up_job
from quoting.platform.people.models import Person
from quoting.pricing.models import MarginApproval
from quoting.pricing.services.least_margin import record_approval

CHANGED = "The figures have changed since they were shown. Nothing was approved: look at them as they are now."


def approve_margin(job: Job, *, seen_mark: str, reason: str, by: Person, now: datetime, today: date) -> MarginApproval:
    """Let the job be quoted at the figures shown. seen_mark: `figures_mark` of them. Raises Refused."""
    fresh = Job.objects.select_related("client").get(pk=job.pk)
    # Worked up before the transaction begins: seconds of computing must not keep others from writing.
    try:
        work_up = work_up_job(fresh, today)
    except SurveyError as error:
        raise Refused(f"The walls cannot be worked out. {error.field}: {error.reason}") from error
    mark = figures_mark(work_up.read, today)
    if seen_mark != mark:
        raise Refused(CHANGED)
    with transaction.atomic():
        Job.objects.select_for_update().get(pk=job.pk)
        still = Job.objects.select_related("client").get(pk=job.pk)
        if figures_mark(job_file_of(still, today), today) != mark:
            raise Refused(CHANGED)
        return record_approval(job, work_up.quote, mark=mark, reason=reason, by=by, now=now)
