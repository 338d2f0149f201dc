"""Standards from the record: what is suggested, why, and what was taken."""

import uuid
from collections import defaultdict
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse

from catalog.core.ground.plain_text import plain
from catalog.pages.words import QUANTITY_UNITS
from jobs.deliveries.pages.acting import form_page
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404
from quoting.platform import clock
from quoting.platform.firm_day import signature_of
from quoting.platform.pages.entry_form import EntryForm, text
from quoting.platform.pages.step import step
from quoting.platform.pages.stored_values import Stored, hold
from quoting.platform.people import access
from quoting.record.models import LearntStandard, LeftOut
from quoting.record.pages.words import figure, rounded, words
from quoting.record.services.accepting import accept_standard
from quoting.record.services.leaving_out import boards_of, count_left_over, leave_out, left_over_of, take_in_again
from quoting.record.services.resting import labels, open_quotes
from quoting.record.services.suggesting import Suggestion, suggestions

MAX_TAKEN = 20


@dataclass(frozen=True)
class ShownStandard:
    """A suggestion as a row shows it.

    jobs: key, id, what the standard gives and what it took. left_out: jobs left out by name. others: those left out for
    a reason of their own, by reason.
    """

    of: Suggestion
    was: str
    value: str
    typical: str
    jobs: tuple[tuple[str, int, str, str], ...]
    left_out: tuple[tuple[str, int, str], ...]
    others: dict[str, list[tuple[str, int]]]

    @property
    def unit(self) -> str:
        return QUANTITY_UNITS.get(self.of.unit, self.of.unit)

    @property
    def summary(self) -> str:
        used = len(self.jobs)
        return f"{used} job{'' if used == 1 else 's'}"

    @property
    def counted(self) -> str:
        count = len(self.of.lesson.left_out)
        return f"{count} left out" if count else ""

    @property
    def seen(self) -> str:
        """The value as it is sent back: exact, whatever the place."""
        return format(self.of.value, "f")

    @property
    def error_was(self) -> str:
        return rounded(self.of.lesson.error_was)

    @property
    def error(self) -> str:
        return rounded(self.of.lesson.error)


def learnt_page(request: HttpRequest) -> HttpResponse:
    result, taken = suggestions(), list(LearntStandard.objects.all()[:MAX_TAKEN])
    ids = dict(Job.objects.filter(closed_on__isnull=False).values_list("key", "pk"))
    named = set(LeftOut.objects.filter(undone_at=None).values_list("standard", "job__key"))
    shown, names = [_shown(suggestion, ids, named) for suggestion in result], labels(taken)
    context = {
        "offered": [standard for standard in shown if standard.of.is_offered],
        "others": [standard for standard in shown if not standard.of.is_offered],
        "taken": [
            (
                row,
                names[row.standard],
                words(row.was, row),
                words(row.value, row),
                rounded(row.error),
                rounded(row.error_was),
            )
            for row in taken
        ],
        "quotes": [
            (row, [(entry, words(entry.value, entry.learnt), words(entry.learnt.value, entry.learnt)) for entry in on])
            for row, on in open_quotes()
        ],
        "may_accept": access.is_allowed(access.role_of(request.user), "learnt_accept", "POST"),
        # New for every page shown, so that pressing twice accepts once.
        "request_key": uuid.uuid4().hex,
    }
    return render(request, "record/learnt.html", context)


def _shown(suggestion: Suggestion, ids: dict[str, int], named: set[tuple[str, str]]) -> ShownStandard:
    lesson = suggestion.lesson
    used = tuple(
        (job.job, ids[job.job], rounded(job.by_standard), rounded(job.actual)) for job in lesson.used if job.job in ids
    )
    by_name, others = [], defaultdict[str, list[tuple[str, int]]](list)
    for job, why in lesson.left_out:
        if (suggestion.standard, job.job) in named:
            by_name.append((job.job, ids[job.job], why))
        elif job.job in ids:
            others[why].append((job.job, ids[job.job]))
    figures = (
        figure(value, is_waste=suggestion.is_waste) for value in (suggestion.was, suggestion.value, suggestion.typical)
    )
    return ShownStandard(suggestion, *figures, used, tuple(by_name), dict(others))


def learnt_accept(request: HttpRequest) -> HttpResponse:
    now = clock.now()
    given = {name: request.POST[name] for name in ("request_key", "standard", "value") if request.POST.get(name)}

    def act() -> str:
        row, _ = accept_standard(given, signature_of(request.user, now), now=now)
        return f"{labels([row])[row.standard]}: {words(row.value, row)} from today on. Quotes that are out stay."

    return step(request, act, reverse("learnt"))


class LeaveOutForm(EntryForm):
    reason = text("Why", "Such as: a flood, taught two apprentices.", longest=300)


def learnt_leave_out(request: HttpRequest) -> HttpResponse:
    named = {name: request.GET.get(name, "").replace("\x00", "")[:120] for name in ("standard", "job")}
    now = clock.now()

    def act(entries: dict[str, str]) -> str:
        row, _ = leave_out({**named, **entries}, signature_of(request.user, now), now=now)
        return f"{row.job} teaches this standard no more."

    form, heading = LeaveOutForm(request.POST or None), f"Leave {named['job']} out"
    return form_page(
        request, form, act, reverse("learnt"), heading=heading, button="Leave out", back_label="Own record"
    )


def learnt_take_in(request: HttpRequest) -> HttpResponse:
    now, given = clock.now(), {name: request.POST.get(name, "") for name in ("standard", "job")}

    def act() -> str:
        take_in_again(given, signature_of(request.user, now), now=now)
        return f"{given['job']} counts again."

    return step(request, act, reverse("learnt"))


def left_over(request: HttpRequest, job_id: int) -> HttpResponse:
    job, now = job_or_404(job_id), clock.now()
    hold(Job.objects.filter(pk=job.pk))
    boards, counted = boards_of(job), left_over_of(job)
    fields = {f"board_{row.pk}": text(row.name, "Sheets left when the job was done.", longest=20) for row in boards}
    texts = {"boards": ", ".join(row.code for row in boards)}
    texts |= {f"board_{row.pk}": plain(counted.get(row.code)) or "" for row in boards}
    form = type("LeftOverForm", (EntryForm,), fields)(request.POST or None, stored=Stored(texts, address=request.path))
    form.stands_at = {f"left_over.{row.code}": f"board_{row.pk}" for row in boards}

    def act(entries: dict[str, str]) -> str:
        given = {row.code: entries[name] for row in boards if (name := f"board_{row.pk}") in entries}
        count_left_over(job, {"left_over": given}, signature_of(request.user, now), now=now)
        return f"Saved: what was left over of {job}."

    name = "learnt" if access.is_allowed(access.role_of(request.user), "learnt", "GET") else "job"
    to = reverse(name) if name == "learnt" else reverse(name, args=[job.pk])
    says = () if boards else ("No board was ordered for this job.",)
    return form_page(request, form, act, to, heading=f"Boards left over of {job}", says=says, button="Save")
