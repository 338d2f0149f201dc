from typing import Any

from quoting.platform.api.parts import MONEY, TEXT, one_of, or_none, ref, thing
from quoting.platform.errands.models import ErrandState

Schema = dict[str, Any]
GAP: Schema = {"type": ["number", "null"], "minimum": 0, "description": "Cost above the bound as a share of it."}
FIGURES = thing(
    "A plan in money: its cost, the quick plan's, and what no plan can cost less than.",
    cost=or_none(MONEY),
    quick_cost=or_none(MONEY),
    bound_cost=or_none(MONEY),
    gap=GAP,
    in_words=TEXT,
)
ERRAND = thing(
    "The search under way, or the last.",
    state=one_of(*ErrandState.values),
    progress_text=TEXT,
    progress_percent={"type": "integer", "minimum": 0, "maximum": 100},
    error=TEXT,
)
STANDING = thing(
    "How the plan of boards, or of sticks, stands.",
    in_use={"type": "boolean", "description": "A person chose one, and it fits the job as it is."},
    chosen_by=TEXT,
    chosen=or_none(ref("PlanFigures")),
    found=or_none(ref("PlanFigures")),
    found_is_fresh={"type": "boolean", "description": "It was found for the job as it is."},
    errand=or_none(ref("PlanErrand")),
)
SHAPES: Schema = {
    "PlanFigures": FIGURES,
    "PlanErrand": ERRAND,
    "PlanStanding": STANDING,
    "CuttingPlans": thing("", boards=ref("PlanStanding"), sticks=ref("PlanStanding")),
}
