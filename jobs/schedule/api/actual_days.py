"""Activities begun and ended on site. Whoever is on the staff may say so; it is signed with their name."""

from collections.abc import Callable

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import Reader
from jobs.jobs.services.jobs import job_of
from jobs.schedule.api.shapes.schedule import OnDay
from jobs.schedule.models import ActualDays
from jobs.schedule.services.actual_days import begin_activity, end_activity, take_begin_back, take_end_back
from quoting.platform import clock
from quoting.platform.api.base import WorkingView, document_of
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import signature_of

Say = Callable[..., tuple[ActualDays, bool]]


class ActivityBegin(WorkingView):
    @describe(
        "begin_activity",
        "Say that an activity began, today where no day is said. Safe to repeat; what follows moves with it.",
        takes="OnDay",
        gives="ActualDays",
        status=201,
    )
    def post(self, request: Request, key: str, activity: str) -> Response:
        return _answer(request, key, activity, begin_activity)

    @describe(
        "take_begin_back", "Undo that an activity began; if it has ended, undo its end first.", status=204, stands=True
    )
    def delete(self, request: Request, key: str, activity: str) -> Response:
        take_begin_back(job_of(key), activity)
        return Response(status=204)


class ActivityEnd(WorkingView):
    @describe(
        "end_activity",
        "Say that an activity that began has ended, today where no day is said. Safe to repeat.",
        takes="OnDay",
        gives="ActualDays",
        status=201,
    )
    def post(self, request: Request, key: str, activity: str) -> Response:
        return _answer(request, key, activity, end_activity)

    @describe("take_end_back", "Undo that an activity ended.", status=204, stands=True)
    def delete(self, request: Request, key: str, activity: str) -> Response:
        take_end_back(job_of(key), activity)
        return Response(status=204)


def _answer(request: Request, key: str, activity: str, say: Say) -> Response:
    sent = read(OnDay, Reader(document_of(request)))
    row, _ = say(job_of(key), activity, signature_of(request.user, clock.now()), on=sent.on)
    return Response(write(row.to_core()), status=201)
