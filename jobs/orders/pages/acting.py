"""What every step on an order has in common: what stands in the way is told in its place, and nothing is kept."""

from collections.abc import Callable

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect

from jobs.jobs.services.versions import ChangedMeanwhile
from jobs.orders.models import Order
from jobs.orders.services.refusal import OrderRefused
from quoting.client.services.mails import MailRefused


def order_or_404(order_id: int) -> Order:
    return get_object_or_404(Order.objects.select_related("supplier"), pk=order_id)


def code_or_404(code: str) -> str:
    # PostgreSQL cannot be asked for text that holds it.
    if "\x00" in code:
        raise Http404
    return code


def step(request: HttpRequest, act: Callable[[], str], to: str) -> HttpResponse:
    """act: does it and says so."""
    try:
        messages.success(request, act())
    except OrderRefused as refusal:
        for sentence in refusal.sentences:
            messages.error(request, sentence)
    except (ChangedMeanwhile, MailRefused) as refusal:
        messages.error(request, str(refusal))
    return redirect(to)


def version_seen(request: HttpRequest) -> int:
    text = request.POST.get("version", "")
    if not (text.isascii() and text.isdigit() and len(text) <= 9):
        raise OrderRefused("The page this was sent from is not known here: open the order again.")
    return int(text)
