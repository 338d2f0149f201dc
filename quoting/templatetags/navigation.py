from dataclasses import dataclass
from typing import Any

from django import template
from django.urls import NoReverseMatch, reverse

from quoting.platform.people import access

register = template.Library()

PLACES = (
    ("today", "Today"),
    ("job_list", "Jobs"),
    ("order_dates", "Order dates"),
    ("order_list", "Orders"),
    ("receiving", "Receiving"),
    ("stock", "Stock"),
    ("catalog", "Catalog"),
    ("people", "People"),
    ("account", "Your account"),
)


@dataclass(frozen=True)
class Place:
    label: str
    url: str
    is_current: bool


@register.simple_tag(takes_context=True)
def places(context: dict[str, Any]) -> list[Place]:
    """The places this person may open: the access matrix decides, as it does for the pages themselves."""
    request = context.get("request")
    role = access.role_of(getattr(request, "user", None))
    current = getattr(getattr(request, "resolver_match", None), "url_name", None)
    shown = []
    for url_name, label in PLACES:
        if not access.is_allowed(role, url_name, "GET"):
            continue
        try:
            shown.append(Place(label, reverse(url_name), url_name == current))
        except NoReverseMatch:
            continue
    return shown
