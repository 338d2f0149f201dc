"""Calls that store nothing."""

from rest_framework.request import Request
from rest_framework.response import Response

from jobs.core.results.result_documents import TakeoffShown, WallTakeoffShown
from jobs.core.results.schedule_shown import ScheduleShown
from quoting.core.quotes.quote_document import quote_view
from quoting.job_files.services.unsaved_work_up import take_off_sent, work_up_sent
from quoting.platform.api.base import ApiView, PlainCalls, WorkUps, day_asked, document_of
from quoting.platform.api.declared import shown
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
        system = work_up.read.book.firm.display_units
        return Response(
            {
                "takeoff": shown(request, work_up, TakeoffShown, system),
                "schedule": shown(request, work_up, ScheduleShown, system),
                "quote": shown(request, work_up, quote_view(work_up), system),
            }
        )


class TakeoffOfWall(ApiView):
    throttle_classes = (PlainCalls, WorkUps)

    @describe(
        "take_off",
        "Take one wall off. Materials sent with it go before the catalog's. Nothing is stored.",
        takes="WallToTakeOff",
        gives="WallTakeoff",
        query=(TODAY,),
        works=True,
    )
    def post(self, request: Request) -> Response:
        wall = take_off_sent(document_of(request), day_asked(request))
        return Response(shown(request, wall, WallTakeoffShown, wall.system))
