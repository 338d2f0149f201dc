from django.db.models import Prefetch
from django.urls import reverse
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import read
from catalog.core.ground.document_reader import Reader
from jobs.jobs.services.jobs import job_of
from quoting.job_files.api.visible import quote_for
from quoting.platform import clock
from quoting.platform.api.base import (
    ApiView,
    WorkingView,
    document_of,
    mark_seen,
    page_of,
    query_of,
)
from quoting.platform.api.declared import shown
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import day_at_the_firm
from quoting.quotes.api.shapes import quote as shapes
from quoting.quotes.models import Quote, QuoteRevision
from quoting.quotes.services.margin_approval import approve_margin
from quoting.quotes.services.quotes import issue_quote
from quoting.quotes.services.revisions import revision_of, withdraw_revision
from quoting.quotes.services.snapshots import snapshot_of


class Quotes(ApiView):
    @describe("list_quotes", "Every quote issued, with its revisions.", gives="QuotePage", paged=True)
    def get(self, request: Request) -> Response:
        return page_of(query_of(request), quotes(), lambda quote: shown(request, quote, shapes.IssuedQuote))


class OneQuote(ApiView):
    @describe("read_issued_quote", "A quote with its revisions.", gives="IssuedQuote")
    def get(self, request: Request, number: str) -> Response:
        quote = next(iter(quotes(number=number)), None) or missing()
        return Response(shown(request, quote, shapes.IssuedQuote))


class IssueQuote(WorkingView):
    @describe(
        "issue_quote",
        "Freeze the quote as its next revision and ask for its paper. The same `request_key` issues once.",
        takes="QuoteIssue",
        gives="Revision",
        status=201,
        guarded="the quote as it was read, by the mark in its ETag",
        works=True,
        again=True,
    )
    def post(self, request: Request, key: str) -> Response:
        request_key = read(shapes.QuoteIssue, Reader(document_of(request))).request_key
        now, known = clock.now(), QuoteRevision.objects.filter(request_key=request_key).exists()
        revision = issue_quote(
            job_of(key),
            request_key=request_key,
            seen_mark=mark_seen(request),
            by=request.user,
            now=now,
            today=day_at_the_firm(now),
        )
        response = Response(shown(request, revision, shapes.RevisionShown), status=200 if known else 201)
        response["Location"] = reverse("api_revision", args=[revision.quote.number, revision.number])
        return response


class ApproveQuote(WorkingView):
    @describe(
        "approve_quote",
        "Let a price below the firm's least margin pass, for a reason. Who approves it cannot issue it.",
        takes="Approving",
        gives="MarginApproval",
        status=201,
        guarded="the quote as it was read, by the mark in its ETag",
        works=True,
    )
    def post(self, request: Request, key: str) -> Response:
        reason = read(shapes.Approving, Reader(document_of(request))).reason
        now, seen = clock.now(), mark_seen(request)
        row = approve_margin(
            job_of(key), seen_mark=seen, reason=reason, by=request.user, now=now, today=day_at_the_firm(now)
        )
        return Response(shown(request, row, shapes.MarginApproval), status=201)


class OneRevision(ApiView):
    @describe("read_revision", "A revision with everything as it was issued.", gives="FrozenRevision")
    def get(self, request: Request, number: str, revision: int) -> Response:
        row = revision_of(number, revision)
        frozen = quote_for(request, snapshot_of(row)["quote"])
        return Response(shown(request, row, shapes.FrozenRevision, within=frozen))


class WithdrawRevision(ApiView):
    @describe(
        "withdraw_revision",
        "Withdraw an issued revision, for a reason. It stays to be read.",
        takes="Withdrawal",
        gives="Revision",
        stands=True,
    )
    def post(self, request: Request, number: str, revision: int) -> Response:
        reason = read(shapes.Withdrawal, Reader(document_of(request))).reason
        row = revision_of(number, revision)
        row = withdraw_revision(row.pk, now=clock.now(), by_name=request.user.full_name, reason=reason)
        return Response(shown(request, row, shapes.RevisionShown))


def quotes(**only: str) -> list[Quote]:
    revisions = QuoteRevision.objects.select_related("answer__taken_back").defer("snapshot")
    rows = Quote.objects.select_related("job__client").prefetch_related(Prefetch("revisions", revisions))
    return list(rows.filter(**only))


def missing() -> Quote:
    raise Quote.DoesNotExist
