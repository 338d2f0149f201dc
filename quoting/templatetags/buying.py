from decimal import Decimal
from typing import Any

from django import template
from django.urls import reverse

from jobs.core.ordering.order_lines import count_in_words
from quoting.templatetags.navigation import Place

register = template.Library()

VIEWS = (
    ("order_dates", "To order"),
    ("on_the_way", "On the way"),
    ("received", "Received"),
    ("supplier_list", "Suppliers"),
)


@register.inclusion_tag("buying/_views.html")
def buying_views(current: str) -> dict[str, Any]:
    """The pages of Buying. current: the url name of the one they stand on."""
    return {"views": [Place(label, reverse(name), name == current) for name, label in VIEWS]}


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
