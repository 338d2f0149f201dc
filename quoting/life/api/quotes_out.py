"""Quotations that wait for an answer, and when somebody asks again."""

from typing import NamedTuple

from django.db import transaction
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from jobs.jobs.models import Job
from jobs.jobs.services.jobs import job_of
from quoting.core.money.quotes_out import WonAndLost
from quoting.life.api.shapes import FollowUpShown, QuotesOutShown
from quoting.life.services.follow_ups import follow_up_of, set_follow_up
from quoting.life.services.quotes_out import QuoteOut, decided_quotes, quotes_out
from quoting.platform import clock
from quoting.platform.api.base import ApiView, Document, day_asked, document_of, held, mark_of, tagged
from quoting.platform.api.describing import TODAY, describe
from quoting.platform.firm_day import signature_of


class Quotes(NamedTuple):
    quotes: list[QuoteOut]
    decided: WonAndLost


class QuotesOut(ApiView):
    @describe(
        "list_quotes_out",
        "Quotations that wait for an answer, by the day somebody must act; what was won and lost in twelve months.",
        gives="QuotesOut",
        query=(TODAY,),
    )
    def get(self, request: Request) -> Response:
        today = day_asked(request)
        return Response(write(Quotes(quotes_out(today), decided_quotes(today)), QuotesOutShown))


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
    return write(follow_up_of(job), FollowUpShown)
