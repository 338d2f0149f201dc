from dataclasses import replace

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.document_reader import DocumentError, Reader
from jobs.core.measure.wall_document import read_wall
from jobs.walls.services.walls import wall_of
from quoting.field_checks.api.shapes import FieldCheckShown, WallChecked
from quoting.field_checks.services.field_checks import SiteCheck, check_on_site, quoted_wall
from quoting.platform import clock
from quoting.platform.api.base import (
    ApiView,
    PlainCalls,
    WorkUps,
    document_of,
    sees_costs,
    unit_asked,
)
from quoting.platform.api.declared import shown
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import day_at_the_firm


class WallFieldCheck(ApiView):
    throttle_classes = (PlainCalls, WorkUps)

    @describe(
        "check_wall_on_site",
        "The wall as confirmed on site, sent whole, beside the wall as quoted: what moves. Nothing is stored.",
        takes="Wall",
        gives="FieldCheck",
        units=True,
    )
    def post(self, request: Request, key: str, wall_key: str) -> Response:
        document, wall, today = document_of(request), wall_of(key, wall_key), day_at_the_firm(clock.now())
        if document.get("key") != wall_key:
            raise DocumentError.at("key", f'must be "{wall_key}": a field check sets a wall beside itself')
        reader = Reader(document, bare_unit=unit_asked(request))
        confirmed = read_wall(reader)
        reader.finish()
        check = check_on_site(wall, confirmed, quoted_wall(wall), today)
        answer = WallChecked(key, wall_key, today, _without_prices(request, check))
        return Response(shown(request, answer, FieldCheckShown, check.system))


def _without_prices(request: Request, check: SiteCheck) -> SiteCheck:
    """The lead sees what moves and no money, so nothing of which the cost alone does."""
    if sees_costs(request):
        return check
    purchases = tuple(row for row in check.moved.purchases if row.quoted != row.confirmed)
    return replace(check, moved=replace(check.moved, purchases=purchases))
