"""What came of a line at once: claimed, settled, corrected, ordered again. The desk's."""

from decimal import Decimal
from typing import Any

from django.db import transaction
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.api.catalog import answered
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.plain_text import plain
from catalog.services.book import firm_of
from jobs.deliveries.api.receiving import of_check, of_receipt
from jobs.deliveries.models import ReceiptLine
from jobs.deliveries.services.claims import claim, correct_receipt, open_claims, receipts_with_parts, settle_claim
from jobs.deliveries.services.received_pieces import STATES
from jobs.deliveries.services.replacements import (
    check_of_receipt,
    draft_replacement,
    left_to_replace,
    pieces_to_replace,
)
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of, held
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import day_at_the_firm, moment_at_the_firm, signature_of


class Claims(ApiView):
    @describe(
        "list_claims", "What is to be claimed or waits for an answer, by the days left.", gives="Claims", stands=True
    )
    def get(self, request: Request) -> Response:
        today = day_at_the_firm(clock.now())
        claims = [
            {
                "receipt": of_receipt(request, claim.receipt),
                "supplier": claim.receipt.delivery.order.supplier.name,
                "days_left": claim.days_left,
            }
            for claim in open_claims(today, firm_of().calendar)
        ]
        return Response({"claims": claims})


class OneReceipt(ApiView):
    @describe("read_receipt", "What came of one line at once.", gives="Receipt", tagged=True)
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
        given = dict(document_of(request, (*STATES, "more", "pieces", "note", "seen")))
        seen = Reader({"seen": given.pop("seen", None)})
        amounts = [_amount(seen, place, value) for place, value in enumerate(seen.values("seen", len(STATES)))]
        if len(amounts) != len(STATES):
            raise seen.error("seen", "must hold three figures: good, damaged and wrong as they stood")
        correct_receipt(receipt(receipt_id), given, amounts)
        return answered(of_receipt(request, receipt(receipt_id)))


def _amount(reader: Reader, place: int, value: Any) -> Decimal:
    inner = Reader({"figure": value}, reader.where(f"seen[{place}]"))
    return inner.decimal("figure", "0", "1000000")


class ClaimReceipt(ApiView):
    @describe("claim_receipt", "The supplier was told. Said twice it is one.", takes="NewClaim", gives="Receipt")
    def post(self, request: Request, receipt_id: int) -> Response:
        claim(receipt(receipt_id), document_of(request), signature_of(request.user, clock.now()))
        return Response(of_receipt(request, receipt(receipt_id)))


class SettleReceipt(ApiView):
    @describe("settle_claim", "What came of a claim.", takes="ClaimOutcome", gives="Receipt")
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
        left = plain(left_to_replace(row))
        return Response({"left": left, "pieces": pieces, "need": of_check(check), "orders": orders})

    @describe(
        "draft_replacement",
        "Put a new order together for what came wrong or damaged. The same `request_key` makes one.",
        takes="NewReplacement",
        gives="OrderNamed",
        status=201,
        again=True,
    )
    def post(self, request: Request, receipt_id: int) -> Response:
        reader = Reader(document_of(request))
        key, quantity = reader.text("request_key", longest=100), reader.optional_decimal("quantity", "0", "1000000")
        pieces = _numbers(reader)
        reader.finish()
        by, row = request.user.full_name, receipt(receipt_id)
        order, is_new = draft_replacement(
            row, request_key=key, quantity=quantity, by=by, now=clock.now(), pieces=pieces
        )
        return Response({"order": order.number}, status=201 if is_new else 200)


def _numbers(reader: Reader) -> list[int]:
    given = reader.values("pieces", 10_000) if reader.has("pieces") else ()
    return [Reader({"number": number}, f"pieces[{nth}]").whole("number", 1, 10_000) for nth, number in enumerate(given)]


def receipt(receipt_id: int) -> ReceiptLine:
    row: ReceiptLine = receipts_with_parts().get(pk=receipt_id)
    return row
