"""What the owner sets of requests, and statements of clients."""

from django.db import transaction
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import Document, write
from jobs.jobs.models import Client, Job
from jobs.jobs.services.jobs import job_of
from quoting.payment_requests.api.shapes import RequestTermsShown, RetentionShown, StatementShown
from quoting.payment_requests.models import JobRetention, RequestTerms
from quoting.payment_requests.services.statements import statement_of
from quoting.payment_requests.services.terms import retention_of, set_retention, set_terms, terms_of_requests
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of, held, mark_of, tagged
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import day_at_the_firm, signature_of


class Terms(ApiView):
    @describe("read_request_terms", "What each request of the firm prints.", gives="RequestTerms", tagged=True)
    def get(self, request: Request) -> Response:
        return _tagged(of_terms())

    @describe(
        "set_request_terms",
        "Make what each request prints exactly this.",
        takes="NewRequestTerms",
        gives="RequestTerms",
        tagged=True,
        guarded="the terms",
    )
    @transaction.atomic
    def put(self, request: Request) -> Response:
        held(request, RequestTerms.objects.all(), of_terms)
        set_terms(document_of(request))
        return _tagged(of_terms())


class HeldBack(ApiView):
    @describe("read_retention", "What is held back of a job's requests.", gives="Retention", tagged=True)
    def get(self, request: Request, key: str) -> Response:
        return _tagged(of_retention(job_of(key)))

    @describe(
        "set_retention",
        "Set what is held back, before the first request.",
        takes="NewRetention",
        gives="Retention",
        tagged=True,
        guarded="what is held back",
    )
    @transaction.atomic
    def put(self, request: Request, key: str) -> Response:
        job, now = job_of(key), clock.now()
        held(request, Job.objects.filter(pk=job.pk), lambda: of_retention(job))
        set_retention(job, document_of(request), signature_of(request.user, now), now=now)
        return _tagged(of_retention(job))


class ClientStatement(ApiView):
    @describe("read_statement", "Requests and payments of all jobs of a client.", gives="Statement")
    def get(self, request: Request, client_id: int) -> Response:
        client, today = Client.objects.get(pk=client_id), day_at_the_firm(clock.now())
        return Response(write(statement_of(client, today), StatementShown))


def of_terms() -> Document:
    """Empty before the owner has entered them."""
    return write(terms_of_requests() or RequestTerms(days_to_pay=0), RequestTermsShown)


def of_retention(job: Job) -> Document:
    return write(retention_of(job) or JobRetention(), RetentionShown)


def _tagged(document: Document) -> Response:
    return tagged(Response(document), mark_of(document))
