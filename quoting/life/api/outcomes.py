"""Why no contract came of a job."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from jobs.jobs.models import Job
from jobs.jobs.services.jobs import job_of
from quoting.life.api.shapes import OutcomeShown
from quoting.life.services.outcomes import enter_outcome, outcome_of, take_outcome_back
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import signature_of


class Outcome(ApiView):
    @describe("read_outcome", "Why a job was lost; `outcome` is null while it is not.", gives="Outcome")
    def get(self, request: Request, key: str) -> Response:
        return answered(job_of(key))

    @describe(
        "enter_outcome",
        "Say why a job is lost. Safe to repeat; another reason replaces it.",
        takes="NewOutcome",
        gives="Outcome",
        status=201,
        stands=True,
        again=True,
    )
    def post(self, request: Request, key: str) -> Response:
        job, now = job_of(key), clock.now()
        _, is_new = enter_outcome(job, document_of(request), signature_of(request.user, now), now=now)
        return answered(job, 201 if is_new else 200)


class OutcomeUndo(ApiView):
    @describe("take_outcome_back", "The job goes on. Safe to repeat.", gives="Outcome")
    def post(self, request: Request, key: str) -> Response:
        job, now = job_of(key), clock.now()
        take_outcome_back(job, signature_of(request.user, now), now=now)
        return answered(job)


def answered(job: Job, status: int = 200) -> Response:
    return Response(write(outcome_of(job), OutcomeShown), status=status)
