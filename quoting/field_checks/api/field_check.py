from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.document_reader import DocumentError, Reader
from jobs.core.measure.wall_document import read_wall
from jobs.core.results.field_check_document import field_check_document, sides, wall_moves_document
from jobs.walls.services.walls import wall_of
from quoting.field_checks.services.field_checks import check_on_site, quoted_wall
from quoting.platform import clock
from quoting.platform.api.base import (
    ApiView,
    Document,
    PlainCalls,
    WorkUps,
    document_of,
    sees_costs,
    sees_margins,
    unit_asked,
    without,
)
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
        answer = {
            "job": key,
            "wall": wall_key,
            "today": today.isoformat(),
            "quoted": check.quoted.said,
            "currency": check.currency,
            **wall_moves_document(check.moves, check.system),
            **field_check_document(check.moved),
            "price": sides(check.quoted_price, check.confirmed_price, check.price_difference),
            "price_missing": check.unpriced or None,
            "price_held": list(check.held),
        }
        return Response(field_check_for(request, answer))


def field_check_for(request: Request, check: Document) -> Document:
    """Materials' costs are the desk's, prices theirs who make them; the lead sees what moves and no money."""
    if sees_margins(request):
        return check
    check = without(check, "price", "price_missing", "price_held")
    if sees_costs(request):
        return check
    moved = [entry for entry in check["purchases"] if entry["quoted"] != entry["confirmed"]]
    purchases = [without(entry, "quoted_cost", "confirmed_cost") for entry in moved]
    return without(check, "material_cost", "currency") | {"purchases": purchases}
