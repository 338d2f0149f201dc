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
    findings = list(facts.findings(at_desk))
    if at_desk and not facts.trouble:
        findings += findings_of_needs(job) if job.start_on is not None else []
        price = stored_price(job, today)
        findings += price.findings if price else []
    return list({finding.key: finding for finding in findings}.values())


@firm_first
def job_cautions(request: HttpRequest, job_id: int) -> HttpResponse:
    job, today = job_or_404(job_id), day_at_the_firm(clock.now())
    facts = stored_job(job, today).facts
    findings = _told(job, facts, today, at_desk=access.role_of(request.user) in access.DESK)
    groups = (("To decide", ("gap", "decide")), ("Cautions", ("caution",)), ("Notes", ("note",)))
    shown = [(label, [finding for finding in findings if finding.weight in weights]) for label, weights in groups]
    context = {"job": job, "groups": [pair for pair in shown if pair[1]], "trouble": facts.trouble}
    return render(request, "life/cautions.html", context)
