from django.db.models import Count, Q, QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.jobs.models import Job
from quoting.platform.people import access

SHOWN = {"open": "Open", "closed": "Closed", "all": "All"}
LONGEST_SEARCH = 100


def job_list(request: HttpRequest) -> HttpResponse:
    shown = request.GET.get("shown", "open")
    shown = shown if shown in SHOWN else "open"
    search = request.GET.get("q", "").replace("\x00", "")[:LONGEST_SEARCH]
    context = {
        "jobs": list(_found(shown, search)),
        "shown": shown,
        "choices": SHOWN.items(),
        "q": search,
        "perms_to_add": access.is_allowed(access.role_of(request.user), "job_add", "GET"),
        "any": Job.objects.exists(),
    }
    response = render(request, "jobs/_list.html" if request.htmx else "jobs/list.html", context)
    # The back button must not take the fragment for the page.
    response["Vary"] = "HX-Request"
    return response


def _found(shown: str, search: str) -> QuerySet[Job]:
    rows = Job.objects.select_related("client").annotate(wall_count=Count("walls"))
    if shown != "all":
        rows = rows.filter(closed_on__isnull=shown == "open")
    for word in search.split():
        named = Q(key__icontains=word) | Q(title__icontains=word) | Q(client__name__icontains=word)
        rows = rows.filter(named | Q(site_address__icontains=word))
    return rows
