"""What came of a line at once: claimed, settled, corrected, ordered again. The desk's."""

from dataclasses import asdict

from django.db import transaction
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.api.catalog import answered
from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import Reader
from catalog.services.book import firm_of
from jobs.deliveries.api.shapes import claims as shapes
from jobs.deliveries.models import ReceiptLine
from jobs.deliveries.services.claims import claim, correct_receipt, open_claims, receipts_with_parts, settle_claim
from jobs.deliveries.services.replacements import (
    NewReplacement,
    check_of_receipt,
    draft_replacement,
    left_to_replace,
    pieces_to_replace,
)
from quoting.platform import clock
from quoting.platform.api.base import ApiView, Document, document_of, held
from quoting.platform.api.declared import shown
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import day_at_the_firm, moment_at_the_firm, signature_of


class Claims(ApiView):
    @describe(
        "list_claims", "What is to be claimed or waits for an answer, by the days left.", gives="Claims", stands=True
    )
    def get(self, request: Request) -> Response:
        claims = open_claims(day_at_the_firm(clock.now()), firm_of().calendar)
        return Response(shown(request, claims, shapes.Claims))


class OneReceipt(ApiView):
    @describe("read_receipt", "One receipt of a line.", gives="Receipt", tagged=True)
    def get(self, request: Request, receipt_id: int) -> Response:
        return answered(of_receipt(request, receipt(receipt_id)))

    @describe(
        "correct_receipt",
        "Other figures than were checked in.",
        takes="Correction",
        gives="Receipt",
        tagged=True,
        guarded="the receipt",
    )
    @transaction.atomic
    def put(self, request: Request, receipt_id: int) -> Response:
        rows = ReceiptLine.objects.filter(pk=receipt_id)
        held(request, rows, lambda: of_receipt(request, receipt(receipt_id)))
        correct_receipt(receipt(receipt_id), document_of(request))
        return answered(of_receipt(request, receipt(receipt_id)))


class ClaimReceipt(ApiView):
    @describe("claim_receipt", "The claim is made. Safe to repeat.", takes="NewClaim", gives="Receipt")
    def post(self, request: Request, receipt_id: int) -> Response:
        claim(receipt(receipt_id), document_of(request), signature_of(request.user, clock.now()))
        return Response(of_receipt(request, receipt(receipt_id)))


class SettleReceipt(ApiView):
    @describe("settle_claim", "The answer to a claim.", takes="ClaimOutcome", gives="Receipt")
    def post(self, request: Request, receipt_id: int) -> Response:
        settle_claim(receipt(receipt_id), document_of(request), signature_of(request.user, clock.now()))
        return Response(of_receipt(request, receipt(receipt_id)))


class ReplaceReceipt(ApiView):
    @describe("check_replacement", "What ordering it again today would mean.", gives="Replacement", stands=True)
    def get(self, request: Request, receipt_id: int) -> Response:
        row, moment = receipt(receipt_id), moment_at_the_firm(clock.now())
        check = check_of_receipt(row, order_day=moment.date(), placed_at=moment.time())
        orders = [replacement.order.number for replacement in row.line.replaced_by.all()]
        pieces = [piece.number for piece in pieces_to_replace(row)]
        return Response(write(shapes.Replacement(left_to_replace(row), pieces, check, orders)))

    @describe(
        "draft_replacement",
        "Put a new order together for what came wrong or damaged. The same `request_key` makes one.",
        takes="NewReplacement",
        gives="OrderNamed",
        status=201,
        again=True,
    )
    def post(self, request: Request, receipt_id: int) -> Response:
        asked, row = read(NewReplacement, Reader(document_of(request))), receipt(receipt_id)
        order, is_new = draft_replacement(row, **asdict(asked), by=request.user.full_name, now=clock.now())
        return Response(write(order, shapes.OrderNamed), status=201 if is_new else 200)


def of_receipt(request: Request, row: ReceiptLine) -> Document:
    return shown(request, row, shapes.Receipt)


def receipt(receipt_id: int) -> ReceiptLine:
    row: ReceiptLine = receipts_with_parts().get(pk=receipt_id)
    return row
