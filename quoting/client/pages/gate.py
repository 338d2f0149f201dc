"""The way in to a client's page: the link is the key, and nothing of it is kept, cached, told on or found again."""

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from quoting.client.models import ClientLink
from quoting.client.services.client_links import find_link
from quoting.platform import clock
from quoting.platform.people.rate_limits import RateLimit, network_of

LOOKS = RateLimit(most=240, window_s=60)
ANSWERS = RateLimit(most=10, window_s=60)
OPENINGS = RateLimit(most=10, window_s=60)
WRONG_LINKS = RateLimit(most=30, window_s=600)
View = Callable[..., HttpResponse]


def by_link(view: View, limit: RateLimit | None = None) -> View:
    """Hands the view the link of a secret; answers unknown, withdrawn and too frequent ones itself. limit: of the view
    alone, so that it takes nothing from the others."""

    @wraps(view)
    def guarded(request: HttpRequest, secret: str, **kwargs: Any) -> HttpResponse:
        return sealed(_answer(view, limit, request, secret, **kwargs))

    return guarded


def sealed(response: HttpResponse) -> HttpResponse:
    response["Cache-Control"] = "no-store"
    response["Referrer-Policy"] = "no-referrer"
    response["X-Robots-Tag"] = "noindex, nofollow, noarchive"
    return response


def _answer(view: View, limit: RateLimit | None, request: HttpRequest, secret: str, **kwargs: Any) -> HttpResponse:
    network, now = network_of(request), clock.now()
    limit = limit or (ANSWERS if request.method == "POST" else LOOKS)
    if not limit.takes(network, now):
        return notice_page(request, 429, "Too many at once", "Wait a minute, then open the link again.")
    link = find_link(secret)
    if link is None:
        if not WRONG_LINKS.takes(network, now):
            return notice_page(request, 429, "Too many at once", "Wait ten minutes, then open the link again.")
        advice = "Open it from the mail, whole, or ask the firm that sent it for a new one."
        return notice_page(request, 404, "This link leads nowhere", advice)
    if link.withdrawn_at is not None:
        advice = "A newer link may be in a later mail. If not, ask the firm that sent it for a new one."
        return notice_page(request, 410, "This link is no longer in use", advice)
    try:
        return view(request, link, secret, **kwargs)
    except Http404 as missing:
        # Answered here, so that what is not there is sealed as all the rest.
        return notice_page(request, 404, "This is not there", str(missing))


def notice_page(request: HttpRequest, status: int, heading: str, sentence: str) -> HttpResponse:
    context = {"heading": heading, "sentence": sentence}
    response = render(request, "client/told.html", context, status=status)
    if status == 429:
        response["Retry-After"] = "60"
    return response


__all__ = ["ANSWERS", "LOOKS", "OPENINGS", "WRONG_LINKS", "ClientLink", "by_link", "notice_page", "sealed"]
