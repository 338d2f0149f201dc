"""What is to be ordered from whom. The desk's."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.plain_text import money
from catalog.models import Supplier
from jobs.buying.services.proposals import proposal_for
from jobs.orders.api.orders import of_item
from quoting.platform import clock
from quoting.platform.api.base import WorkingView
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import moment_at_the_firm


class Proposals(WorkingView):
    @describe(
        "propose_orders",
        "What is to be ordered from one supplier, over all jobs, on the fewest orders; none after an order-by day.",
        gives="Proposal",
        works=True,
    )
    def get(self, request: Request, code: str) -> Response:
        found = proposal_for(Supplier.objects.get(code=code), moment_at_the_firm(clock.now()))
        return Response(
            {
                "supplier": found.supplier.code,
                "orders": [
                    {
                        "order_by": one.bundle.day.isoformat(),
                        "items": [of_item(item, found.parts.get(item.item.key)) for item in one.items],
                        "goods": money(one.bundle.goods),
                        "freight": money(one.bundle.freight),
                        "top_up": money(one.bundle.top_up),
                    }
                    for one in found.orders
                ],
                "undated": [of_item(item, found.parts.get(item.item.key)) for item in found.undated],
                "notes": [*found.plan.notes, *found.troubles],
                "jobs_left_out": found.jobs_left_out,
            }
        )
