"""The five rooms of a job, and the pages within the room shown; the access matrix decides which are open to whom."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from django import template
from django.urls import reverse

from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people import access
from quoting.platform.people.models import Role
from quoting.service.services.waiting_counts import to_decide_by_wall, waiting_counts
from quoting.templatetags.navigation import Place

register = template.Library()

JOB, WALLS, PRICE, BUYING, SITE = "job", "walls", "price", "buying", "site"
# Each room: its words, its first page, and its pages with theirs.
ROOMS: Mapping[str, tuple[str, str]] = {
    JOB: ("Job", "job"),
    WALLS: ("Walls", "job_walls"),
    PRICE: ("Price", "quote"),
    BUYING: ("Buying", "job_order_dates"),
    SITE: ("Site", "site_sheet"),
}
OF_THE_LEAD = (WALLS, BUYING, SITE)
VIEWS: Mapping[str, tuple[tuple[str, str], ...]] = {
    JOB: (
        ("job", "Job"),
        ("job_cautions", "Cautions"),
        ("job_history", "Everything that happened"),
    ),
    WALLS: (
        ("job_walls", "Walls"),
        ("wall_add", "Add a wall"),
        ("templates", "Templates"),
        ("job_builds", "Other ways to build"),
        ("job_plans", "Cutting plans"),
    ),
    PRICE: (("quote", "Price"), ("change_list", "Changes"), ("since_signed", "Since signed"), ("job_money", "Money")),
    BUYING: (("job_order_dates", "To order"), ("job_quantities", "Quantities"), ("job_items", "Other items")),
    SITE: (("site_sheet", "Site sheet"), ("job_dates", "Days"), ("job_hours", "Hours"), ("finish_list", "Finish list")),
}
# Pages that are no view of their own: the view they belong to.
WITHIN: Mapping[str, str] = {
    **dict.fromkeys(("wall", "wall_copy", "wall_delete", "wall_photos", "wall_quantity"), "job_walls"),
    "walls_compared": "job_walls",
    **dict.fromkeys(("template", "template_change"), "templates"),
    **dict.fromkeys(("quote_issue", "quote_approve", "quote_compare", "revision", "quote_start"), "quote"),
    **dict.fromkeys(("change_add", "change_draft", "change_note", "change_issue"), "change_list"),
    **dict.fromkeys(("order_item", "order_item_release", "order_item_sample", "substitutions"), "job_order_dates"),
    **dict.fromkeys(("site_wall", "field_check"), "site_sheet"),
    **dict.fromkeys(("job_people", "job_chance", "activity_actual"), "job_dates"),
    "finish_item": "finish_list",
    **dict.fromkeys(
        ("payments", "payment_undo", "payment_request", "request_issue", "request_credit", "event_mark"), "since_signed"
    ),
    "money_item": "job_money",
    **dict.fromkeys(("job_change", "questions"), "job"),
}
ROOM_OF: Mapping[str, str] = {name: room for room, views in VIEWS.items() for name, _ in views}


@dataclass(frozen=True)
class RoomLink:
    place: Place
    waiting: int


@register.inclusion_tag("jobs/_rooms.html", takes_context=True)
def job_rooms(context: dict[str, Any], job: Any, room: str = "") -> dict[str, Any]:
    """room: the one shown; when left out, the one the page belongs to."""
    request = context["request"]
    role, shown = access.role_of(request.user), room or ROOM_OF.get(_view(request), "")
    waiting = waiting_counts(job, day_at_the_firm(clock.now()))
    links = [
        RoomLink(_place(request, job, url_name, label, key == shown), waiting.get(key, 0))
        for key, (label, url_name) in ROOMS.items()
        if access.is_allowed(role, url_name, "GET") and (role != Role.LEAD or key in OF_THE_LEAD)
    ]
    return {"links": links}


@register.inclusion_tag("jobs/_views.html", takes_context=True)
def job_views(context: dict[str, Any], job: Any) -> dict[str, Any]:
    """The pages of the room shown, of the walls each by its name; nothing where there is only one."""
    request = context["request"]
    role, view = access.role_of(request.user), _view(request)
    shown = []
    for url_name, label in VIEWS.get(ROOM_OF.get(view, ""), ()):
        if url_name == "job_walls":
            shown += list(_walls(request, job))
        elif access.is_allowed(role, url_name, "GET"):
            shown.append(_place(request, job, url_name, label, url_name == view))
    return {"links": shown if len(shown) > 1 else []}


@register.simple_tag(takes_context=True)
def walls_of(context: dict[str, Any], job: Any) -> list[Place]:
    """The walls of a job, each with what is to decide on it."""
    return list(_walls(context["request"], job))


def _walls(request: Any, job: Any) -> Iterator[Place]:
    waiting = to_decide_by_wall(job)
    for key, name in job.walls.values_list("key", "name"):
        url = reverse("wall", args=[job.pk, key])
        is_current = request.resolver_match.kwargs.get("wall_key") == key
        yield Place(name, url, is_current, url == request.path, f"{waiting[key]} to decide" if waiting[key] else "")


def _view(request: Any) -> str:
    name = request.resolver_match.url_name if request.resolver_match else ""
    return WITHIN.get(name, name)


def _place(request: Any, job: Any, url_name: str, label: str, is_current: bool) -> Place:
    url = reverse(url_name, args=[job.pk])
    return Place(label, url, is_current, url == request.path)
