"""Calls that store nothing."""

from rest_framework.request import Request
from rest_framework.response import Response

from jobs.core.results.result_documents import schedule_document, takeoff_document
from jobs.work_up.api.visible import schedule_for, takeoff_for
from quoting.core.quotes.quote_document import quote_document
from quoting.job_files.api.visible import quote_for
from quoting.job_files.services.unsaved_work_up import one_wall_document, take_off_sent, work_up_sent
from quoting.platform.api.base import ApiView, PlainCalls, WorkUps, day_asked, document_of
from quoting.platform.api.describing import TODAY, describe


class WorkUpJobFile(ApiView):
    throttle_classes = (PlainCalls, WorkUps)

    @describe(
        "work_up",
        "Work a whole job file up: takeoff, schedule and quote. Nothing is stored.",
        takes="JobFile",
        gives="WorkUp",
        query=(TODAY,),
    )
    def post(self, request: Request) -> Response:
        work_up = work_up_sent(document_of(request), day_asked(request))
        return Response(
            {
                "takeoff": takeoff_for(request, takeoff_document(work_up)),
                "schedule": schedule_for(request, schedule_document(work_up)),
                "quote": quote_for(request, quote_document(work_up)),
            }
        )


class TakeoffOfWall(ApiView):
    throttle_classes = (PlainCalls, WorkUps)

    @describe(
        "take_off",
        "Take one wall off. Materials sent with it stand before the catalog's. Nothing is stored.",
        takes="WallToTakeOff",
        gives="WallTakeoff",
        query=(TODAY,),
        works=True,
    )
    def post(self, request: Request) -> Response:
        wall = take_off_sent(document_of(request), day_asked(request))
        return Response(takeoff_for(request, one_wall_document(wall)))
