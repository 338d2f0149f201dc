from typing import Any

from django import template
from django.urls import NoReverseMatch, reverse

from quoting.platform.people import access
from quoting.templatetags.navigation import Place

register = template.Library()

PLACES = (
    ("job", "Job sheet"),
    ("quote", "Quote"),
    ("change_list", "Changes"),
    ("payments", "Payments"),
    ("job_builds", "Compare builds"),
    ("job_plans", "Cutting plans"),
    ("job_items", "Other items"),
    ("job_order_dates", "Order dates"),
    ("job_activities", "Activities"),
    ("site_sheet", "Site sheet"),
    ("templates", "Templates"),
    ("job_history", "History"),
    ("job_export", "Job file"),
)


@register.simple_tag(takes_context=True)
def job_places(context: dict[str, Any], job: Any) -> list[Place]:
    """The pages of one job this person may open: the access matrix decides."""
    request = context["request"]
    role = access.role_of(request.user)
    current = request.resolver_match.url_name if request.resolver_match else ""
    shown = []
    for url_name, label in PLACES:
        if access.is_allowed(role, url_name, "GET"):
            try:
                shown.append(Place(label, reverse(url_name, args=[job.pk]), url_name == current))
            except NoReverseMatch:
                continue
    return shown
