"""Samples and choices an item made to order waits for until somebody agreed to them. The desk's."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import Reader
from jobs.jobs.services.jobs import job_of
from jobs.orders.api.shapes import orders as shapes
from jobs.orders.api.shapes.requests import Agreement, NewSample
from jobs.orders.models import SignOff
from jobs.orders.services.items import live_item
from jobs.orders.services.releasing import agree_sample, ask_for_sample
from quoting.platform import clock
from quoting.platform.api.base import ApiView, WorkingView, document_of
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import moment_at_the_firm, signature_of


class Samples(WorkingView):
    @describe("list_samples", "What was shown of a job's items, the last asked for first.", gives="Samples")
    def get(self, request: Request, key: str) -> Response:
        return Response(write(SignOff.objects.filter(job=job_of(key)), shapes.Samples))

    @describe(
        "ask_for_sample",
        "Ask for a sample or a choice: the item waits until somebody agreed to it. Safe to repeat.",
        takes="NewSample",
        gives="Sample",
        status=201,
        works=True,
        again=True,
    )
    def post(self, request: Request, key: str) -> Response:
        job, now, asked = job_of(key), clock.now(), read(NewSample, Reader(document_of(request)))
        live_item(job, asked.material, moment_at_the_firm(now))
        known = set(SignOff.objects.filter(job=job, material=asked.material).values_list("pk", flat=True))
        row = ask_for_sample(job, asked.material, asked.what, signature_of(request.user, now), now)
        return Response(write(row, shapes.Sample), status=200 if row.pk in known else 201)


class AgreeSample(ApiView):
    @describe("agree_sample", "Somebody agreed to a sample. Safe to repeat.", takes="Agreement", gives="Sample")
    def post(self, request: Request, key: str, sample_id: int) -> Response:
        row, asked = SignOff.objects.get(pk=sample_id, job=job_of(key)), read(Agreement, Reader(document_of(request)))
        row = agree_sample(row, asked.agreed_by, signature_of(request.user, clock.now()))
        return Response(write(row, shapes.Sample))
