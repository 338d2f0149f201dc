from typing import Annotated, Any

from catalog.core.ground.declared import As, Choice, Of, View
from jobs.plans.services.standing import PlanFigures
from quoting.platform.api.declared import answer_shapes
from quoting.platform.errands.models import ErrandState


class PlanFiguresShown(PlanFigures):
    """A plan in money: its cost, the quick plan's, and what no plan can cost less than; gap: a share of that."""

    document_name = "plan_figures"

    words: Annotated[str, As(name="in_words")]


class PlanErrand(View):
    """The search under way, or the last."""

    state: Annotated[str, Choice(tuple(ErrandState.values))]
    progress_text: str
    progress_percent: int
    error: str


class PlanStanding(View):
    """How the plan of boards, or of sticks, stands."""

    in_use: Annotated[bool, "A person chose one, and it fits the job as it is."]
    chosen_by: str
    chosen: PlanFiguresShown | None
    figures: Annotated[PlanFiguresShown | None, As(name="found")]
    is_fresh: Annotated[bool, "It was found for the job as it is.", As(name="found_is_fresh")]
    errand: PlanErrand | None


class CuttingPlans(View):
    """How the plans of a job stand."""

    boards: Annotated[PlanStanding, Of(lambda plans: plans["boards"])]
    sticks: Annotated[PlanStanding, Of(lambda plans: plans["sticks"])]


SHAPES: dict[str, Any] = answer_shapes(CuttingPlans)
