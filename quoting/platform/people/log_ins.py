"""Logging in with a password: counted, and remembered in the browser."""

from collections.abc import Callable
from typing import Any

from django.conf import settings
from django.contrib.auth.backends import ModelBackend
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render, resolve_url

from quoting.platform import clock
from quoting.platform.people import password_hashing
from quoting.platform.people.models import Person
from quoting.platform.people.password_hashing import TooManyAtOnce
from quoting.platform.people.rate_limits import network_of
from quoting.platform.people.services import log_in_limits
from quoting.platform.people.services.log_in_limits import Guess, TooManyGuesses

COOKIE = "known_browser"


class CountedBackend(ModelBackend):
    def authenticate(
        self, request: HttpRequest | None, username: str | None = None, password: str | None = None, **kwargs: Any
    ) -> Person | None:
        if request is None or username is None or password is None:
            return None
        password_hashing.line.refuse_when_full()
        now, guess = clock.now(), Guess(username, network_of(request), request.COOKIES.get(COOKIE, ""))
        limits = log_in_limits.limits_of(guess)
        log_in_limits.count_guess(limits, now)
        try:
            person = super().authenticate(request, username, password, **kwargs)
        except TooManyAtOnce:
            log_in_limits.take_back(limits, now)
            raise
        if person is not None:
            log_in_limits.take_back(limits, now)
            request.known_browser = log_in_limits.remember(person, guess, now)  # type: ignore[attr-defined]
        return person


class LogInMiddleware:
    """Answers whoever must wait, and leaves the cookie by which a browser is known."""

    def __init__(self, respond: Callable[[HttpRequest], HttpResponse]) -> None:
        self.respond = respond

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.respond(request)
        if device := getattr(request, "known_browser", ""):
            response.set_cookie(
                COOKIE,
                device,
                max_age=log_in_limits.KNOWN_FOR,
                path=resolve_url(settings.LOGIN_URL),
                secure=settings.SESSION_COOKIE_SECURE,
                httponly=True,
                samesite="Lax",
            )
        return response

    def process_exception(self, request: HttpRequest, fault: Exception) -> HttpResponse | None:
        if not isinstance(fault, TooManyAtOnce | TooManyGuesses):
            return None
        response = render(request, "people/wait.html", {"guesses": isinstance(fault, TooManyGuesses)}, status=429)
        response["Retry-After"] = str(fault.wait_s)
        return response
