"""Promises, ends and returns of placed orders: the desk's."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from jobs.deliveries.api.receiving import placed
from jobs.deliveries.api.shapes import order_events as shapes
from jobs.deliveries.models import ReturnedGoods
from jobs.deliveries.services.ending_orders import call_off, end_line
from jobs.deliveries.services.order_events import line_at
from jobs.deliveries.services.promises import add_promise
from jobs.deliveries.services.returns import credit_return, returns_of, send_back
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import signature_of


class Promises(ApiView):
    @describe("list_promises", "Every day the supplier gave for a line; the last stands.", gives="Promises")
    def get(self, request: Request, number: str, place: int) -> Response:
        return Response(write(line_at(placed(number), place).promises.all(), shapes.Promises))

    @describe(
        "add_promise",
        "A day the supplier gave for a line. One that moves says why; the same day again changes nothing.",
        takes="NewPromise",
        gives="Promises",
    )
    def post(self, request: Request, number: str, place: int) -> Response:
        order, now = placed(number), clock.now()
        add_promise(line_at(order, place), document_of(request), signature_of(request.user, now), now=now)
        return Response(write(line_at(order, place).promises.all(), shapes.Promises))


class EndLine(ApiView):
    @describe("end_order_line", "No more of a line is expected. Safe to repeat.", takes="NewEnd", gives="OrderEvents")
    def post(self, request: Request, number: str, place: int) -> Response:
        order = placed(number)
        end_line(line_at(order, place), document_of(request), signature_of(request.user, clock.now()))
        return Response(write(order, shapes.OrderEvents))


class CallOff(ApiView):
    @describe(
        "call_order_off",
        "Nothing more of a placed order comes, by the supplier's word or ours. What came stays.",
        takes="NewCallOff",
        gives="OrderEvents",
    )
    def post(self, request: Request, number: str) -> Response:
        order, now = placed(number), clock.now()
        call_off(order, document_of(request), signature_of(request.user, now), now=now)
        return Response(write(placed(number), shapes.OrderEvents))


class Returns(ApiView):
    @describe("list_returns", "What of an order went back.", gives="ReturnedList")
    def get(self, request: Request, number: str) -> Response:
        return Response(write(returns_of(placed(number).pk), shapes.ReturnedList))


class LineReturns(ApiView):
    @describe(
        "send_back",
        "Goods that went back. The same `request_key` enters it once.",
        takes="NewReturn",
        gives="Returned",
        status=201,
        again=True,
    )
    def post(self, request: Request, number: str, place: int) -> Response:
        now, line = clock.now(), line_at(placed(number), place)
        row, is_new = send_back(line, document_of(request), signature_of(request.user, now), now=now)
        return Response(write(row, shapes.Returned), status=201 if is_new else 200)


class CreditReturn(ApiView):
    @describe("credit_return", "What the supplier credited.", takes="NewCredit", gives="Returned")
    def post(self, request: Request, number: str, return_id: int) -> Response:
        row = ReturnedGoods.objects.select_related("line__order").get(pk=return_id, line__order=placed(number))
        row = credit_return(row, document_of(request), signature_of(request.user, clock.now()))
        return Response(write(row, shapes.Returned))
