"""The sites of whoever leads them; the desk has Jobs instead."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from catalog.pages.firm_first import firm_first
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people import access
from quoting.service.services.own_sites import own_sites


@firm_first
def sites(request: HttpRequest) -> HttpResponse:
    if access.role_of(request.user) in access.DESK:
        return redirect("job_list")
    today = day_at_the_firm(clock.now())
    result = own_sites(request.user, today)  # type: ignore[arg-type]
    here = [site for site in result if site.activity and not site.in_days]
    return render(request, "service/sites.html", {"sites": result, "here": here, "today": today})
