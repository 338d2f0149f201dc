"""Quotations that wait for an answer, and when somebody asks again."""

from typing import Any

from django.db import transaction
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.plain_text import money
from jobs.jobs.models import Job
from jobs.jobs.services.jobs import job_of
from quoting.core.money.quotes_out import CountAndValue
from quoting.life.services.follow_ups import follow_up_of, set_follow_up
from quoting.life.services.quotes_out import QuoteOut, decided_quotes, quotes_out
from quoting.platform import clock
from quoting.platform.api.base import ApiView, Document, day, day_asked, document_of, held, mark_of, tagged
from quoting.platform.api.describing import TODAY, describe
from quoting.platform.firm_day import signature_of


class QuotesOut(ApiView):
    @describe(
        "list_quotes_out",
        "Quotations that wait for an answer, by the day somebody must act; what was won and lost in twelve months.",
        gives="QuotesOut",
        query=(TODAY,),
    )
    def get(self, request: Request) -> Response:
        today = day_asked(request)
        decided = decided_quotes(today)
        shares = {name: getattr(decided, name) for name in ("rate", "rate_by_value")}
        return Response(
            {
                "quotes": [of_quote(quote_out) for quote_out in quotes_out(today)],
                "won": of_sum(decided.won),
                "lost": of_sum(decided.lost),
                "reasons": [{"why": why, **of_sum(value)} for why, value in decided.reasons],
                **{name: None if share is None else round(float(share), 4) for name, share in shares.items()},
            }
        )


class FollowUp(ApiView):
    @describe("read_follow_up", "When somebody asks the client next.", gives="FollowUp", tagged=True)
    def get(self, request: Request, key: str) -> Response:
        return answered(job_of(key))

    @describe(
        "set_follow_up",
        "Say when somebody asks the client next; without a day nobody does.",
        takes="NewFollowUp",
        gives="FollowUp",
        tagged=True,
        guarded="the follow-up",
    )
    @transaction.atomic
    def put(self, request: Request, key: str) -> Response:
        job, now = job_of(key), clock.now()
        held(request, Job.objects.filter(pk=job.pk), lambda: written(job))
        set_follow_up(job, document_of(request), signature_of(request.user, now), now=now)
        return answered(job)


def answered(job: Job) -> Response:
    document = written(job)
    return tagged(Response(document), mark_of(document))


def written(job: Job) -> Document:
    row = follow_up_of(job)
    return {"day": day(row.day) if row else None, "person": row.person if row else None}


def of_quote(quote_out: QuoteOut) -> dict[str, Any]:
    fact, revision = quote_out.follow_up, quote_out.revision
    return {
        "job": quote_out.job.key,
        "title": quote_out.job.title,
        "client": quote_out.job.client.name,
        "revision": revision.number,
        "value": money(quote_out.value),
        "sent_on": day(quote_out.sent_on),
        "age_days": quote_out.age,
        "valid_until": day(revision.valid_until),
        "expired": quote_out.is_expired,
        "opened": revision.opened,
        "opened_on": day(revision.opened_on),
        "follow_up": {"day": day(fact.on), "person": fact.person} if fact else None,
    }


def of_sum(value: CountAndValue) -> Document:
    return {"count": value.count, "value": money(value.value)}
