"""Pages for people about the API: its rooms, the calls of one, and the shapes they send and answer."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from quoting.service.api import sheet


def rooms(request: HttpRequest) -> HttpResponse:
    return render(request, "service/api.html", {"rooms": sheet.rooms().items()})


def room(request: HttpRequest, name: str) -> HttpResponse:
    calls = sheet.rooms().get(name)
    if calls is None:
        raise Http404("The API has no such room.")
    return render(request, "service/api_room.html", {"name": name, "calls": calls, "rooms": sheet.rooms()})


def shape(request: HttpRequest, name: str) -> HttpResponse:
    result = sheet.shape_named(name)
    if result is None:
        raise Http404("The API has no such shape.")
    return render(request, "service/api_shape.html", {"shape": result})
