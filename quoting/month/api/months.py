"""The owner's month: its figures, its close, why a job made what it made; what running the firm cost."""

from datetime import date

from django.db import transaction
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import Document, write
from jobs.jobs.services.jobs import job_of
from quoting.month.api.shapes import (
    MonthHead,
    MonthHeadShown,
    MonthSentenceShown,
    OverheadActualShown,
    OverheadsShown,
)
from quoting.month.models import CauseSentence, ClosedMonth, OverheadActual
from quoting.month.pages.asked_month import month_or_404
from quoting.month.services.closing import close_month
from quoting.month.services.known_now import known_now
from quoting.month.services.month_documents import month_document
from quoting.month.services.overhead import enter_overhead, void_overhead
from quoting.month.services.sentences import say_why
from quoting.month.services.snapshots import snapshot_of
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of, held, mark_of, tagged
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import day_at_the_firm, signature_of

KEPT_APART = ("format", "month", "rows")


class Month(ApiView):
    @describe(
        "read_month",
        "What a month made: as closed, with what is known of it now; of an open month as it is known now.",
        gives="Month",
    )
    def get(self, request: Request, month: str) -> Response:
        return Response(written(month_or_404(month), day_at_the_firm(clock.now())))


class CloseMonth(ApiView):
    @describe(
        "close_month",
        "Close a month, once and in order, after its end. What comes later counts in the next.",
        gives="Month",
        stands=True,
    )
    def post(self, request: Request, month: str) -> Response:
        chosen, now = month_or_404(month), clock.now()
        signature = signature_of(request.user, now)
        close_month(chosen, signature, now=now)
        return Response(written(chosen, signature.on))


class MonthSentence(ApiView):
    @describe("read_month_sentence", "Why a job made what it made.", gives="MonthSentence", tagged=True)
    def get(self, request: Request, month: str, key: str) -> Response:
        return _said(key, month_or_404(month))

    @describe(
        "say_month_sentence",
        "Say why a job made what it made, while the month is open.",
        takes="NewMonthSentence",
        gives="MonthSentence",
        tagged=True,
        guarded="the sentence",
    )
    @transaction.atomic
    def put(self, request: Request, month: str, key: str) -> Response:
        chosen, job, now = month_or_404(month), job_of(key), clock.now()
        rows = CauseSentence.objects.filter(month=chosen, job=job)
        held(request, rows, lambda: _sentence(key, chosen))
        say_why(job, chosen, document_of(request), signature_of(request.user, now), now=now)
        return _said(key, chosen)


class Overheads(ApiView):
    @describe("list_overhead", "What running the firm cost beside its jobs, the latest first.", gives="Overheads")
    def get(self, request: Request) -> Response:
        return Response(write(OverheadActual.objects.order_by("-day", "-pk"), OverheadsShown))

    @describe(
        "enter_overhead",
        "Enter a cost of running the firm. The same `request_key` enters it once.",
        takes="NewOverhead",
        gives="OverheadActual",
        status=201,
        again=True,
    )
    def post(self, request: Request) -> Response:
        now = clock.now()
        row, is_new = enter_overhead(document_of(request), signature_of(request.user, now), now=now)
        return Response(write(row, OverheadActualShown), status=201 if is_new else 200)


class VoidOverhead(ApiView):
    @describe(
        "void_overhead",
        "Entered by mistake. Safe to repeat.",
        takes="Reason",
        gives="OverheadActual",
        stands=True,
    )
    def post(self, request: Request, overhead_id: int) -> Response:
        row, now = OverheadActual.objects.get(pk=overhead_id), clock.now()
        row = void_overhead(row, document_of(request), signature_of(request.user, now), now=now)
        return Response(write(row, OverheadActualShown))


def written(month: date, today: date) -> Document:
    row = ClosedMonth.objects.filter(month=month).first()
    stored = snapshot_of(row) if row else month_document(month, today)
    head = MonthHead(month, row, known_now(row, today, stored) if row else [])
    return write(head, MonthHeadShown) | {name: value for name, value in stored.items() if name not in KEPT_APART}


def _sentence(key: str, month: date) -> Document:
    row = CauseSentence.objects.filter(month=month, job__key=key).first()
    return write(row or CauseSentence(), MonthSentenceShown)


def _said(key: str, month: date) -> Response:
    job_of(key)
    document = _sentence(key, month)
    return tagged(Response(document), mark_of(document))
