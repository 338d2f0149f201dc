from typing import Any

from django import template
from django.urls import reverse

from jobs.buying.services.listed_orders import on_the_way
from jobs.orders.models import Order
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
    coming = on_the_way(Order.objects.all()).count()
    labels = {"on_the_way": f"On the way {coming}"} if coming else {}
    return {"views": [Place(labels.get(name, label), reverse(name), name == current) for name, label in VIEWS]}
