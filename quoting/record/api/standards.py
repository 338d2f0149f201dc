"""Standards from the record: suggested, accepted, and what is not to teach them."""

from django.db import transaction
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import Document, write
from catalog.core.ground.plain_text import plain
from jobs.jobs.models import Job
from jobs.jobs.services.jobs import job_of
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of, held, mark_of, tagged
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import signature_of
from quoting.record.api.shapes import Learnt, LearntStandardShown, LeftOutJob
from quoting.record.services.accepting import accept_standard
from quoting.record.services.leaving_out import boards_of, count_left_over, leave_out, left_over_of, take_in_again


class SuggestedStandards(ApiView):
    @describe("list_suggested_standards", "What closed jobs say of each standard, and what was taken.", gives="Learnt")
    def get(self, request: Request) -> Response:
        return Response(write(None, Learnt))

    @describe(
        "accept_standard",
        "Take a suggested standard, with the value as it was seen. The same `request_key` takes it once.",
        takes="AcceptedStandard",
        gives="LearntStandard",
        status=201,
        again=True,
    )
    def post(self, request: Request) -> Response:
        now = clock.now()
        row, is_new = accept_standard(document_of(request), signature_of(request.user, now), now=now)
        return Response(write(row, LearntStandardShown), status=201 if is_new else 200)


class LeftOutJobs(ApiView):
    @describe(
        "leave_job_out",
        "A closed job is not to teach a standard. Safe to repeat.",
        takes="NewLeftOut",
        gives="LeftOutJob",
        status=201,
        again=True,
    )
    def post(self, request: Request) -> Response:
        now = clock.now()
        row, is_new = leave_out(document_of(request), signature_of(request.user, now), now=now)
        return Response(write(row, LeftOutJob), status=201 if is_new else 200)


class LeftOutUndo(ApiView):
    @describe("take_job_in_again", "The job counts again.", takes="NotLeftOut", gives="TakenIn")
    def post(self, request: Request) -> Response:
        now = clock.now()
        return Response({"was_out": take_in_again(document_of(request), signature_of(request.user, now), now=now)})


class LeftOvers(ApiView):
    @describe("read_left_over", "Boards left over when a job was done.", gives="LeftOver", tagged=True)
    def get(self, request: Request, key: str) -> Response:
        return answered(job_of(key))

    @describe(
        "count_left_over",
        "Boards left over, whole: what is not named is not counted.",
        takes="NewLeftOver",
        gives="LeftOver",
        tagged=True,
        guarded="what is left over",
    )
    @transaction.atomic
    def put(self, request: Request, key: str) -> Response:
        job, now = job_of(key), clock.now()
        held(request, Job.objects.filter(pk=job.pk), lambda: of_left_over(job))
        count_left_over(job, document_of(request), signature_of(request.user, now), now=now)
        return answered(job)


def answered(job: Job) -> Response:
    document = of_left_over(job)
    return tagged(Response(document), mark_of(document))


def of_left_over(job: Job) -> Document:
    counted = left_over_of(job)
    return {"left_over": {row.code: plain(counted.get(row.code)) for row in boards_of(job)}}
