"""Samples and choices an item made to order waits for until somebody agreed to them. The desk's."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.document_reader import Reader
from jobs.jobs.services.jobs import job_of
from jobs.orders.models import SignOff
from jobs.orders.services.items import live_item
from jobs.orders.services.releasing import agree_sample, ask_for_sample
from quoting.platform import clock
from quoting.platform.api.base import ApiView, Document, WorkingView, day, document_of
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import moment_at_the_firm, signature_of

MAX_WHAT = 300
MAX_NAME_LENGTH = 200


class Samples(WorkingView):
    @describe("list_samples", "What was shown of a job's items, the last asked for first.", gives="Samples")
    def get(self, request: Request, key: str) -> Response:
        return Response({"samples": [of_sample(row) for row in SignOff.objects.filter(job=job_of(key))]})

    @describe(
        "ask_for_sample",
        "Ask for a sample or a choice: the item waits until somebody agreed to it. The same asked for twice is one.",
        takes="NewSample",
        gives="Sample",
        status=201,
        works=True,
        again=True,
    )
    def post(self, request: Request, key: str) -> Response:
        job, now, reader = job_of(key), clock.now(), Reader(document_of(request))
        material, what = reader.text("material", longest=60), reader.text("what", longest=MAX_WHAT)
        reader.finish()
        live_item(job, material, moment_at_the_firm(now))
        known = set(SignOff.objects.filter(job=job, material=material).values_list("pk", flat=True))
        row = ask_for_sample(job, material, what, signature_of(request.user, now), now)
        return Response(of_sample(row), status=200 if row.pk in known else 201)


class AgreeSample(ApiView):
    @describe("agree_sample", "Somebody agreed to a sample. Said twice it is one.", takes="Agreement", gives="Sample")
    def post(self, request: Request, key: str, sample_id: int) -> Response:
        row, reader = SignOff.objects.get(pk=sample_id, job=job_of(key)), Reader(document_of(request))
        agreed_by = reader.text("agreed_by", longest=MAX_NAME_LENGTH)
        reader.finish()
        return Response(of_sample(agree_sample(row, agreed_by, signature_of(request.user, clock.now()))))


def of_sample(row: SignOff) -> Document:
    return {
        "id": row.pk,
        "material": row.material_id,
        "what": row.what,
        "asked_on": day(row.asked_on),
        "agreed_on": day(row.agreed_on),
        "agreed_by": row.agreed_by,
        "entered_by": row.entered_by_name,
    }
