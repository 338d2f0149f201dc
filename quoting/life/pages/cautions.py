"""What must be read of a job: what is missing or to be decided first, then cautions and notes."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from catalog.pages.firm_first import firm_first
from jobs.jobs.pages.requests import job_or_404
from jobs.needs.services.stored_jobs import stored_job
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people import access


@firm_first
def job_cautions(request: HttpRequest, job_id: int) -> HttpResponse:
    job = job_or_404(job_id)
    facts = stored_job(job, day_at_the_firm(clock.now())).facts
    told = facts.findings(access.role_of(request.user) in access.DESK)
    groups = (("To decide", ("gap", "decide")), ("Cautions", ("caution",)), ("Notes", ("note",)))
    shown = [(label, [one for one in told if one.weight in weights]) for label, weights in groups]
    context = {"job": job, "groups": [one for one in shown if one[1]], "trouble": facts.trouble}
    return render(request, "life/cautions.html", context)
