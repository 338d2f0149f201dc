"""What is to be ordered from whom. The desk's."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from catalog.models import Supplier
from catalog.services.book import book_of
from jobs.buying.api.shapes import Proposal, ProposalRead
from jobs.buying.services.proposals import buying_window, proposal_for
from jobs.jobs.api.work import WORK, work_asked
from quoting.platform import clock
from quoting.platform.api.base import WorkingView, query_of
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import moment_at_the_firm


class Proposals(WorkingView):
    @describe(
        "propose_orders",
        "What to order from one supplier, over all jobs, on the fewest orders. None after an order-by day or further "
        "ahead than the buying window. Signed work goes on no order with other work.",
        gives="Proposal",
        query=(WORK,),
        works=True,
    )
    def get(self, request: Request, code: str) -> Response:
        query = query_of(request)
        work = work_asked(query)
        query.finish()
        proposal = proposal_for(Supplier.objects.get(code=code), moment_at_the_firm(clock.now()), work)
        return Response(write(ProposalRead(proposal, buying_window(book_of()).workdays), Proposal))
