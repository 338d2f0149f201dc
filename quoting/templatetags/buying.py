from decimal import Decimal
from typing import Any

from django import template
from django.urls import reverse

from jobs.core.ordering.order_lines import count_in_words
from quoting.platform.people import access
from quoting.templatetags.navigation import Place

register = template.Library()

VIEWS = (
    ("order_dates", "To order"),
    ("on_the_way", "On the way"),
    ("received", "Received"),
    ("bill_list", "Bills"),
    ("supplier_list", "Suppliers"),
    ("hand_over", "Bookkeeper"),
)


@register.inclusion_tag("buying/_views.html", takes_context=True)
def buying_views(context: dict[str, Any], current: str) -> dict[str, Any]:
    """The pages of Buying open to whoever reads. current: the url name of the one they stand on."""
    role = access.role_of(context["request"].user)
    views = [(name, label) for name, label in VIEWS if access.is_allowed(role, name, "GET")]
    return {"views": [Place(label, reverse(name), name == current) for name, label in views]}


@register.filter
def counted(quantity: Decimal, unit: str) -> str:
    return count_in_words(quantity, unit)


@register.filter
def short_name(what: str) -> str:
    """What goods are, without their measures and their code."""
    return what.partition(",")[0].partition(" (")[0]


@register.filter
def without_code(what: str) -> str:
    return what.rpartition(" (")[0] or what
