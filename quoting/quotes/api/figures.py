"""What is worked out of the stored job, as of a day."""

from datetime import date

from rest_framework.request import Request
from rest_framework.response import Response

from jobs.core.results.result_documents import TakeoffShown, WallTakeoffShown
from jobs.core.results.schedule_shown import ScheduleShown
from jobs.jobs.services.jobs import job_of
from jobs.walls.services.walls import wall_of
from quoting.core.quotes.quote_document import quote_view
from quoting.core.quotes.work_up import WorkUp
from quoting.job_files.services.job_files import figures_mark, work_up_job
from quoting.job_files.services.unsaved_work_up import take_off_stored
from quoting.platform.api.base import WorkingView, day_asked, tagged
from quoting.platform.api.declared import shown
from quoting.platform.api.describing import TODAY, describe


class JobTakeoff(WorkingView):
    @describe(
        "read_takeoff", "Every wall, quantity and purchase of a job.", gives="Takeoff", query=(TODAY,), works=True
    )
    def get(self, request: Request, key: str) -> Response:
        return _shown(request, key, TakeoffShown)


class WallTakeoff(WorkingView):
    @describe("read_wall_takeoff", "The takeoff of one wall.", gives="WallTakeoff", query=(TODAY,), works=True)
    def get(self, request: Request, key: str, wall_key: str) -> Response:
        wall = take_off_stored(wall_of(key, wall_key), day_asked(request))
        return Response(shown(request, wall, WallTakeoffShown, wall.system))


class JobSchedule(WorkingView):
    @describe(
        "read_schedule",
        "Activities, and the days by which everything is decided, ordered and on site.",
        gives="Schedule",
        query=(TODAY,),
        works=True,
    )
    def get(self, request: Request, key: str) -> Response:
        return _shown(request, key, ScheduleShown)


class JobQuote(WorkingView):
    @describe(
        "read_quote",
        "The quote as it would be issued; its ETag is what issuing asks for.",
        gives="Quote",
        query=(TODAY,),
        works=True,
        tagged=True,
    )
    def get(self, request: Request, key: str) -> Response:
        day = day_asked(request)
        work_up = worked_up(key, day)
        answer = shown(request, work_up, quote_view(work_up), work_up.read.book.firm.display_units)
        return tagged(Response(answer), figures_mark(work_up.read, day))


def _shown(request: Request, key: str, view: type) -> Response:
    work_up = worked_up(key, day_asked(request))
    return Response(shown(request, work_up, view, work_up.read.book.firm.display_units))


def worked_up(key: str, day: date) -> WorkUp:
    return work_up_job(job_of(key), day)
