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
from quoting.platform.api.base import Document, WorkingView, asked
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
        query = asked(request)
        work = work_asked(query)
        query.finish()
        found = proposal_for(Supplier.objects.get(code=code), moment_at_the_firm(clock.now()), work)
        return Response(
            {
                "supplier": found.supplier.code,
                "buying_window_workdays": buying_window(book_of()).workdays,
                "orders": [
                    {
                        "order_by": one.bundle.day.isoformat(),
                        "items": [of_item(item, found.parts.get(item.item.key)) for item in one.items],
                        "signed": one.signed,
                        **of_sums(one.bundle),
                        "ready": None if one.ready is None else of_sums(one.ready),
                    }
                    for one in found.orders
                ],
                "undated": [of_item(item, found.parts.get(item.item.key)) for item in found.undated],
                "notes": [*found.notes, *found.troubles],
                "jobs_left_out": found.jobs_left_out,
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
