"""An activity begun or ended on site, by a button on the job's activities or on somebody's own day."""

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from catalog.core.ground.document_reader import Reader
from catalog.pages.firm_first import firm_first
from jobs.jobs.pages.requests import job_or_404
from jobs.schedule.services.actual_days import begin_activity, end_activity, take_begin_back, take_end_back
from quoting.platform import clock
from quoting.platform.firm_day import signature_of
from quoting.platform.pages.step import step
from quoting.platform.screen_days import day_words


@firm_first
def activity_actual(request: HttpRequest, job_id: int) -> HttpResponse:
    job, posted, activity = job_or_404(job_id), request.POST, request.POST.get("activity", "")

    def act() -> str:
        signature, do = signature_of(request.user, clock.now()), posted.get("do", "")
        if do == "take_begin_back":
            take_begin_back(job, activity)
            return "Begin undone."
        if do == "take_end_back":
            take_end_back(job, activity)
            return "End undone."
        on = Reader({"on": posted.get("on") or None}).optional_day("on")
        if do == "end":
            row, _ = end_activity(job, activity, signature, on=on)
            return f"Ended on {day_words(row.ended_on or signature.on)}, says {row.ended_by}."
        row, _ = begin_activity(job, activity, signature, on=on)
        return f"Began on {day_words(row.began_on)}, says {row.began_by}."

    home = posted.get("back") == "today"
    return step(request, act, reverse("today") if home else reverse("job_dates", args=[job.pk]))
