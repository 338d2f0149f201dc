"""What a step still costs if the rest of it goes as it went."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from quoting.core.money.completion import at_this_pace
from quoting.core.money.job_costs import JobCosts
from quoting.core.money.quoted import NOTHING


def step_at_this_pace(costs: JobCosts, step: str) -> Decimal | None:
    """Cost to complete a step by its pace, beside what the lead says is left.

    costs: of the job. step: its key. Returns whole cents, 0 or more; None where the job is over, or nobody said how
    much of the step is finished, or it is under a quarter.
    Source: own rule: spent x (1 - p) / p on the day the share p was said, less what was spent since.
    """
    left = next((entry for entry in costs.facts.hours_left if entry.step == step), None)
    if left is None or left.share is None or costs.facts.is_closed:
        return None
    own = [part for part in costs.parts if part.key == ("labour", step) and part.stage == "worked" and not part.cause]
    since = sum((part.amount for part in own if part.day and part.day > left.day), NOTHING)
    spent = sum((part.amount for part in own), NOTHING) - since
    if spent <= 0:
        return None
    return max(at_this_pace(Fraction(spent), left.share) - since, NOTHING)
