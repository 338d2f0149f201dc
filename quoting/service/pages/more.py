"""What a phone's foot has no room for."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render


def more(request: HttpRequest) -> HttpResponse:
    return render(request, "service/more.html")
