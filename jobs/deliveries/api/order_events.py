"""Promises, ends and returns of placed orders: the desk's."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.plain_text import money, plain
from jobs.deliveries.api.receiving import of_state, placed
from jobs.deliveries.models import ReturnedGoods
from jobs.deliveries.services.ending_orders import call_off, end_line
from jobs.deliveries.services.order_events import line_at
from jobs.deliveries.services.promises import add_promise
from jobs.deliveries.services.receiving import state_of
from jobs.deliveries.services.returns import credit_return, returns_of, send_back
from jobs.orders.api.orders import of_line
from jobs.orders.models import Order
from quoting.platform import clock
from quoting.platform.api.base import ApiView, Document, day, document_of
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import signature_of


class Promises(ApiView):
    @describe("list_promises", "Every day the supplier gave for a line; the last stands.", gives="Promises")
    def get(self, request: Request, number: str, place: int) -> Response:
        return Response(of_promises(placed(number), place))

    @describe(
        "add_promise",
        "A day the supplier gave for a line. One that moves says why; the day that stands, given again, is no new one.",
        takes="NewPromise",
        gives="Promises",
    )
    def post(self, request: Request, number: str, place: int) -> Response:
        order, now = placed(number), clock.now()
        add_promise(line_at(order, place), document_of(request), signature_of(request.user, now), now=now)
        return Response(of_promises(order, place))


class EndLine(ApiView):
    @describe(
        "end_order_line", "No more of a line is expected. Said twice it is one.", takes="NewEnd", gives="OrderEvents"
    )
    def post(self, request: Request, number: str, place: int) -> Response:
        order = placed(number)
        end_line(line_at(order, place), document_of(request), signature_of(request.user, clock.now()))
        return Response(of_order(order))


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
        return Response(of_order(placed(number)))


class Returns(ApiView):
    @describe("list_returns", "What of an order went back.", gives="ReturnedList")
    def get(self, request: Request, number: str) -> Response:
        return Response({"returns": [of_return(row) for row in returns_of(placed(number).pk)]})


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
        return Response(of_return(row), status=201 if is_new else 200)


class CreditReturn(ApiView):
    @describe("credit_return", "What the supplier credited.", takes="NewCredit", gives="Returned")
    def post(self, request: Request, number: str, return_id: int) -> Response:
        row = ReturnedGoods.objects.select_related("line__order").get(pk=return_id, line__order=placed(number))
        return Response(of_return(credit_return(row, document_of(request), signature_of(request.user, clock.now()))))


def of_promises(order: Order, place: int) -> Document:
    return {
        "promises": [
            {
                "promised_on": day(promise.promised_on),
                "reason": promise.reason,
                "told_by": promise.told_by,
                "told_on": day(promise.told_on),
                "entered_by": promise.entered_by_name,
                "entered_at": promise.entered_at.isoformat(),
            }
            for promise in line_at(order, place).promises.all()
        ]
    }


def of_order(order: Order) -> Document:
    lines = order.lines.select_related("job").prefetch_related("receipts")
    return {
        "number": order.number,
        "state": order.state,
        "lines": [
            {
                **of_line(line),
                **of_state(state_of(line)),
                "promised_on": day(line.promised_on),
                "ended_on": day(line.ended_on),
                "ended_reason": line.ended_reason,
            }
            for line in lines
        ],
    }


def of_return(row: ReturnedGoods) -> Document:
    return {
        "id": row.pk,
        "order": row.line.order.number,
        "place": row.line.place,
        "what": row.line.what,
        "quantity": plain(row.quantity),
        "unit": row.line.unit,
        "sent_on": day(row.sent_on),
        "reason": row.reason,
        "credit_expected": None if row.credit_expected is None else money(row.credit_expected),
        "credited": None if row.credited is None else money(row.credited),
        "credited_on": day(row.credited_on),
    }
