"""What is due and what came. The lead checks in and sees no supplier and no money."""

from rest_framework.request import Request
from rest_framework.response import Response

from jobs.deliveries.api.shapes import deliveries as shapes
from jobs.deliveries.services.due_deliveries import due_orders
from jobs.deliveries.services.order_events import order_of
from jobs.deliveries.services.receiving import check_in
from jobs.orders.models import Order
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of
from quoting.platform.api.declared import shown
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import signature_of


class Due(ApiView):
    @describe(
        "list_due_deliveries", "What is on order and has not come yet, the first due first.", gives="DueDeliveries"
    )
    def get(self, request: Request) -> Response:
        return Response(shown(request, due_orders(), shapes.DueDeliveries))


class OrderDeliveries(ApiView):
    @describe("list_deliveries", "The deliveries of an order.", gives="Deliveries")
    def get(self, request: Request, number: str) -> Response:
        rows = placed(number).deliveries.prefetch_related("lines__line__job", "lines__photos")
        return Response(shown(request, rows, shapes.Deliveries))

    @describe(
        "check_in_delivery",
        "Check in a delivery. The same `request_key` stores it once.",
        takes="NewDelivery",
        gives="Delivery",
        status=201,
        again=True,
    )
    def post(self, request: Request, number: str) -> Response:
        now = clock.now()
        row, is_new = check_in(placed(number), document_of(request), signature_of(request.user, now), now=now)
        return Response(shown(request, row, shapes.Delivery), status=201 if is_new else 200)


def placed(number: str) -> Order:
    order = order_of(number)
    if order.placed_on is None:
        raise Order.DoesNotExist
    return order
