"""What is due and what came. The lead checks in and sees no supplier and no money."""

from dataclasses import asdict

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.plain_text import money, plain
from jobs.core.ordering.receiving import ReceiptState
from jobs.deliveries.models import Delivery, ReceiptLine
from jobs.deliveries.services.due_deliveries import DueLine, due_orders
from jobs.deliveries.services.order_events import order_of
from jobs.deliveries.services.received_pieces import STATES
from jobs.deliveries.services.receiving import check_in, surplus_of
from jobs.deliveries.services.replacements import NeedCheck
from jobs.orders.api.orders import of_line
from jobs.orders.models import Order
from jobs.orders.services.pieces import PieceCame
from quoting.platform import clock
from quoting.platform.api.base import ApiView, Document, day, document_of, sees_costs, without
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import signature_of

CLAIM_PARTS = ("claim_by", "claimed_on", "claimed_by", "outcome", "outcome_on", "outcome_note", "credit")


class Due(ApiView):
    @describe(
        "list_due_deliveries", "What is on order and has not come yet, the first due first.", gives="DueDeliveries"
    )
    def get(self, request: Request) -> Response:
        orders = [
            {
                "number": order.order.number,
                "supplier": order.order.supplier.name,
                "placed_on": day(order.order.placed_on),
                "expected_on": day(order.expected_on),
                "deliveries": len(order.order.deliveries.all()),
                "lines": [due_line(line) for line in order.lines],
            }
            for order in due_orders()
        ]
        hidden = () if sees_costs(request) else ("supplier",)
        return Response({"orders": [without(order, *hidden) for order in orders]})


class OrderDeliveries(ApiView):
    @describe("list_deliveries", "What came of an order, delivery by delivery.", gives="Deliveries")
    def get(self, request: Request, number: str) -> Response:
        rows = placed(number).deliveries.prefetch_related("lines__line__job", "lines__photos")
        return Response({"deliveries": [of_delivery(request, row) for row in rows]})

    @describe(
        "check_in_delivery",
        "Check in what came of an order. The same `request_key` keeps it once.",
        takes="NewDelivery",
        gives="Delivery",
        status=201,
        again=True,
    )
    def post(self, request: Request, number: str) -> Response:
        now = clock.now()
        row, is_new = check_in(placed(number), document_of(request), signature_of(request.user, now), now=now)
        return Response(of_delivery(request, row), status=201 if is_new else 200)


def placed(number: str) -> Order:
    order = order_of(number)
    if order.placed_on is None:
        raise Order.DoesNotExist
    return order


def due_line(due: DueLine) -> Document:
    return {
        **of_line(due.line),
        **of_state(due.state),
        "expected_on": day(due.expected_on),
        "pieces": [of_piece(came) for came in due.pieces],
        "pieces_mm": [length for run in due.runs for length in run.piece_lengths_mm],
        "places": [f"{run.wall}: {run.run}" for run in due.runs],
    }


def of_piece(came: PieceCame) -> Document:
    piece = came.piece
    return {
        "number": piece.number,
        "wall": piece.wall,
        "run": piece.run,
        "place": piece.place,
        "length_mm": piece.length_mm,
        "curves": [asdict(curve) for curve in piece.curves],
        "state": came.state,
    }


def of_state(state: ReceiptState) -> Document:
    names = ("open", "short", "excess", *STATES)
    return {**{name: plain(getattr(state, name)) for name in names}, "standing": state.standing}


def of_delivery(request: Request, row: Delivery) -> Document:
    return {
        "id": row.pk,
        "order": row.order.number,
        "received_on": row.received_on.isoformat(),
        "note": row.note,
        "entered_by": row.entered_by_name,
        "lines": [of_receipt(request, line) for line in row.lines.select_related("line__job", "delivery__order")],
    }


def of_receipt(request: Request, row: ReceiptLine) -> Document:
    document = {
        "id": row.pk,
        "order": row.delivery.order.number,
        **of_line(row.line),
        **{name: plain(getattr(row, name)) for name in STATES},
        "surplus": plain(surplus_of(row.line)),
        "pieces": [{"number": piece.number, "state": piece.state} for piece in row.pieces.all()],
        "note": row.note,
        "quoted_workdays": row.quoted_workdays,
        "promised_on": day(row.promised_on),
        "actual_workdays": row.actual_workdays,
        "claim_by": day(row.claim_by),
        "claimed_on": day(row.claimed_on),
        "claimed_by": row.claimed_by_name,
        "outcome": row.outcome,
        "outcome_on": day(row.outcome_on),
        "outcome_note": row.outcome_note,
        "credit": None if row.credit is None else money(row.credit),
        "photo_count": len(row.photos.all()),
    }
    return document if sees_costs(request) else without(document, *CLAIM_PARTS)


def of_check(check: NeedCheck) -> Document:
    result = check.result
    return {
        "ordered_on": day(result.ordered_on) if result else None,
        "usable": day(result.arrives.usable) if result else None,
        "need_by": day(result.need_by) if result else None,
        "order_by": day(check.order_by),
        "late_workdays": result.late_workdays if result else None,
        "gaps": list(check.gaps),
    }
