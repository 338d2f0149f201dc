"""A better plan asked for: one errand for a question, whoever asks it and how often."""

from datetime import datetime

from catalog.core.ground.refusal import Refused
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.jobs.models import Job
from jobs.plans.models import PlanOf
from jobs.plans.services.questions import question_of
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import queue_errand, retry_errand

PLAN_BOARDS = "plan_boards"
PLAN_STICKS = "plan_sticks"
KINDS = {PlanOf.BOARDS.value: PLAN_BOARDS, PlanOf.STICKS.value: PLAN_STICKS}


def ask_for_plan(job: Job, what: str, work_up: JobWorkUp, now: datetime) -> Errand:
    """Raises Refused. One that failed before is given its tries again."""
    question = question_of(what, work_up)
    if question is None:
        raise Refused(f"There are no {what} to plan yet: enter a wall, and what it is built of.")
    payload = {"job": job.pk, "mark": question.mark, "today": work_up.today.isoformat()}
    errand = queue_errand(KINDS[what], f"{job.pk} {work_up.today.isoformat()} {question.mark}", payload, now)
    if retry_errand(errand.pk, now):
        errand.refresh_from_db()
    return errand


def last_asked(job: Job, what: str) -> Errand | None:
    return Errand.objects.filter(kind=KINDS[what], payload__job=job.pk).order_by("-pk").first()
