"""Requests of a job: what can be asked for, issuing, crediting, sending, and the paper."""

from django.http import HttpResponse
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import Document, write
from catalog.core.ground.refusal import Refused
from jobs.jobs.models import Job
from jobs.jobs.services.jobs import job_of
from quoting.payment_requests.api.shapes import (
    EventMarkShown,
    JobRequestsShown,
    PaymentRequestShown,
    RequestMailShown,
    RequestMailsShown,
    RequestsRead,
    requests_read,
)
from quoting.payment_requests.models import EventMark, PaymentRequest
from quoting.payment_requests.services.asked import asked_of
from quoting.payment_requests.services.events import mark_event, take_mark_back
from quoting.payment_requests.services.issuing import credit_request, issue_request
from quoting.payment_requests.services.mailing import mail_errand, mails_of, paper_of_request, send_request
from quoting.payment_requests.services.request_papers import paper_errand
from quoting.payment_requests.services.standing import requests_of
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of
from quoting.platform.api.describing import describe
from quoting.platform.api.negotiation import AsItIs
from quoting.platform.firm_day import day_at_the_firm, signature_of
from quoting.platform.papers.paper_progress import paper_progress
from quoting.platform.papers.papers import download_name, paper_bytes


class Requests(ApiView):
    @describe("list_requests", "What was asked for of a job, and what can be asked for next.", gives="JobRequests")
    def get(self, request: Request, key: str) -> Response:
        return Response(_all(job_of(key)))

    @describe(
        "issue_request",
        "Ask for a part of the price whose event is marked; signed change notes go with it. The same `request_key` "
        "issues once.",
        takes="NewRequest",
        gives="PaymentRequest",
        status=201,
        again=True,
    )
    def post(self, request: Request, key: str) -> Response:
        row, is_new = issue_request(job_of(key), document_of(request), request.user, now=clock.now())
        return Response(_one(row), status=201 if is_new else 200)


class OneRequest(ApiView):
    @describe("read_request", "One request, as it was issued, and what of it is paid.", gives="PaymentRequest")
    def get(self, request: Request, key: str, request_number: int) -> Response:
        return Response(_one(_row(key, request_number)))


class CreditRequest(ApiView):
    @describe(
        "credit_request",
        "Cancel a whole request by a credit with its own number. The same `request_key` credits once.",
        takes="NewCreditOfRequest",
        gives="PaymentRequest",
        status=201,
        again=True,
    )
    def post(self, request: Request, key: str, request_number: int) -> Response:
        row = _row(key, request_number)
        credit, is_new = credit_request(row, document_of(request), request.user, now=clock.now())
        return Response(_one(credit), status=201 if is_new else 200)


class RequestMails(ApiView):
    @describe("list_request_mails", "Mails of a request, the latest first.", gives="RequestMails")
    def get(self, request: Request, key: str, request_number: int) -> Response:
        return Response(write(mails_of(_row(key, request_number)), RequestMailsShown))

    @describe(
        "send_request",
        "Mail a request with its PDF. The same `request_key` sends once.",
        takes="NewMail",
        gives="RequestMail",
        status=201,
        again=True,
    )
    def post(self, request: Request, key: str, request_number: int) -> Response:
        row, now = _row(key, request_number), clock.now()
        mail, is_new = send_request(row, document_of(request), signature_of(request.user, now), now=now)
        return Response(write((mail, mail_errand(mail)), RequestMailShown), status=201 if is_new else 200)


class RequestPaperState(ApiView):
    @describe("read_request_paper_state", "How far the paper of a request is.", gives="PaperState")
    def get(self, request: Request, key: str, request_number: int) -> Response:
        row = _row(key, request_number)
        return Response(paper_progress(paper_errand(row), paper_of_request(row)))


class RequestPaperFile(ApiView):
    content_negotiation_class = AsItIs

    @describe("read_request_paper", "The paper of a request, as it was made once.", gives="pdf", stands=True)
    def get(self, request: Request, key: str, request_number: int) -> HttpResponse:
        paper = paper_of_request(_row(key, request_number))
        if paper is None:
            raise Refused("This paper is not made yet; its state says how far it is, or why it failed.")
        response = HttpResponse(paper_bytes(paper), content_type="application/pdf")
        response["Content-Disposition"] = f'attachment; filename="{download_name(paper)}"'
        return response


class EventMarks(ApiView):
    @describe(
        "mark_event",
        "The event of a part has happened. The same `request_key` marks it once.",
        takes="NewEventMark",
        gives="EventMark",
        status=201,
        again=True,
    )
    def post(self, request: Request, key: str) -> Response:
        now = clock.now()
        row, is_new = mark_event(job_of(key), document_of(request), signature_of(request.user, now), now=now)
        return Response(write(row, EventMarkShown), status=201 if is_new else 200)


class TakeMarkBack(ApiView):
    @describe(
        "take_event_mark_back",
        "Marked by mistake; refused while a request rests on it. Safe to repeat.",
        takes="WhyTakenBack",
        gives="EventMark",
    )
    def post(self, request: Request, key: str, mark_id: int) -> Response:
        row, now = EventMark.objects.select_related("job").get(pk=mark_id, job=job_of(key)), clock.now()
        row = take_mark_back(row, document_of(request), signature_of(request.user, now), now=now)
        return Response(write(row, EventMarkShown))


def _row(key: str, number: int) -> PaymentRequest:
    rows = PaymentRequest.objects.select_related("job", "credits").prefetch_related("notes__note")
    return rows.get(job=job_of(key), number=number)


def _one(row: PaymentRequest) -> Document:
    return write(requests_read([row], asked_of([row.job_id])[row.job_id])[0], PaymentRequestShown)


def _all(job: Job) -> Document:
    rows = PaymentRequest.objects.filter(job=job).defer("snapshot").select_related("credits")
    marks = list(EventMark.objects.filter(job=job))
    asked, standing = asked_of([job.pk])[job.pk], requests_of(job)
    parts = standing.parts() if standing else ()
    requests = requests_read(rows.prefetch_related("notes__note"), asked)
    return write(RequestsRead(requests, parts, marks, asked, day_at_the_firm(clock.now())), JobRequestsShown)
