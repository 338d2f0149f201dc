"""How the plans of a job stand: what it is cut by now, what was found better, and what is being looked for."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import Amount, As, View
from jobs.core.boards.chosen_board_plan import KeptBoards
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.takeoff.cut_list import KeptStickPlan, KeptSticks, quick_and_kept
from jobs.jobs.models import Job
from jobs.plans.models import FoundPlan, PlanOf
from jobs.plans.models.plans import plan_of
from jobs.plans.services.asking import last_asked
from jobs.plans.services.finding import plan_out_of_date
from jobs.plans.services.questions import question_of
from quoting.platform.errands.models import Errand

LABELS = {PlanOf.BOARDS.value: "Boards", PlanOf.STICKS.value: "Sticks"}


@dataclass(frozen=True)
class PlanFigures(View):
    """One plan in figures. gap: cost above the proven least as a share, None when nothing is proven."""

    cost: Annotated[Decimal | None, Amount()]
    quick_cost: Annotated[Decimal | None, Amount()]
    bound_cost: Annotated[Decimal | None, Amount()]
    gap: float | None
    sticks: Annotated[tuple[KeptStickPlan, ...], As(aside=True)] = ()

    @property
    def words(self) -> str:
        if self.gap is None:
            return "nothing is proven of how cheap a plan can be"
        # A gap is never rounded down to look proven.
        return "proven: none can cost less" if self.gap == 0 else f"at most {self._per_cent} % above the proven least"

    @property
    def _per_cent(self) -> str:
        return f"{max(0.1, -(-1000 * (self.gap or 0) // 1) / 10):.1f}"

    @property
    def saved(self) -> Decimal | None:
        return None if self.cost is None or self.quick_cost is None else self.quick_cost - self.cost


@dataclass(frozen=True)
class PlanState:
    """found: the latest, is_fresh: of the job as it is now. in_use: chosen and fresh; chosen: by a person at all."""

    what: str
    label: str
    found: FoundPlan | None
    figures: PlanFigures | None
    is_fresh: bool
    chosen: PlanFigures | None
    chosen_by: str
    in_use: bool
    is_found_chosen: bool
    errand: Errand | None
    can_ask: bool


def standing_of(job: Job, what: str, work_up: JobWorkUp) -> PlanState:
    question = question_of(what, work_up)
    row = FoundPlan.objects.filter(job=job, what=what).order_by("-found_at").first()
    plans = work_up.read.job.plans
    chosen = plans.boards if what == PlanOf.BOARDS else plans.sticks
    stale = any(plan_out_of_date(finding, what) for finding in work_up.takeoff.findings)
    plan = None if row is None else plan_of(what, row.document)
    return PlanState(
        what,
        LABELS[what],
        row,
        figures_of(plan),
        question is not None and row is not None and row.mark == question.mark,
        figures_of(chosen),
        "" if chosen is None or chosen.on is None else f"{chosen.by}, {day_words(chosen.on)}",
        chosen is not None and not stale,
        chosen is not None and plan is not None and figures_of(chosen) == figures_of(plan),
        last_asked(job, what),
        question is not None,
    )


def figures_of(plan: KeptBoards | KeptSticks | None) -> PlanFigures | None:
    if plan is None:
        return None
    if isinstance(plan, KeptBoards):
        return PlanFigures(plan.cost, plan.quick_cost, plan.bound_cost, plan.gap)
    quick, cost = quick_and_kept(plan.plans)
    bounds = [plan.bound_cost for plan in plan.plans]
    bound = None if None in bounds else sum((bound for bound in bounds if bound is not None), Decimal(0))
    gap = None
    if cost is not None and bound is not None:
        gap = 0.0 if cost <= bound else float(cost / bound - 1) if bound else None
    return PlanFigures(cost, quick, bound, gap, plan.plans)
