"""What every view of the API has in common."""

import hashlib
import json
import re
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import Any, ClassVar, TypeVar

from django.db.models import QuerySet
from django.http import Http404
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.throttling import UserRateThrottle
from rest_framework.views import APIView

from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.units import BareLengthUnit
from quoting.platform import clock
from quoting.platform.api.errors import NotAsSeen, NoVersionGiven
from quoting.platform.api.parsing import DocumentParser
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people import access

Row = TypeVar("Row")
Document = dict[str, Any]
MAX_A_PAGE = 500
UNITS: tuple[BareLengthUnit, ...] = ("in", "mm")
VERSION_RE = re.compile(r'"([0-9]{1,9})"')


class Throttle(UserRateThrottle):
    """So many calls a person: enough for any spreadsheet, too few to wear the service out."""

    timer: ClassVar[Any] = staticmethod(lambda: clock.now().timestamp())


class PlainCalls(Throttle):
    scope = "api"
    rate = "1200/min"


class WorkUps(Throttle):
    """A call that works walls up takes up to seconds of computing."""

    scope = "api_work_ups"
    rate = "120/min"


class ApiView(APIView):
    parser_classes = (DocumentParser,)
    throttle_classes: Sequence[type[Throttle]] = (PlainCalls,)
    status_of_impossible_wall = 400

    def initial(self, request: Request, *args: Any, **kwargs: Any) -> None:
        # PostgreSQL cannot be asked for text that holds it.
        if any("\0" in value for value in kwargs.values() if isinstance(value, str)):
            raise Http404
        super().initial(request, *args, **kwargs)


class WorkingView(ApiView):
    """Works up what is stored: a wall that is impossible is in the way, not in the request."""

    throttle_classes = (PlainCalls, WorkUps)
    status_of_impossible_wall = 409


def query_of(request: Request) -> Reader:
    """The query, to be read by name like a document; call `finish` so that a misspelt name is told."""
    if any("\0" in value for value in request.query_params.values()):
        raise DocumentError.at("", "the query holds the character U+0000")
    return Reader(request.query_params.dict())


def day_asked(request: Request) -> date:
    query = query_of(request)
    day = query.optional_day("today")
    query.finish()
    return day or day_at_the_firm(clock.now())


def unit_asked(request: Request) -> BareLengthUnit:
    query = query_of(request)
    unit: BareLengthUnit = query.choice("units", UNITS, "in")
    query.finish()
    return unit


def document_of(request: Request, known: Sequence[str] = ()) -> Document:
    """The body; with `known`, refused when it holds any other name."""
    document: Document = request.data if isinstance(request.data, dict) else {}
    if known:
        reader = Reader(document)
        for name in known:
            reader.pass_over(name)
        reader.finish()
    return document


def page_of(query: Reader, rows: Sequence[Row], write: Callable[[Row], Document]) -> Response:
    return page_at_once(query, rows, lambda result: [write(row) for row in result])


def page_at_once(query: Reader, rows: Sequence[Row], write: Callable[[Sequence[Row]], list[Document]]) -> Response:
    """write: all rows of the page, for what is read of many at once."""
    limit, offset = query.whole("limit", 1, MAX_A_PAGE, 100), query.whole("offset", 0, 1_000_000_000, 0)
    query.finish()
    results = write(rows[offset : offset + limit])
    return Response({"count": len(rows), "limit": limit, "offset": offset, "results": results})


def version_seen(request: Request) -> int:
    """The version the change was made from, in If-Match: without it one person's change undoes another's."""
    match = VERSION_RE.fullmatch(_if_match(request))
    if match is None:
        raise DocumentError.at("If-Match", 'is not a version; send the ETag as it came, such as "3"')
    return int(match[1])


def mark_seen(request: Request) -> str:
    return _if_match(request).strip('"')


def _if_match(request: Request) -> str:
    given = request.headers.get("If-Match", "").strip()
    if not given:
        raise NoVersionGiven("is missing: send the ETag of what you changed, so that nobody's change is lost")
    return given


def mark_of(document: Any) -> str:
    """A mark over what a row says, for rows that count no versions."""
    return hashlib.sha256(json.dumps(document, sort_keys=True, default=str).encode()).hexdigest()[:32]


def held(request: Request, rows: QuerySet[Any], write: Callable[[], Document]) -> None:
    """Refused when what `write` gives is not what If-Match names; until the transaction ends nobody changes `rows`."""
    seen = mark_seen(request)
    list(rows.order_by("pk").select_for_update(of=("self",)).values_list("pk"))
    if mark_of(write()) != seen:
        raise NotAsSeen


def tagged(response: Response, mark: int | str) -> Response:
    response["ETag"] = f'"{mark}"'
    return response


def sees_costs(request: Request) -> bool:
    return access.role_of(request.user) in access.DESK


def sees_margins(request: Request) -> bool:
    return access.role_of(request.user) in access.PRICERS


def without(document: Mapping[str, Any], *names: str) -> Document:
    return {name: value for name, value in document.items() if name not in names}


def day(value: Any) -> str | None:
    return None if value is None else value.isoformat()
