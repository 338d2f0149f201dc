"""The letter of a claim: made, taken, and sent to the supplier by mail. The desk's."""

from django.http import HttpResponse
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from catalog.core.ground.refusal import Refused
from jobs.deliveries.api.receipts import receipt
from jobs.deliveries.api.shapes import claims as shapes
from jobs.deliveries.models import ReceiptLine
from jobs.deliveries.services.claim_letters import letter_errand, request_letter
from jobs.deliveries.services.claim_mailing import mails_of, queue_claim_mail
from jobs.orders.api.shapes.orders import SentMail
from quoting.platform import clock
from quoting.platform.api.base import ApiView, Document, document_of
from quoting.platform.api.describing import describe
from quoting.platform.api.negotiation import AsItIs
from quoting.platform.errands.models import Errand
from quoting.platform.firm_day import signature_of
from quoting.platform.papers.models import Paper
from quoting.platform.papers.paper_progress import paper_progress
from quoting.platform.papers.papers import download_name, paper_bytes, paper_of


class ClaimLetter(ApiView):
    @describe("read_claim_letter_state", "How far the letter of a claim is.", gives="PaperState")
    def get(self, request: Request, receipt_id: int) -> Response:
        return Response(_state(receipt(receipt_id)))

    @describe(
        "make_claim_letter",
        "Have the letter of a claim made. It claims nothing until the supplier has it.",
        takes="NewClaimLetter",
        gives="PaperState",
    )
    def post(self, request: Request, receipt_id: int) -> Response:
        row, now = receipt(receipt_id), clock.now()
        request_letter(row, document_of(request), signature_of(request.user, now), now)
        return Response(_state(row))


class ClaimLetterFile(ApiView):
    content_negotiation_class = AsItIs

    @describe("read_claim_letter", "The letter asked for last, as it was made.", gives="pdf", stands=True)
    def get(self, request: Request, receipt_id: int) -> HttpResponse:
        paper = _letter(letter_errand(receipt(receipt_id)))
        if paper is None:
            raise Refused("The letter is not made yet; its state says how far it is, or why it failed.")
        response = HttpResponse(paper_bytes(paper), content_type="application/pdf")
        response["Content-Disposition"] = f'attachment; filename="{download_name(paper)}"'
        return response


class ClaimMails(ApiView):
    @describe("list_claim_mails", "Mails of a claim, the latest first, and how far each is.", gives="ClaimMails")
    def get(self, request: Request, receipt_id: int) -> Response:
        return Response(write(mails_of(receipt(receipt_id)), shapes.ClaimMails))

    @describe(
        "send_claim",
        "Mail the letter of a claim to the supplier. Once it has left, the claim counts as made that day. The same "
        "`request_key` sends it once.",
        takes="NewClaimMail",
        gives="SentMail",
        status=201,
        again=True,
    )
    def post(self, request: Request, receipt_id: int) -> Response:
        row, now = receipt(receipt_id), clock.now()
        known = set(row.mails.values_list("pk", flat=True))
        sent = queue_claim_mail(row, document_of(request), signature_of(request.user, now), now=now)
        [mail] = [pair for pair in mails_of(row) if pair[0].pk == sent.pk]
        return Response(write(mail, SentMail), status=200 if sent.pk in known else 201)


def _state(row: ReceiptLine) -> Document:
    errand = letter_errand(row)
    return paper_progress(errand, _letter(errand))


def _letter(errand: Errand | None) -> Paper | None:
    return paper_of(errand) if errand else None
