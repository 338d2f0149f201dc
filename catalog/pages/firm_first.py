from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from catalog.services.book import NoFirmYet

View = Callable[..., HttpResponse]


def firm_first(view: View) -> View:
    """Where nothing can be shown before the firm is entered, the start page says what to do first."""

    @wraps(view)
    def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        try:
            return view(request, *args, **kwargs)
        except NoFirmYet as missing:
            messages.error(request, str(missing))
            return redirect("today")

    return guarded
