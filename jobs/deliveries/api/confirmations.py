"""What suppliers confirmed of placed orders, beside what was ordered: the desk's."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from catalog.services.book import firm_of
from jobs.deliveries.api.receiving import placed
from jobs.deliveries.api.shapes import order_events as shapes
from jobs.deliveries.models import ConfirmedLine
from jobs.deliveries.services.comparing_orders import compared_lines, settle_differences
from jobs.deliveries.services.confirming_orders import enter_confirmation
from jobs.orders.models import Order
from quoting.platform import clock
from quoting.platform.api.base import ApiView, Document, document_of, unit_asked
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import signature_of


class Confirmations(ApiView):
    @describe(
        "read_confirmations",
        "What was confirmed of each line last, beside what was ordered.",
        gives="Confirmations",
        stands=True,
    )
    def get(self, request: Request, number: str) -> Response:
        return Response(of_confirmations(placed(number)))

    @describe(
        "enter_confirmation",
        "Enter what the supplier confirmed. The same `request_key` enters it once; a day it gives becomes a promise.",
        takes="NewConfirmation",
        gives="Confirmations",
        status=201,
        units=True,
        again=True,
    )
    def post(self, request: Request, number: str) -> Response:
        now, order = clock.now(), placed(number)
        signature = signature_of(request.user, now)
        _, is_new = enter_confirmation(order, document_of(request), signature, now=now, bare_unit=unit_asked(request))
        return Response(of_confirmations(order), status=201 if is_new else 200)


class SettleConfirmed(ApiView):
    @describe(
        "settle_confirmed_line",
        "Accept, under your name, that a line is confirmed otherwise than ordered.",
        takes="Reason",
        gives="Confirmations",
    )
    def post(self, request: Request, number: str, confirmed_id: int) -> Response:
        order, now = placed(number), clock.now()
        row = ConfirmedLine.objects.select_related("confirmation").get(pk=confirmed_id, confirmation__order=order)
        signature, system = signature_of(request.user, now), firm_of().display_units
        settle_differences(row, document_of(request), signature, now=now, system=system)
        return Response(of_confirmations(order))


def of_confirmations(order: Order) -> Document:
    lines = compared_lines(order, firm_of().display_units)
    return write(shapes.Confirmations(order.confirmations.count(), lines))
