"""Plans found for a job, the one a person chose, and the sticks set aside for it."""

from datetime import date, datetime
from typing import Any

from django.db import transaction

from catalog.core.ground.declared import write
from catalog.services.row_sync import sync_rows
from jobs.core.boards.chosen_board_plan import KeptBoards
from jobs.core.takeoff.cut_list import KeptSticks
from jobs.core.takeoff.job_plans import JobPlans
from jobs.jobs.models import Job
from jobs.jobs.services.versions import next_version
from jobs.plans.models import ChosenPlan, FoundPlan, PlanOf
from quoting.platform.models.brought_in import brought_figures
from quoting.platform.models.core_values import column_values
from quoting.platform.people.signatures import Signature

Document = dict[str, Any]


def fill_plans(job: Job, plans: JobPlans, signature: Signature | None = None) -> None:
    """signature: of whoever brings plans that do not stand already; None keeps the names they come with."""
    rows = {row.what: row for row in ChosenPlan.objects.filter(job=job)}
    figures = []
    chosen: tuple[tuple[PlanOf, KeptBoards | KeptSticks | None], ...]
    chosen = ((PlanOf.BOARDS, plans.boards), (PlanOf.STICKS, plans.sticks))
    for what, plan in chosen:
        if plan is not None:
            by, on, brought = _chosen_by(plan, rows.get(what.value), signature)
            if by and on:
                figures.append({"what": what.value, "document": document_of(plan), "by": by, "on": on, **brought})
    sync_rows(job.plans.all(), figures, key=("what",), owner={"job": job})
    on_hand = (column_values(stock, job.on_hand.model) for stock in plans.on_hand)
    sync_rows(job.on_hand.all(), on_hand, owner={"job": job})


def _chosen_by(
    plan: KeptBoards | KeptSticks, row: ChosenPlan | None, signature: Signature | None
) -> tuple[str, date | None, dict[str, Any]]:
    if row is not None and plan == row.to_core():
        return plan.by, plan.on, {"brought_by": row.brought_by, "brought_on": row.brought_on}
    if signature is None or (signature.brings_file and plan.by and plan.on):
        return plan.by, plan.on, brought_figures(signature)
    return signature.by, signature.on, brought_figures(None)


def document_of(plan: KeptBoards | KeptSticks) -> Document:
    """Without who chose it and when, which have columns of their own."""
    document = write(plan)
    return {name: value for name, value in document.items() if name not in ("by", "on")}


def keep_found(job_id: int, plan: KeptBoards | KeptSticks, *, mark: str, seconds: float, now: datetime) -> FoundPlan:
    """What was found before for another state of the job gives way."""
    what = PlanOf.BOARDS if isinstance(plan, KeptBoards) else PlanOf.STICKS
    FoundPlan.objects.filter(job_id=job_id, what=what).exclude(mark=mark).delete()
    row, _ = FoundPlan.objects.update_or_create(
        job_id=job_id,
        what=what,
        mark=mark,
        defaults={"document": document_of(plan), "seconds": min(86_400, round(seconds)), "found_at": now},
    )
    return row


@transaction.atomic
def choose_plan(plan: FoundPlan, *, by: str, on: date, seen_version: int | None = None) -> ChosenPlan:
    """Cut and buy the job by it from now on; an earlier choice gives way and stays in the history."""
    next_version(plan.job, seen_version)
    row = ChosenPlan.objects.filter(job=plan.job, what=plan.what).first()
    row = row or ChosenPlan(job=plan.job, what=plan.what)
    row.document, row.by, row.on = plan.document, by, on
    row.save()
    plan.job.forget_parts()
    return row


@transaction.atomic
def drop_plan(job: Job, what: str, *, seen_version: int | None = None) -> bool:
    """The quick plan serves again. False when none was chosen."""
    row = ChosenPlan.objects.filter(job=job, what=what).first()
    if row is None:
        return False
    next_version(job, seen_version)
    row.delete()
    job.forget_parts()
    return True
