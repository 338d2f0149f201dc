"""Forms filled where the signal is poor: kept in the browser until the answer is there, and sent again with one key.

The page works without the script; with it the answer to what was kept is an address instead of a redirect, since a
page fetched to follow one would use up its messages unseen.
"""

import re

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect

SENT_BY = "X-Kept-Form"
GO_TO = "X-Go-To"
KEY = re.compile(r"[0-9a-zA-Z-]{8,64}")


def answered(request: HttpRequest, url: str) -> HttpResponse:
    """What was sent is kept: on to the page that says so."""
    if request.headers.get(SENT_BY) != "1":
        return HttpResponseRedirect(url)
    response = HttpResponse(status=204)
    response[GO_TO] = url
    return response


def key_sent(request: HttpRequest) -> str:
    """The key the form was opened with; what is no key of ours is no key."""
    typed = request.POST.get("request_key", "")
    return typed if KEY.fullmatch(typed) else ""
