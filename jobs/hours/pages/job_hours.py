"""Hours of one job: planned, spent and left by step, and the rows each sum opens to. Money for whoever prices alone."""

import uuid
from typing import Any

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import EntryError
from catalog.pages.firm_first import firm_first
from jobs.core.costs.hours import about_hours_words, hours_words
from jobs.hours.pages.entry_rows import entry_row
from jobs.hours.pages.hours_form import percent_typed, read_hours_left
from jobs.hours.services.choice_of_work import left_words, pace_words
from jobs.hours.services.job_hours import NamedStepHours, entries_of, job_hours, spent
from jobs.hours.services.saying_left import say_left
from jobs.jobs.pages.requests import job_or_404
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm, signature_of
from quoting.platform.pages.entry_form import EntryForm, pick, text
from quoting.platform.pages.kept_form import key_sent
from quoting.platform.pages.step import step
from quoting.platform.people.access import is_allowed, role_of, sees_margin

A_PAGE = 10


class StepLeftForm(EntryForm):
    step = pick("Step", ())
    hours = text("Hours left", "0 when it is done.", longest=20)
    percent_done = text("Done, %", "From 25 % on the pace until now says what is left.", longest=4)


@firm_first
def job_hours_page(request: HttpRequest, job_id: int) -> HttpResponse:
    job, now = job_or_404(job_id), clock.now()
    today = day_at_the_firm(now)
    steps = job_hours(job, today)
    wanted = request.GET.get("step")
    entries = entries_of(job, wanted if wanted in {entry.hours.step for entry in steps} else None)
    page = Paginator(entries, A_PAGE).get_page(request.GET.get("page"))
    names = {entry.hours.step: entry.name for entry in steps}
    with_money = sees_margin(request)
    form = StepLeftForm()
    form.fields["step"].choices = [(entry.hours.step, entry.name) for entry in steps if entry.hours.step]
    planned = sum(entry.hours.planned or 0 for entry in steps)
    context = {
        "job": job,
        "steps": [(entry, _words(entry)) for entry in steps if entry.hours.step or entry.hours.spent],
        "spent": hours_words(total) if (total := spent(steps)) else "No hours",
        "planned": about_hours_words(planned) if planned else "",
        "rows": [entry_row(row, names, with_money=with_money) for row in page],
        "page": page,
        "only": names.get(wanted or "", "") if wanted is not None else "",
        "with_money": with_money,
        "form": form,
        "may_say": bool(form.fields["step"].choices) and is_allowed(role_of(request.user), "hours_left_said", "POST"),
        "key": uuid.uuid4().hex,
    }
    return render(request, "hours/job.html", context)


def hours_left_said(request: HttpRequest, job_id: int) -> HttpResponse:
    job, now = job_or_404(job_id), clock.now()

    def act() -> str:
        typed = request.POST.get("hours", "").strip()[:20]
        line: dict[str, Any] = {"step": request.POST.get("step", "")[:60]}
        try:
            line |= {"is_done": True} if typed == "0" else {"minutes": read_hours_left(typed)}
            line |= percent_typed(request.POST.get("percent_done", ""))
        except EntryError as error:
            where = "Done, %" if error.field == "percent_done" else "Hours left"
            raise DocumentError.at(where, error.reason) from error
        document = {"request_key": key_sent(request) or uuid.uuid4().hex, "steps": [line]}
        rows, _ = say_left(job, document, signature_of(request.user, now), now=now)
        return "Done." if rows[0].is_done else f"{hours_words(rows[0].minutes)} left."

    return step(request, act, reverse("job_hours", args=[job.pk]))


def _words(entry: NamedStepHours) -> dict[str, str]:
    hours = entry.hours
    return {
        "planned": about_hours_words(hours.planned) if hours.planned else "",
        "spent": hours_words(hours.spent) if hours.spent else "",
        "left": left_words(entry).removeprefix("left ") or ("not said" if hours.spent else ""),
        "pace": pace_words(entry),
    }
