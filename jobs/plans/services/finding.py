"""Looking for a better plan: the stored job worked up again, the planner at work, its answer checked and kept."""

import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date

from catalog.core.ground.refusal import Refused
from jobs.core.boards.board_optimiser import prove_job
from jobs.core.boards.chosen_board_plan import KeptBoards, keep_boards
from jobs.core.cutting.cutting import plan_cuts
from jobs.core.cutting.cutting_optimiser import plan_sticks
from jobs.core.cutting.integer_program import PlanProgress
from jobs.core.measure.findings import Finding
from jobs.core.ordering.job_work_up import JobWorkUp, work_up_job
from jobs.core.takeoff.cut_list import KeptSticks, keep_sticks
from jobs.jobs.models import Job
from jobs.plans.services.questions import (
    BOARDS_GAP,
    BOARDS_LIMIT_S,
    STICKS_LIMIT_S,
    BoardQuestion,
    StickQuestion,
    question_of,
)
from jobs.work_up.services.job_work_up import stored_work_up

Say = Callable[[str, int], None]


class Unsound(Exception):
    pass


@dataclass(frozen=True)
class PlanResult:
    plan: KeptBoards | KeptSticks
    mark: str
    seconds: float


def find_plan(job_id: int, what: str, mark: str, today: date, say: Say) -> PlanResult:
    """Raises Refused when the job is no longer what was asked about, Unsound for a plan that fails its check."""
    work_up = stored_work_up(Job.objects.select_related("client").get(pk=job_id), today)
    question = question_of(what, work_up)
    if question is None or question.mark != mark:
        raise Refused("The job, its walls or the catalog were changed after this was asked for. Ask again.")
    began = time.monotonic()
    plan = _boards(question, say) if isinstance(question, BoardQuestion) else _sticks(question, say)
    say("Checking the plan independently", 99)
    refuse_unsound(work_up, plan)
    return PlanResult(plan, mark, time.monotonic() - began)


def refuse_unsound(work_up: JobWorkUp, plan: KeptBoards | KeptSticks) -> None:
    """Build the job by the plan, as would be done once it is chosen: what is wrong with it is then said."""
    name = "boards" if isinstance(plan, KeptBoards) else "sticks"
    plans = replace(work_up.read.job.plans, **{name: plan})  # type: ignore[arg-type]
    read = replace(work_up.read, job=replace(work_up.read.job, plans=plans))
    # What was out of date before is no fault of this plan.
    findings = [
        finding for finding in work_up_job(read, work_up.today).takeoff.findings if plan_out_of_date(finding, name)
    ]
    if findings:
        raise Unsound(findings[0].sentence)


def plan_out_of_date(finding: Finding, what: str) -> bool:
    """Whether a finding says of the chosen plan of boards, or of sticks, that the quick one stands in for it."""
    if what == "boards":
        return finding.key == "plans/boards" or finding.key.endswith("/boards/kept-plan")
    return finding.key.startswith("plans/sticks/")


def _boards(question: BoardQuestion, say: Say) -> KeptBoards:
    proven = prove_job(
        question.faces,
        limit_s=BOARDS_LIMIT_S,
        gap=BOARDS_GAP,
        stopwatch=time.monotonic,
        tell=_teller(say, BOARDS_LIMIT_S),
    )
    return keep_boards(proven, question.marks)


def _sticks(question: StickQuestion, say: Say) -> KeptSticks:
    plans = []
    for number, wanted in enumerate(question.lists):
        say(f"Sticks of {wanted.material}", round(100 * number / len(question.lists)))
        figures = {"kerf_mm": wanted.kerf_mm, "usable_offcut_mm": wanted.usable_offcut_mm}
        quick = plan_cuts(wanted.pieces, wanted.stocks, **figures)
        plan = plan_sticks(wanted.pieces, wanted.stocks, **figures, limit_s=STICKS_LIMIT_S, stopwatch=time.monotonic)
        plans.append(keep_sticks(wanted, plan, quick))
    return KeptSticks(tuple(plans))


def _teller(say: Say, limit_s: int) -> Callable[[PlanProgress], None]:
    began = last = time.monotonic()
    doing = ""

    def tell(progress: PlanProgress) -> None:
        nonlocal last, doing
        now = time.monotonic()
        # The row is written twice a second at most: nobody reads faster.
        if progress.doing != doing or now - last >= 0.5:
            last, doing = now, progress.doing
            say(progress_words(progress, now - began), min(99, round(100 * (now - began) / limit_s)))

    return tell


def progress_words(progress: PlanProgress, seconds: float) -> str:
    parts = [f"{progress.doing.capitalize()}, {seconds:.0f} s"]
    if progress.weight is not None:
        parts.append(f"best so far {progress.weight:,.2f}")
    if progress.bound:
        parts.append(f"none below {progress.bound:,.2f}")
        if progress.weight is not None:
            parts.append(f"{100 * (progress.weight / progress.bound - 1):.1f} % apart")
    return "; ".join(parts)
