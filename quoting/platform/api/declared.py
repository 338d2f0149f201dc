"""What is declared, in the API: answers by role, components of the OpenAPI document."""

from typing import Annotated, Any

from rest_framework.request import Request

from catalog.core.ground.declared import Document, Of, Schemas, View, write
from catalog.core.ground.units import System
from quoting.platform.api.base import sees_costs, sees_margins
from quoting.platform.people import access

COMPONENTS = "#/components/schemas/"


class EnteredAndVoided(View):
    """Who entered a row, and who voided it and why; empty while nobody has."""

    entered_by: Annotated[str, Of("entered_by_name")]
    voided_by: Annotated[str, Of("voided_by_name")]
    void_reason: str


def shown(
    request: Request, value: Any, view: type | None = None, system: System = "metric", within: Any = None
) -> Document:
    """A declared value, or what a view shows of one, as the role sees it. within: the whole around it."""
    unseen = {
        "costs": not sees_costs(request),
        "margins": not sees_margins(request),
        "owner": access.role_of(request.user) not in access.OWNER,
    }
    withheld = tuple(name for name, is_unseen in unseen.items() if is_unseen)
    return write(value, view, system=system, withheld=withheld, within=within)


def list_of(name: str, under: str, each: Any, about: str) -> type[View]:
    """The view of a list that stands under one name. name: of the component."""
    listed = Annotated[tuple[each, ...], Of(list)]
    return type(name, (View,), {"__doc__": about, "__module__": __name__, "__annotations__": {under: listed}})


def answer_shapes(*declared: type) -> dict[str, Document]:
    """Components of answers: every property is there but those withheld."""
    return Schemas(COMPONENTS, camel=True, answers=True).add(declared)


def request_shapes(*declared: type) -> dict[str, Document]:
    """Components of what is sent: needed are the fields without a default."""
    return Schemas(COMPONENTS, camel=True).add(declared)
