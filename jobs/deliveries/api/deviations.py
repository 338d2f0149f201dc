"""What goes otherwise than ordered, for the desk: of all open jobs, of one order with what helps, and settled."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from jobs.deliveries.api.receiving import placed
from jobs.deliveries.api.shapes import order_events as shapes
from jobs.deliveries.services.deviation_remedies import remedies_of
from jobs.deliveries.services.deviations import Otherwise, otherwise, otherwise_of_order, settle
from jobs.deliveries.services.order_events import line_at
from quoting.platform import clock
from quoting.platform.api.base import ApiView, WorkingView, document_of
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import day_at_the_firm, moment_at_the_firm, signature_of


class Deviations(ApiView):
    @describe("list_deviations", "What goes otherwise than ordered, of all open jobs.", gives="Deviations")
    def get(self, request: Request) -> Response:
        return Response(write(otherwise(day_at_the_firm(clock.now())), shapes.Deviations))


class OrderDeviations(WorkingView):
    @describe(
        "read_order_deviations",
        "What of an order goes otherwise than ordered, and what helps with what is late.",
        gives="OrderDeviations",
        works=True,
    )
    def get(self, request: Request, number: str) -> Response:
        moment = moment_at_the_firm(clock.now())
        rows = otherwise_of_order(placed(number).pk, moment.date())
        return Response(write(shapes.OrderDeviations(rows, remedies_of(rows, moment))))


class SettleDeviation(ApiView):
    @describe(
        "settle_deviation",
        "Accept under your name what goes otherwise than ordered, or enter that the supplier was asked again.",
        takes="NewSettlement",
        gives="Deviations",
    )
    def post(self, request: Request, number: str, place: int) -> Response:
        now, order = clock.now(), placed(number)
        settle(line_at(order, place), document_of(request), signature_of(request.user, now), now=now)
        rows = otherwise_of_order(order.pk, day_at_the_firm(now))
        return Response(write(Otherwise(tuple(rows)), shapes.Deviations))
