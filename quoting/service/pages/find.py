"""The find box of the masthead: one exact key goes straight to its page, anything else to a short list."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from quoting.platform.people import access
from quoting.service.services.finding import find_all, named

LONGEST = 100


def find(request: HttpRequest) -> HttpResponse:
    words = request.GET.get("q", "").replace("\x00", "").strip()[:LONGEST]
    role = access.role_of(request.user)
    if only := named(words, role):
        return redirect(only)
    return render(request, "service/find.html", {"sought": words, "groups": find_all(words, role)})
