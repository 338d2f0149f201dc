"""What every step on an order has in common: what stands in the way is told in its place, and nothing is kept."""

from django.http import Http404, HttpRequest
from django.shortcuts import get_object_or_404

from catalog.core.ground.refusal import Refused
from jobs.orders.models import Order


def order_or_404(order_id: int) -> Order:
    return get_object_or_404(Order.objects.select_related("supplier"), pk=order_id)


def code_or_404(code: str) -> str:
    # PostgreSQL cannot be asked for text that holds it.
    if "\x00" in code:
        raise Http404
    return code


def version_seen(request: HttpRequest) -> int:
    text = request.POST.get("version", "")
    if not (text.isascii() and text.isdigit() and len(text) <= 9):
        raise Refused("The page this was sent from is not known here: open the order again.")
    return int(text)
