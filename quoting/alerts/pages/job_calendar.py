"""The order-by dates of one job, as a calendar file."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.text import slugify

from catalog.pages.firm_first import firm_first
from catalog.services.book import book_of
from jobs.jobs.pages.requests import job_or_404
from jobs.work_up.services.job_work_up import JobResult, work_of
from quoting.alerts.services.calendar_file import job_calendar_bytes
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm


@firm_first
def order_dates_calendar(request: HttpRequest, job_id: int) -> HttpResponse:
    job = job_or_404(job_id)
    work: JobResult = work_of(job, book_of(), day_at_the_firm(clock.now()))
    if work.done is None:
        messages.error(request, f"The walls cannot be worked out, so there are no dates. {work.trouble}")
        return redirect("job_order_dates", job.pk)
    result = job_calendar_bytes(job, work.done, clock.now())
    response = HttpResponse(result, content_type="text/calendar; charset=utf-8")
    name = slugify(job.key) or "job"
    response["Content-Disposition"] = f'attachment; filename="{name}-order-dates.ics"'
    return response
