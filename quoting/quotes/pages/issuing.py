"""Issuing a quote, after a look at what will be frozen."""

import uuid

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from catalog.core.ground.refusal import Refused
from catalog.pages.firm_first import firm_first
from jobs.core.measure.survey import SurveyError
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404
from quoting.core.quotes.work_up import WorkUp
from quoting.job_files.services.job_files import figures_mark, work_up_job
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.quotes.models import QuoteRevision
from quoting.quotes.pages.comparing import CompareRow, compared, offered_by, offered_today
from quoting.quotes.pages.figures import figures_of
from quoting.quotes.pages.findings import hindrances
from quoting.quotes.services.cancellation import rule_in_force, window_of
from quoting.quotes.services.cancellation_words import window_terms
from quoting.quotes.services.quotes import issue_quote


@firm_first
def quote_issue(request: HttpRequest, job_id: int) -> HttpResponse:
    job = job_or_404(job_id)
    if request.method != "POST":
        return _confirm(request, job)
    try:
        revision = issue_quote(
            job,
            request_key=request.POST.get("request_key", ""),
            seen_mark=request.POST.get("seen_mark", ""),
            by=request.user,
            now=clock.now(),
            today=day_at_the_firm(clock.now()),
        )
    except Refused as refusal:
        return _confirm(request, job, refusal.sentences)
    messages.success(request, f"Issued: {revision}. Its paper is being made.")
    return redirect("revision", job.pk, revision.number)


def _confirm(request: HttpRequest, job: Job, refusals: tuple[str, ...] = ()) -> HttpResponse:
    today = day_at_the_firm(clock.now())
    try:
        work_up: WorkUp = work_up_job(job, today)
    except SurveyError as error:
        messages.error(request, f"The walls cannot be worked out. {error.field}: {error.reason}")
        return redirect("quote", job.pk)
    if work_up.quote is None:
        messages.error(request, "The job is not priced yet: enter how it is priced, then issue.")
        return redirect("quote", job.pk)
    context = {
        "job": job,
        "today": today,
        "refusals": refusals,
        "hindrances": hindrances(job, work_up.quote.blocking),
        "has_walls": bool(work_up.walls),
        "standing": QuoteRevision.objects.filter(quote__job=job, state="issued").defer("snapshot").first(),
        "taking_back": window_terms(rule_in_force(today), today, work_up.read.book.firm.name),
        "window": window_of(rule_in_force(today), today),
        **_since_the_last(job, work_up),
        # New for every page shown, so that pressing twice issues once.
        "request_key": uuid.uuid4().hex,
        "seen_mark": figures_mark(work_up.read, today),
        **figures_of(work_up, with_margin=True),
    }
    return render(request, "quotes/issue.html", context, status=409 if refusals else 200)


def _since_the_last(job: Job, work_up: WorkUp) -> dict[str, object]:
    """What differs from the revision before, so that nobody issues a change unread."""
    last = QuoteRevision.objects.select_related("quote").filter(quote__job=job).order_by("-number").first()
    if last is None or work_up.quote is None or work_up.quote.priced is None:
        return {}
    rows: list[CompareRow] = compared(offered_by(last), offered_today(work_up), with_margin=True)
    return {"last": last, "since_last": [row for row in rows if row.differs and row.label != "Standing"]}
