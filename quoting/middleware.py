from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

Respond = Callable[[HttpRequest], HttpResponse]


class RequestIdMiddleware:
    def __init__(self, respond: Respond) -> None:
        self.respond = respond

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.respond(request)


class AccessMiddleware:
    def __init__(self, respond: Respond) -> None:
        self.respond = respond

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.respond(request)
