"""What is to be ordered from whom. The desk's."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.plain_text import money
from catalog.models import Supplier
from catalog.services.book import book_of
from jobs.buying.services.proposals import buying_window, proposal_for
from jobs.core.ordering.order_sums import Bundle
from jobs.jobs.api.work import WORK, work_asked
from jobs.orders.api.orders import of_item
from quoting.platform import clock
from quoting.platform.api.base import Document, WorkingView, query_of
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import moment_at_the_firm


class Proposals(WorkingView):
    @describe(
        "propose_orders",
        "What is to be ordered from one supplier, over all jobs, on the fewest orders; none after an order-by day or "
        "further ahead than the buying window. Signed work goes on no order with other work.",
        gives="Proposal",
        query=(WORK,),
        works=True,
    )
    def get(self, request: Request, code: str) -> Response:
        query = query_of(request)
        work = work_asked(query)
        query.finish()
        proposal = proposal_for(Supplier.objects.get(code=code), moment_at_the_firm(clock.now()), work)
        return Response(
            {
                "supplier": proposal.supplier.code,
                "buying_window_workdays": buying_window(book_of()).workdays,
                "orders": [
                    {
                        "order_by": order.bundle.day.isoformat(),
                        "items": [of_item(item, proposal.parts.get(item.item.key)) for item in order.items],
                        "signed": order.signed,
                        **of_sums(order.bundle),
                        "ready": None if order.ready is None else of_sums(order.ready),
                    }
                    for order in proposal.orders
                ],
                "undated": [of_item(item, proposal.parts.get(item.item.key)) for item in proposal.undated],
                "notes": [*proposal.notes, *proposal.troubles],
                "jobs_left_out": proposal.jobs_left_out,
            }
        )


def of_sums(bundle: Bundle) -> Document:
    return {
        "goods": money(bundle.goods),
        "unpriced": list(bundle.unpriced),
        "freight": money(bundle.freight),
        "top_up": money(bundle.top_up),
        "early_goods": money(bundle.early_goods),
        "early_workdays": bundle.early_workdays,
        "saved_freight": money(bundle.saved_freight),
        "saved_top_up": money(bundle.saved_top_up),
    }
