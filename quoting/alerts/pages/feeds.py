"""A person's calendar feed, behind a secret address. Looking at it changes nothing."""

from hashlib import sha256

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseNotModified
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import parse_etags, quote_etag

from jobs.jobs.services.signed import work_typed
from quoting.alerts.models import EventKind
from quoting.alerts.services import feed_addresses
from quoting.alerts.services.calendar_file import calendar_of
from quoting.alerts.services.feed_events import MAX_EVENTS, feed_events
from quoting.client.pages.gate import sealed
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people import access
from quoting.platform.people.models import Person
from quoting.platform.people.rate_limits import RateLimit, network_of

LOOKS = RateLimit(most=120, window_s=60)
WRONG_SECRETS = RateLimit(most=30, window_s=600)
FIELD_KINDS = (EventKind.DELIVERY, EventKind.NEED, EventKind.ACTIVITY)
CUT_SHORT = f"There are more than {MAX_EVENTS:,} events; the latest are left out. All of them are on Order dates."


def calendar_feed(request: HttpRequest, secret: str) -> HttpResponse:
    return sealed(_answer(request, secret))


def feed_make(request: HttpRequest) -> HttpResponse:
    row, secret = feed_addresses.make_feed_address(request.user, clock.now())
    address = request.build_absolute_uri(reverse("calendar_feed", args=[secret]))
    response = render(request, "people/feed_once.html", {"row": row, "address": address})
    response["Cache-Control"] = "no-store"
    response["Content-Location"] = reverse("account")
    return response


def feed_withdraw(request: HttpRequest) -> HttpResponse:
    if feed_addresses.withdraw_feed_address(request.user, clock.now()):
        messages.success(request, "The calendar address is withdrawn and opens nothing any more.")
    else:
        messages.info(request, "You have no calendar address in use.")
    return redirect("account")


def _answer(request: HttpRequest, secret: str) -> HttpResponse:
    network, now = network_of(request), clock.now()
    if not LOOKS.takes(network, now):
        return _told(429, "Too many at once. Ask again in a minute.")
    row = feed_addresses.find_feed_address(secret)
    if row is None:
        if not WRONG_SECRETS.takes(network, now):
            return _told(429, "Too many at once. Ask again in ten minutes.")
        return _told(404, "This address leads nowhere. Make one on your account page.")
    if row.withdrawn_at is not None or not row.person.is_active:
        return _told(410, "This address is no longer in use. Make a new one on your account page.")
    return _given(request, _calendar_for(row.person, work_typed(request.GET.get("work", ""))))


def _calendar_for(person: Person, work: str) -> bytes:
    now = clock.now()
    at_desk = access.role_of(person) in access.DESK
    kinds, name = (EventKind.values, "Order dates") if at_desk else (FIELD_KINDS, "On site")
    events = feed_events(kinds, day_at_the_firm(now), now, work)
    note = CUT_SHORT if len(events) > MAX_EVENTS else ""
    return calendar_of(name, events[:MAX_EVENTS], note)


def _given(request: HttpRequest, calendar: bytes) -> HttpResponse:
    mark = quote_etag(sha256(calendar).hexdigest())
    if mark in parse_etags(request.headers.get("If-None-Match", "")):
        response: HttpResponse = HttpResponseNotModified()
    else:
        response = HttpResponse(calendar, content_type="text/calendar; charset=utf-8")
        response["Content-Disposition"] = 'inline; filename="calendar.ics"'
    response["ETag"] = mark
    return response


def _told(status: int, sentence: str) -> HttpResponse:
    response = HttpResponse(f"{sentence}\n", status=status, content_type="text/plain; charset=utf-8")
    if status == 429:
        response["Retry-After"] = "60"
    return response
