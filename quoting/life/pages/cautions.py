"""What must be read of a job: what is missing or to be decided first, then cautions and notes."""

from datetime import date

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from catalog.pages.firm_first import firm_first
from jobs.core.measure.findings import Finding
from jobs.core.results.job_facts import JobFacts
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404
from jobs.needs.services.stored_jobs import stored_job
from jobs.needs.services.stored_needs import findings_of_needs
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people import access
from quoting.quotes.services.stored_prices import stored_price


def _told(job: Job, facts: JobFacts, today: date, *, at_desk: bool) -> list[Finding]:
    """Of walls and activities; at the desk of the days to order by and of the price as well, each once."""
    found = list(facts.findings(at_desk))
    if at_desk and not facts.trouble:
        found += findings_of_needs(job) if job.start_on is not None else []
        price = stored_price(job, today)
        found += price.findings if price else []
    return list({one.key: one for one in found}.values())


@firm_first
def job_cautions(request: HttpRequest, job_id: int) -> HttpResponse:
    job, today = job_or_404(job_id), day_at_the_firm(clock.now())
    facts = stored_job(job, today).facts
    told = _told(job, facts, today, at_desk=access.role_of(request.user) in access.DESK)
    groups = (("To decide", ("gap", "decide")), ("Cautions", ("caution",)), ("Notes", ("note",)))
    shown = [(label, [one for one in told if one.weight in weights]) for label, weights in groups]
    context = {"job": job, "groups": [one for one in shown if one[1]], "trouble": facts.trouble}
    return render(request, "life/cautions.html", context)
