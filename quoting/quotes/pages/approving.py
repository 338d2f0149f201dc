"""A second person looks at a price below the least margin, and lets it pass or not."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from catalog.core.ground.refusal import Refused
from catalog.pages.firm_first import firm_first
from jobs.core.measure.survey import SurveyError
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404
from quoting.job_files.services.job_files import figures_mark, work_up_job
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.pricing.models import MarginApproval
from quoting.pricing.services.least_margin import approval_for
from quoting.quotes.pages.figures import figures_of
from quoting.quotes.services.margin_approval import approve_margin


@firm_first
def quote_approve(request: HttpRequest, job_id: int) -> HttpResponse:
    job, now = job_or_404(job_id), clock.now()
    if request.method != "POST":
        return _page(request, job)
    try:
        approve_margin(
            job,
            seen_mark=request.POST.get("seen_mark", ""),
            reason=request.POST.get("reason", ""),
            by=request.user,
            now=now,
            today=day_at_the_firm(now),
        )
    except Refused as refusal:
        return _page(request, job, str(refusal))
    messages.success(request, "Approved. Anyone but you can issue the quote at these figures.")
    return redirect("quote", job.pk)


def _page(request: HttpRequest, job: Job, refusal: str = "") -> HttpResponse:
    today = day_at_the_firm(clock.now())
    try:
        work_up = work_up_job(job, today)
    except SurveyError as error:
        messages.error(request, f"The walls cannot be worked out. {error.field}: {error.reason}")
        return redirect("quote", job.pk)
    gate = work_up.quote.gate if work_up.quote else None
    context = {
        "job": job,
        "refusal": refusal,
        "reason": request.POST.get("reason", ""),
        "gate": gate,
        "approval": approval_for(job, gate) if gate else None,
        "seen_mark": figures_mark(work_up.read, today),
        "approvals": MarginApproval.objects.filter(job=job),
        **figures_of(work_up, with_margin=True),
    }
    return render(request, "quotes/approve.html", context, status=409 if refusal else 200)
