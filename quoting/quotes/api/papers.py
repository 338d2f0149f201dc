from django.http import HttpResponse
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.refusal import Refused
from quoting.platform import clock
from quoting.platform.api.base import ApiView, Document
from quoting.platform.api.describing import describe
from quoting.platform.api.negotiation import AsItIs
from quoting.platform.errands.services.errands import retry_errand
from quoting.platform.papers.paper_progress import paper_progress
from quoting.platform.papers.papers import download_name, paper_bytes
from quoting.quotes.models import QuoteRevision
from quoting.quotes.services.quote_papers import paper_of_revision, quote_paper_errand
from quoting.quotes.services.revisions import revision_of


class PaperState(ApiView):
    @describe("read_paper_state", "How far the paper of a revision is.", gives="PaperState")
    def get(self, request: Request, number: str, revision: int) -> Response:
        return Response(state_of(revision_of(number, revision)))


class RetryPaper(ApiView):
    @describe("retry_paper", "Try a paper again that failed.", gives="PaperState", stands=True)
    def post(self, request: Request, number: str, revision: int) -> Response:
        row = revision_of(number, revision)
        errand = quote_paper_errand(row)
        if errand is None or not retry_errand(errand.pk, clock.now()):
            raise Refused("This paper has not failed; there is nothing to try again.")
        return Response(state_of(row))


class PaperFile(ApiView):
    content_negotiation_class = AsItIs

    @describe("read_paper", "The paper itself, as it was made once.", gives="pdf", stands=True)
    def get(self, request: Request, number: str, revision: int) -> HttpResponse:
        paper = paper_of_revision(revision_of(number, revision))
        if paper is None:
            raise Refused("This paper is not made yet; its state says how far it is, or why it failed.")
        response = HttpResponse(paper_bytes(paper), content_type="application/pdf")
        response["Content-Disposition"] = f'attachment; filename="{download_name(paper)}"'
        return response


def state_of(revision: QuoteRevision) -> Document:
    return paper_progress(quote_paper_errand(revision), paper_of_revision(revision))
