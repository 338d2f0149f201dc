"""How a view's method is described in the schema: what it takes, what it gives, and how it can refuse."""

from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

from drf_spectacular.utils import OpenApiParameter, OpenApiResponse, extend_schema

from quoting.platform.api.base import MAX_A_PAGE, UNITS
from quoting.platform.problems import PROBLEM

Schema = dict[str, Any]
ALWAYS = {
    401: "No token, or one that is not good.",
    403: "Your role does not allow this.",
    404: "There is nothing of that name.",
    406: "Only JSON is spoken here.",
    415: "The body is not JSON by its content type.",
    429: "Too many calls; Retry-After says how long to wait.",
    500: "It failed here; the log says why.",
    503: "A stored paper cannot be read; restore it from the backup.",
}
FILES = {"pdf": ("application/pdf",), "picture": ("image/jpeg", "image/png")}


class Query(NamedTuple):
    name: str
    schema: Schema
    about: str


TODAY = Query(
    "today",
    {"$ref": "#/components/schemas/Day"},
    "The day the figures hold for: prices, lead terms and days in hand. The firm's today when not said.",
)
PAGING = (
    Query("limit", {"type": "integer", "minimum": 1, "maximum": MAX_A_PAGE, "default": 100}, "The most results."),
    Query("offset", {"type": "integer", "minimum": 0, "maximum": 1_000_000_000, "default": 0}, "Results passed over."),
)
BARE_UNIT = Query("units", {"enum": list(UNITS), "default": "in"}, "Unit of lengths given without one.")


def describe(
    name: str,
    about: str,
    *,
    takes: str = "",
    gives: str = "",
    status: int = 200,
    query: Sequence[Query] = (),
    paged: bool = False,
    units: bool = False,
    tagged: bool = False,
    guarded: str = "",
    works: bool = False,
    stands: bool = False,
    again: bool = False,
) -> Callable[[Any], Any]:
    """takes, gives: names of components. tagged: answers with an ETag. guarded: what If-Match must name.
    works, stands: can be refused with 409 as things stand. again: asked twice it answers 200."""
    parameters = [_asked(entry) for entry in (*query, *(PAGING if paged else ()), *((BARE_UNIT,) if units else ()))]
    answer = OpenApiResponse(_content(gives), description=about) if gives else OpenApiResponse(description="Done.")
    kinds = FILES.get(gives, ())
    responses: dict[Any, Any] = {(status, kind): answer for kind in kinds} if kinds else {status: answer}
    if again:
        responses[200] = OpenApiResponse(_component(gives), description="It was issued before, by the same key.")
    if guarded:
        parameters.append(_if_match(guarded))
        responses |= _problems({412: "It was changed since.", 428: "If-Match is missing."})
    if tagged:
        parameters.append(_etag(status))
    refusals = {400: "What was sent cannot be used; every reason with its path."}
    if works or stands or guarded or takes:
        refusals[409] = "It cannot be done as things stand; every reason."
    if takes:
        refusals[413] = "The body is larger than 10 MB."
    responses |= _problems(refusals | ALWAYS)
    return extend_schema(
        operation_id=name,
        summary=about.partition(". ")[0].rstrip("."),
        description=about,
        request={"application/json": _component(takes)} if takes else None,
        parameters=parameters,
        responses=responses,
    )


def _component(name: str) -> Schema:
    return {"$ref": f"#/components/schemas/{name}"}


def _content(name: str) -> Any:
    return {"type": "string", "format": "binary"} if name in FILES else _component(name)


def _asked(row: Query) -> OpenApiParameter:
    return OpenApiParameter(row.name, row.schema, "query", description=row.about)


def _if_match(what: str) -> OpenApiParameter:
    schema = {"type": "string", "pattern": '^"[0-9a-f]{1,64}"$', "example": '"3"'}
    about = f"The ETag of {what}, as it came: the change is made from that and from nothing newer."
    return OpenApiParameter("If-Match", schema, "header", required=True, description=about)


def _etag(status: int) -> OpenApiParameter:
    schema = {"type": "string", "pattern": '^"[0-9a-f]+"$'}
    return OpenApiParameter("ETag", schema, "header", response=[status], description="Its version.")


def _problems(statuses: dict[int, str]) -> dict[Any, Any]:
    answer = _component("Problem")
    return {(code, PROBLEM): OpenApiResponse(answer, description=about) for code, about in statuses.items()}
