import logging
import time
import uuid
from collections.abc import Callable, Sequence
from typing import Any
from urllib.parse import urlencode

from django.conf import settings
from django.contrib.messages import ERROR
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse, HttpResponseNotAllowed, HttpResponseRedirect
from django.shortcuts import resolve_url
from django.utils import timezone

from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm, firm_zone
from quoting.platform.pages.form_key import mark_of
from quoting.platform.pages.kept_form import GO_TO, answered
from quoting.platform.people import access
from quoting.platform.people.services.sent_forms import answer_once
from quoting.platform.people.services.tokens import person_for_token
from quoting.platform.problems import problem
from quoting.platform.read_once import one_page
from quoting.platform.structured_logs import request_id

log = logging.getLogger(__name__)
Respond = Callable[[HttpRequest], HttpResponse]
# What asks whether the service is alive; it must answer without the database.
PROBES = ("health_live", "health_ready")
# What asks all the time, and the answer that says nothing: not a line of the log each.
QUIET = {(name, 200) for name in PROBES} | {("today_changes", 204)}
# Pages for people among the addresses for programs.
DOCS = "/api/docs/"


class RequestIdMiddleware:
    """Gives each request an id of our own making, and logs one line for it.

    The line names the route, never the path: a client's link carries its secret in the path.
    """

    def __init__(self, respond: Respond) -> None:
        self.respond = respond

    def __call__(self, request: HttpRequest) -> HttpResponse:
        mark = request_id.set(uuid.uuid4().hex[:16])
        began = time.monotonic()
        try:
            response = self.respond(request)
            response["X-Request-ID"] = request_id.get()
            self._log(request, response, time.monotonic() - began)
            return response
        finally:
            request_id.reset(mark)

    def _log(self, request: HttpRequest, response: HttpResponse, took_s: float) -> None:
        match = request.resolver_match
        if match and (match.view_name, response.status_code) in QUIET:
            return
        fields = {
            "method": request.method,
            "route": match.route if match else "",
            "status": response.status_code,
            "took_ms": round(took_s * 1000, 1),
            "person": getattr(getattr(request, "user", None), "pk", None),
        }
        log.info("request", extra={"fields": fields})


class AccessMiddleware:
    """Asks the matrix before any view runs, for pages and API alike."""

    def __init__(self, respond: Respond) -> None:
        self.respond = respond

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.respond(request)

    def process_view(self, request: HttpRequest, view: object, args: object, kwargs: object) -> HttpResponse | None:
        url_name = request.resolver_match.view_name if request.resolver_match else ""
        methods = access.declared_methods(url_name)
        if methods is None:
            log.error("URL that states no roles", extra={"fields": {"url_name": url_name}})
            return _forbidden(request)
        if is_api(request) and (refusal := _token_refused(request)):
            return _log_in_first(request, refusal)
        if request.method not in methods:
            return _not_allowed(request, sorted(methods))
        role = access.role_of(request.user)
        if role in methods[request.method]:
            return None
        if role == access.ANONYMOUS:
            return _log_in_first(request, "Log in, or send a token as: Authorization: Bearer TOKEN.")
        return _forbidden(request)


class FirmZoneMiddleware:
    """Every moment on a page is by the firm's clock, read anew for each request."""

    def __init__(self, respond: Respond) -> None:
        self.respond = respond

    def __call__(self, request: HttpRequest) -> HttpResponse:
        with timezone.override(None):  # ends what is activated below
            return self.respond(request)

    def process_view(self, request: HttpRequest, view: object, args: object, kwargs: object) -> None:
        if request.resolver_match is None or request.resolver_match.view_name not in PROBES:
            timezone.activate(firm_zone())


class ReadOnceMiddleware:
    """A page that is looked at reads the firm, the catalog and the like once, however many parts of it ask."""

    def __init__(self, respond: Respond) -> None:
        self.respond = respond

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if request.method != "GET":
            return self.respond(request)
        with one_page():
            return self.respond(request)


class SentOnceMiddleware:
    """A form that carries a key is answered in one transaction, and once, however often it is sent."""

    def __init__(self, respond: Respond) -> None:
        self.respond = respond

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.respond(request)

    def process_view(
        self, request: HttpRequest, view: Respond, args: tuple[Any, ...], kwargs: dict[str, Any]
    ) -> HttpResponse | None:
        # A preview by htmx keeps nothing; to hold the database for one would let others wait.
        if request.method != "POST" or is_api(request) or request.htmx or not request.user.is_authenticated:  # type: ignore[attr-defined]
            return None
        mark = mark_of(request)
        if not mark:
            return None
        answer = answer_once(
            request.user,  # type: ignore[arg-type]
            mark,
            request.path,
            lambda: view(request, *args, **kwargs),
            lambda response: _leads_to(request, response),
            clock.now(),
        )
        return answered(request, answer) if isinstance(answer, str) else answer


def _leads_to(request: HttpRequest, response: HttpResponse) -> str:
    """Where what was kept is seen; empty where nothing was. What is shown only once names another place for it."""
    # Asked of the storage itself they would count as seen.
    failed = any(message.level >= ERROR for message in request._messages._queued_messages)  # type: ignore[attr-defined]
    if failed or response.status_code >= 400:
        return ""
    return next((response[name] for name in ("Location", GO_TO, "Content-Location") if name in response), "")


def is_api(request: HttpRequest) -> bool:
    return request.path_info.startswith("/api/")


def _token_refused(request: HttpRequest) -> str:
    """Make the person of a token the request's user; else why the header sent is not good, empty without one."""
    header = request.headers.get("Authorization", "")
    if not header:
        return ""
    scheme, _, token = header.partition(" ")
    if scheme.lower() != "bearer" or not token.strip():
        return "The header Authorization must read: Bearer TOKEN, with a token made on the account page."
    person = person_for_token(token.strip(), day_at_the_firm(clock.now()))
    if person is None:
        return "This token is unknown, withdrawn, or its person may not log in."
    request.user = person
    request.token_person = person  # type: ignore[attr-defined]
    return ""


def _not_allowed(request: HttpRequest, methods: Sequence[str]) -> HttpResponse:
    if not is_api(request):
        return HttpResponseNotAllowed(methods)
    allowed = ", ".join(methods)
    response = problem(405, f"{request.method} does nothing at this address; it takes {allowed}.")
    response["Allow"] = allowed
    return response


def _log_in_first(request: HttpRequest, sentence: str) -> HttpResponse:
    if is_api(request) and not f"{request.path_info}/".startswith(DOCS):
        response = problem(401, sentence)
        response["WWW-Authenticate"] = 'Bearer realm="api"'
        return response
    login = resolve_url(settings.LOGIN_URL)
    if request.headers.get("HX-Request") == "true":
        # htmx would follow a redirect and put the log-in form inside the page.
        response = HttpResponse(status=401)
        response["HX-Redirect"] = login
        return response
    back = request.get_full_path() if request.method in ("GET", "HEAD") else resolve_url(settings.LOGIN_REDIRECT_URL)
    return HttpResponseRedirect(f"{login}?{urlencode({'next': back})}")


def _forbidden(request: HttpRequest) -> HttpResponse:
    if is_api(request):
        return problem(403, "Your role does not allow this.")
    raise PermissionDenied("Your role does not allow this.")
