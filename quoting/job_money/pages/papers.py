"""The paper of a job's result, asked for; the page of its money shows how far it is."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from jobs.jobs.pages.requests import job_or_404
from quoting.job_money.services.job_costs import money_of
from quoting.job_money.services.result_paper import result_paper
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.papers.papers import RENDER_JOB_RESULT, queue_filled


def job_result(request: HttpRequest, job_id: int) -> HttpResponse:
    job, now = job_or_404(job_id), clock.now()
    today = day_at_the_firm(now)
    money = money_of([job.pk], today).get(job.pk)
    if money is None:
        messages.error(request, "No quote of this job is accepted yet, so it has no result.")
    else:
        queue_filled(RENDER_JOB_RESULT, job, result_paper(job, money, by=request.user.full_name, on=today), now)
    return redirect(f"{reverse('job_money', args=[job.pk])}#paper")
