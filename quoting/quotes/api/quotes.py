from django.db.models import Prefetch
from django.urls import reverse
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.document_reader import Reader
from catalog.core.ground.plain_text import money, plain
from jobs.jobs.services.jobs import job_of
from quoting.job_files.api.visible import quote_for
from quoting.platform import clock
from quoting.platform.api.base import (
    ApiView,
    Document,
    WorkingView,
    document_of,
    mark_seen,
    page_of,
    query_of,
    sees_margins,
    without,
)
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import day_at_the_firm
from quoting.quotes.models import ClientAnswer, Quote, QuoteRevision, TakeBack
from quoting.quotes.services.margin_approval import approve_margin
from quoting.quotes.services.quotes import issue_quote
from quoting.quotes.services.revisions import revision_of, withdraw_revision
from quoting.quotes.services.snapshots import snapshot_of


class Quotes(ApiView):
    @describe("list_quotes", "Every quote issued, with its revisions.", gives="QuotePage", paged=True)
    def get(self, request: Request) -> Response:
        return page_of(query_of(request), quotes(), lambda quote: in_short(request, quote))


class OneQuote(ApiView):
    @describe("read_issued_quote", "A quote with its revisions.", gives="IssuedQuote")
    def get(self, request: Request, number: str) -> Response:
        return Response(in_short(request, next(iter(quotes(number=number)), None) or missing()))


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
        reader = Reader(document_of(request))
        request_key = reader.text("request_key", longest=100)
        reader.finish()
        now, known = clock.now(), QuoteRevision.objects.filter(request_key=request_key).exists()
        revision = issue_quote(
            job_of(key),
            request_key=request_key,
            seen_mark=mark_seen(request),
            by=request.user,
            now=now,
            today=day_at_the_firm(now),
        )
        response = Response(of_revision(request, revision), status=200 if known else 201)
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
        reader = Reader(document_of(request))
        reason = reader.text("reason")
        reader.finish()
        now, seen = clock.now(), mark_seen(request)
        row = approve_margin(
            job_of(key), seen_mark=seen, reason=reason, by=request.user, now=now, today=day_at_the_firm(now)
        )
        figures = {name: money(getattr(row, name)) for name in ("price", "cost", "shortfall")}
        margins = {name: plain(getattr(row, name)) for name in ("margin", "least_margin")}
        document = {"by": row.by_name, "at": row.at.isoformat(), "reason": row.reason}
        return Response({**figures, **margins, **document}, status=201)


class OneRevision(ApiView):
    @describe("read_revision", "A revision with everything as it was issued.", gives="FrozenRevision")
    def get(self, request: Request, number: str, revision: int) -> Response:
        row = revision_of(number, revision)
        frozen = quote_for(request, snapshot_of(row)["quote"])
        return Response({**of_revision(request, row), "quote": frozen, "sha256": row.snapshot_sha256})


class WithdrawRevision(ApiView):
    @describe(
        "withdraw_revision",
        "Withdraw an issued revision, for a reason. It stays to be read.",
        takes="Withdrawal",
        gives="Revision",
        stands=True,
    )
    def post(self, request: Request, number: str, revision: int) -> Response:
        reader = Reader(document_of(request))
        reason = reader.text("reason")
        reader.finish()
        row = revision_of(number, revision)
        row = withdraw_revision(row.pk, now=clock.now(), by_name=request.user.full_name, reason=reason)
        return Response(of_revision(request, row))


def quotes(**only: str) -> list[Quote]:
    revisions = QuoteRevision.objects.select_related("answer__taken_back").defer("snapshot")
    rows = Quote.objects.select_related("job__client").prefetch_related(Prefetch("revisions", revisions))
    return list(rows.filter(**only))


def missing() -> Quote:
    raise Quote.DoesNotExist


def in_short(request: Request, quote: Quote) -> Document:
    return {
        "number": quote.number,
        "job": quote.job.key,
        "title": quote.job.title,
        "client": quote.job.client.name,
        "opened_at": quote.opened_at.isoformat(),
        "revisions": [of_revision(request, revision) for revision in quote.revisions.all()],
    }


def of_revision(request: Request, revision: QuoteRevision) -> Document:
    document = {
        "number": revision.quote.number,
        "revision": revision.number,
        "state": revision.state,
        "state_at": revision.state_at.isoformat(),
        "state_by": revision.state_by_name,
        "state_reason": revision.state_reason,
        "issued_at": revision.issued_at.isoformat(),
        "issued_by": revision.issued_by_name,
        "quoted_on": revision.quoted_on.isoformat(),
        "valid_until": revision.valid_until.isoformat(),
        "currency": revision.currency,
        "price": money(revision.price),
        "tax": money(revision.tax),
        "total": money(revision.total),
        "cost": money(revision.cost),
        "margin": plain(revision.margin),
        "rules": revision.rules_version,
        "answer": of_answer(getattr(revision, "answer", None), revision.currency),
    }
    return document if sees_margins(request) else without(document, "margin")


def of_answer(answer: ClientAnswer | None, currency: str) -> Document | None:
    """What the client said; None while nothing was."""
    if answer is None:
        return None
    return {
        "answer": answer.answer,
        "way": answer.way,
        "name": answer.typed_name,
        "reason": answer.reason,
        "at": answer.answered_at.isoformat(),
        "on": answer.answered_on.isoformat(),
        "options": [option["key"] for option in answer.options],
        "currency": currency,
        "price": money(answer.price),
        "tax": money(answer.tax),
        "total": money(answer.total),
        "paper_sha256": answer.paper_sha256 or None,
        "cancel_until": answer.cancel_until.isoformat() if answer.cancel_until else None,
        "taken_back": of_taking_back(getattr(answer, "taken_back", None)),
    }


def of_taking_back(back: TakeBack | None) -> Document | None:
    if back is None:
        return None
    return {
        "name": back.typed_name,
        "on": back.given_on.isoformat(),
        "way": back.way,
        "reason": back.reason,
        "at": back.kept_at.isoformat(),
        "entered_by": back.entered_by_name,
    }
