"""What a change costs, by item: cost lines as rows, and those of a job worked up."""

from collections import Counter
from dataclasses import asdict
from typing import Any

from jobs.core.results.result_documents import purchases_document
from quoting.core.changes.change_document import ChangeSpec
from quoting.core.money.quoted import QuotedCost
from quoting.core.money.quoted_document import quoted_lines
from quoting.core.quotes.quote_document import quote_document
from quoting.core.quotes.work_up import WorkUp


def quoted_of(done: WorkUp) -> tuple[QuotedCost, ...]:
    """The cost lines of a job worked up, as an accepted quote's are kept."""
    if done.read.pricing is None or done.quote is None:
        return ()
    steps = {one.name: one.key for one in done.plan.activities}
    costs, purchases = quote_document(done)["office"]["costs"], purchases_document(done.takeoff)["purchases"]
    orders = [(plan.run.material, plan.order) for wall in done.walls for plan in wall.trims if plan.order is not None]
    pieces: Counter[str] = Counter()
    for material, order in orders:
        pieces[material] += len(order.piece_lengths_mm)
    return quoted_lines(costs, purchases, pieces, steps, done.read.pricing)


def cost_figures(change: ChangeSpec) -> list[dict[str, Any]]:
    return [{"order": place, **asdict(cost)} for place, cost in enumerate(change.costs)]
