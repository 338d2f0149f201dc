"""The pages of the catalog and of the firm; the access matrix decides which are open to whom."""

from typing import Any

from django import template
from django.urls import reverse

from quoting.platform.people import access
from quoting.templatetags.navigation import Place

register = template.Library()

OF_THE_CATALOG = (("catalog", "Materials"), ("supplier_list", "Suppliers"), ("catalog_csv_in", "As a sheet"))
OF_THE_FIRM = (
    ("firm", "Standards"),
    ("learnt", "Own record"),
    ("rates", "Rates"),
    ("usual_pricing", "Usual prices"),
    ("firm_texts", "Words"),
    ("cancellation_terms", "Taking back"),
    ("request_terms", "How clients pay"),
    ("money_limits", "Warnings"),
    ("people", "People"),
    ("workers", "Workers"),
)


@register.inclusion_tag("jobs/_views.html", takes_context=True)
def catalog_views(context: dict[str, Any]) -> dict[str, Any]:
    return _views(context["request"], OF_THE_CATALOG)


@register.inclusion_tag("jobs/_views.html", takes_context=True)
def firm_views(context: dict[str, Any]) -> dict[str, Any]:
    return _views(context["request"], OF_THE_FIRM)


def _views(request: Any, views: tuple[tuple[str, str], ...]) -> dict[str, Any]:
    role, links = access.role_of(request.user), []
    for name, label in views:
        if access.is_allowed(role, name, "GET"):
            url = reverse(name)
            within = request.path == url or (name == "catalog_csv_in" and request.path.startswith(url))
            links.append(Place(label, url, within, request.path == url))
    return {"links": links}
