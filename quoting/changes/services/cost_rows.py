"""What a change costs, by item: cost lines as rows, and those of a job worked up."""

from collections import Counter
from dataclasses import asdict
from typing import Any

from catalog.core.ground.declared import write
from quoting.core.changes.change_document import ChangeSpec
from quoting.core.money.quoted import QuotedCost
from quoting.core.money.quoted_document import quoted_lines
from quoting.core.quotes.quote_document import quote_document
from quoting.core.quotes.work_up import WorkUp


def quoted_of(work_up: WorkUp) -> tuple[QuotedCost, ...]:
    """The cost lines of a job worked up, as an accepted quote's are kept."""
    if work_up.read.pricing is None or work_up.quote is None:
        return ()
    steps = {activity.name: activity.key for activity in work_up.plan.activities}
    costs, purchases = quote_document(work_up)["office"]["costs"], [write(row) for row in work_up.takeoff.purchases]
    orders = [
        (plan.run.material, plan.order) for wall in work_up.walls for plan in wall.trims if plan.order is not None
    ]
    pieces: Counter[str] = Counter()
    for material, order in orders:
        pieces[material] += len(order.piece_lengths_mm)
    return quoted_lines(costs, purchases, pieces, steps, work_up.read.pricing)


def cost_figures(change: ChangeSpec) -> list[dict[str, Any]]:
    return [{"order": place, **asdict(cost)} for place, cost in enumerate(change.costs)]
