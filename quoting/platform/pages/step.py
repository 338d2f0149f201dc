from collections.abc import Callable

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.html import format_html

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused


def step(request: HttpRequest, act: Callable[[], str], to: str) -> HttpResponse:
    """One button pressed. act: does it and says so; a refusal is told where the person goes on, and nothing is kept."""
    try:
        messages.success(request, act())
    except DocumentError as error:
        messages.error(request, "; ".join(str(complaint) for complaint in error.complaints))
    except Refused as refusal:
        for sentence in refusal.sentences:
            messages.error(request, _with_link(sentence, refusal))
    return redirect(to)


def _with_link(sentence: str, refusal: Refused) -> str:
    if not refusal.place:
        return sentence
    name, *args = refusal.place
    return format_html('{} <a href="{}">Open the list</a>', sentence, reverse(name, args=args))
