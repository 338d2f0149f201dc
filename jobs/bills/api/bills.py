"""Bills: entered once, listed, voided; drafts of photographed slips, which anybody on site may send."""

from typing import Any

from django.http import HttpResponse
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from catalog.core.ground.document_reader import Reader
from catalog.models import Supplier
from jobs.bills.api.shapes import BillDraftShown, BillShown, GoodsWithoutBill
from jobs.bills.models import Bill, BillPhoto
from jobs.bills.services.drafts import send_slip
from jobs.bills.services.entering import enter_bill, enter_draft
from jobs.bills.services.listing import STATES, bills, bills_in, open_goods
from jobs.bills.services.voiding import void_bill
from jobs.deliveries.api.shapes.claims import PICTURE
from jobs.walls.pages.pages import picture_response
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of, page_of, query_of, tagged, version_seen
from quoting.platform.api.describing import Query, describe
from quoting.platform.api.negotiation import AsItIs
from quoting.platform.firm_day import signature_of

WITH_LINES = ("lines__order_line__order", "lines__order", "accepted")
SELLER = {"type": "string", "maxLength": 200}


class Bills(ApiView):
    @describe(
        "list_bills",
        "Bills and credits, the newest first.",
        gives="BillPage",
        query=[
            Query("state", {"enum": list(STATES)}, "Those alone that are so."),
            Query("seller", SELLER, "Code of a supplier, or name of a shop."),
        ],
        paged=True,
    )
    def get(self, request: Request) -> Response:
        query = query_of(request)
        state, seller = query.optional_choice("state", STATES) or "", query.optional_text("seller") or ""
        return page_of(query, bills_in(state, seller).prefetch_related(*WITH_LINES), lambda row: write(row, BillShown))

    @describe(
        "enter_bill",
        "Enter a bill or a credit. The same `request_key` enters it once. Differences come back with 409; send it "
        "again with those sentences in `accept`.",
        takes="NewBill",
        gives="Bill",
        status=201,
        again=True,
        tagged=True,
    )
    def post(self, request: Request) -> Response:
        now = clock.now()
        row, is_new = enter_bill(document_of(request), signature_of(request.user, now), now=now)
        return _answer(row, status=201 if is_new else 200)


class OneBill(ApiView):
    @describe("read_bill", "One bill with its lines and what was accepted of it.", gives="Bill", tagged=True)
    def get(self, request: Request, bill_id: int) -> Response:
        return _answer(bill(bill_id))


class EnterDraft(ApiView):
    @describe(
        "enter_bill_draft",
        "Enter the bill of a photographed slip; its key is the draft's own.",
        takes="EnteredDraft",
        gives="Bill",
        guarded="the draft",
        tagged=True,
    )
    def post(self, request: Request, bill_id: int) -> Response:
        now, signature = clock.now(), signature_of(request.user, clock.now())
        row, _ = enter_draft(
            bill(bill_id), document_of(request), signature, seen_version=version_seen(request), now=now
        )
        return _answer(row)


class VoidBill(ApiView):
    @describe(
        "void_bill",
        "Void a bill. Once its month is closed another bill reverses every line in the first open month.",
        takes="BillVoid",
        gives="Bill",
        guarded="the bill",
        tagged=True,
    )
    def post(self, request: Request, bill_id: int) -> Response:
        now, signature = clock.now(), signature_of(request.user, clock.now())
        row, _ = void_bill(bill(bill_id), document_of(request), signature, seen_version=version_seen(request), now=now)
        return _answer(row)


class BillDrafts(ApiView):
    @describe(
        "send_bill_slip",
        "Send a photo of a slip as the draft of a bill. The same `request_key` keeps it once.",
        takes="NewBillDraft",
        gives="BillDraft",
        status=201,
        again=True,
    )
    def post(self, request: Request) -> Response:
        now, document = clock.now(), dict(document_of(request))
        data = PICTURE.read(Reader({"file": document.pop("file", None)}), "file")
        row, is_new = send_slip(document, data, signature_of(request.user, now), now=now)
        return Response(write(row, BillDraftShown), status=201 if is_new else 200)


class OpenGoodsList(ApiView):
    @describe(
        "list_goods_without_bill",
        "What came and is not billed; of one supplier also what is still to come.",
        gives="GoodsWithoutBill",
        query=[Query("supplier", SELLER, "Code of a supplier.")],
    )
    def get(self, request: Request) -> Response:
        query = query_of(request)
        code = query.optional_text("supplier")
        query.finish()
        supplier = Supplier.objects.get(code=code) if code else None
        return Response(write(open_goods(supplier), GoodsWithoutBill))


class BillPhotoFile(ApiView):
    content_negotiation_class = AsItIs

    @describe("read_bill_photo", "The picture itself, as it was kept.", gives="picture")
    def get(self, request: Request, photo_id: int) -> HttpResponse:
        return picture_response(BillPhoto.objects.get(pk=photo_id))


def bill(bill_id: int) -> Bill:
    result: Bill = bills().prefetch_related(*WITH_LINES).get(pk=bill_id)
    return result


def _answer(row: Bill, status: int = 200) -> Any:
    return tagged(Response(write(bill(row.pk), BillShown), status=status), row.version)
