"""What the lead builds from, as data. No money and no supplier in here."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.document_reader import DocumentError
from jobs.jobs.services.jobs import job_of
from jobs.site.api.shapes import SiteSheetShown
from jobs.site.services.on_site import arrivals_of
from jobs.site.services.sheet_document import sheet_facts
from jobs.site.services.words import interval_in_bounds
from jobs.work_up.services.job_work_up import stored_work_up
from quoting.platform import clock
from quoting.platform.api.base import UNITS, WorkingView, query_of
from quoting.platform.api.declared import shown
from quoting.platform.api.describing import BARE_UNIT, Query, describe
from quoting.platform.firm_day import day_at_the_firm

INTERVAL = Query(
    "interval", {"type": "string"}, "Of the ordinates, 10 mm to 10 m; a foot, or 300 mm in a metric firm, if not given."
)


class SiteSheet(WorkingView):
    @describe(
        "read_site_sheet",
        "The site sheet of a job: setting out, studs, boards, trim, cut lists, and what of each material has come.",
        gives="SiteSheet",
        query=(INTERVAL, BARE_UNIT),
        works=True,
    )
    def get(self, request: Request, key: str) -> Response:
        interval_mm, job = interval_asked(request), job_of(key)
        work_up = stored_work_up(job, day_at_the_firm(clock.now()))
        system = work_up.read.book.firm.display_units
        return Response(shown(request, sheet_facts(work_up, arrivals_of(job), interval_mm), SiteSheetShown, system))


def interval_asked(request: Request) -> float | None:
    query = query_of(request)
    query.bare_unit = query.choice("units", UNITS, "in")
    interval_mm = query.optional_length("interval")
    query.finish()
    try:
        return None if interval_mm is None else interval_in_bounds(interval_mm)
    except ValueError as error:
        raise DocumentError.at("interval", str(error)) from error
