"""What now? For whoever sits at a desk, for the lead on site, and for a new firm how to start."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from catalog.services.book import NoFirmYet
from jobs.dates.services.item_schedule import open_items
from jobs.jobs.models import Job
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm, moment_at_the_firm
from quoting.platform.people import access
from quoting.service.pages.desk_page import desk_context
from quoting.service.pages.first_steps import first_steps
from quoting.service.pages.site_page import site_context
from quoting.service.services.change_mark import change_mark
from quoting.service.services.live_facts import open_jobs


def today(request: HttpRequest) -> HttpResponse:
    return render(request, "service/today.html", _context(request))


def today_changes(request: HttpRequest) -> HttpResponse:
    """The page's own look whether anything changed since it was made; an open page asks twice a second."""
    if request.GET.get("seen") == change_mark(day_at_the_firm(clock.now())):
        return HttpResponse(status=204)
    return render(request, "service/_desk.html", _context(request))


def _context(request: HttpRequest) -> dict[str, Any]:
    role, moment = access.role_of(request.user), moment_at_the_firm(clock.now())
    at_desk = role in access.DESK
    context = {
        "today": moment.date(),
        "at_desk": at_desk,
        "any_job": bool(open_jobs()) or Job.objects.exists(),
        "steps": first_steps(role, moment.date()),
    }
    try:
        read = open_items(moment)
        person: Any = request.user
        context |= desk_context(person, read, moment) if at_desk else site_context(person, read)
    except NoFirmYet:
        pass
    return context
