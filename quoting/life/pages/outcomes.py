"""Why a quotation is lost: one small form, and one button that takes it back."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from jobs.deliveries.pages.acting import form_page
from jobs.jobs.pages.requests import job_or_404
from quoting.life.models import OutcomeKind
from quoting.life.services.outcomes import enter_outcome, take_outcome_back
from quoting.platform import clock
from quoting.platform.firm_day import signature_of
from quoting.platform.pages.entry_form import EntryForm, day, pick, text
from quoting.platform.pages.step import step


class OutcomeForm(EntryForm):
    kind = pick("Why", OutcomeKind.choices)
    words = text("In a few words", "By how much, to whom, until when.", rows=2)
    said_on = day("Known since", "Blank = today.")


def job_outcome(request: HttpRequest, job_id: int) -> HttpResponse:
    job, now = job_or_404(job_id), clock.now()

    def act(entries: dict[str, Any]) -> str:
        row, _ = enter_outcome(job, entries, signature_of(request.user, now), now=now)
        return f"Saved: {row}. {job.key} is lost."

    form = OutcomeForm(request.POST or None)
    to = reverse("job", args=[job.pk])
    return form_page(request, form, act, to, heading=f"Why is {job.title} lost?", button="Save", back_label=job.title)


def job_outcome_undo(request: HttpRequest, job_id: int) -> HttpResponse:
    job, now = job_or_404(job_id), clock.now()

    def act() -> str:
        take_outcome_back(job, signature_of(request.user, now), now=now)
        return f"{job.key} goes on."

    return step(request, act, reverse("job", args=[job.pk]))
