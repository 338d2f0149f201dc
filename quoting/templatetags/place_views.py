"""The pages of the catalog and of the firm; the access matrix decides which are open to whom."""

from typing import Any

from django import template
from django.urls import reverse

from quoting.platform.people import access
from quoting.templatetags.navigation import Place

register = template.Library()

OF_THE_CATALOG = (("catalog", "Materials"), ("supplier_list", "Suppliers"), ("catalog_csv_in", "As a sheet"))
# The rooms of the firm, each with its pages.
OF_THE_FIRM = {
    "Firm": (
        ("firm", "Particulars"),
        ("firm_mark", "Mark"),
        ("firm_kit", "Kit"),
        ("request_terms", "Payment"),
        ("money_limits", "Warnings"),
    ),
    "Rates": (("rates", "Rates"), ("usual_pricing", "Usual prices")),
    "Words": (("firm_texts", "Sentences"), ("notices", "Notices"), ("cancellation_terms", "Cancelling")),
    "Standards": (("standards", "Standards"), ("spacing_steps", "Stud spacing"), ("learnt", "Own record")),
    "Holidays": (("holidays", "Holidays"),),
    "People": (("people", "Log-ins"), ("workers", "Workers")),
}


@register.inclusion_tag("jobs/_views.html", takes_context=True)
def catalog_views(context: dict[str, Any]) -> dict[str, Any]:
    return _views(context["request"], OF_THE_CATALOG)


@register.inclusion_tag("catalog/_firm_views.html", takes_context=True)
def firm_views(context: dict[str, Any]) -> dict[str, Any]:
    """The rooms, and the pages of the one shown where it has several; nothing on a page that is none of them."""
    request = context["request"]
    if not request.path.startswith(reverse("firm")):
        return {}
    rooms = {room: _views(request, pages)["links"] for room, pages in OF_THE_FIRM.items()}
    here = next((room for room, links in rooms.items() if any(place.is_current for place in links)), "")
    if not here:
        return {}
    links = [Place(room, pages[0].url, room == here, pages[0].is_here) for room, pages in rooms.items() if pages]
    return {"links": links, "pages": rooms[here] if len(rooms[here]) > 1 else []}


def _views(request: Any, views: tuple[tuple[str, str], ...]) -> dict[str, Any]:
    role, links = access.role_of(request.user), []
    for name, label in views:
        if access.is_allowed(role, name, "GET"):
            url = reverse(name)
            within = request.path == url or (name == "catalog_csv_in" and request.path.startswith(url))
            links.append(Place(label, url, within, request.path == url))
    return {"links": links}
