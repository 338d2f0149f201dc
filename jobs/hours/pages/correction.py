"""The hours of one worker's day, and one entry: what is wrong is taken back, and what is right entered in its place."""

import uuid
from datetime import date
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from catalog.core.ground.day_words import month_words
from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from catalog.core.ground.refusal import EntryError, Refused
from catalog.pages.firm_first import firm_first
from jobs.hours.models import TimeEntry, Worker
from jobs.hours.pages.entry_rows import entry_row
from jobs.hours.pages.line_form import LineForm, Offered
from jobs.hours.services.choice_of_work import jobs_offered
from jobs.hours.services.correcting import Corrected, HoursCorrection, correct_entry
from jobs.hours.services.day_limits import AskFirst
from jobs.hours.services.entered_days import Group
from jobs.hours.services.steps import known_steps
from jobs.hours.services.workers import workers_for
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm, signature_of
from quoting.platform.pages.declared_fields import form_field
from quoting.platform.pages.entry_form import EntryForm, day
from quoting.platform.pages.kept_form import key_sent
from quoting.platform.pages.stored_values import Stored, hold
from quoting.platform.people.access import sees_margin

ANSWERS = ("is_long_day", "adds")


class ReasonForm(EntryForm):
    reason = form_field(HoursCorrection, "reason")
    day = day("Day")


@firm_first
def hours_of_day(request: HttpRequest, worker_id: int, on: str) -> HttpResponse:
    worker, hours = get_object_or_404(Worker, pk=worker_id), _day(on)
    rows = TimeEntry.objects.filter(worker=worker, day=hours).select_related("worker", "job").order_by("pk")
    shown = [entry_row(row, _names(row), with_money=sees_margin(request)) for row in rows]
    return render(request, "hours/day.html", {"worker": worker, "day": hours, "rows": shown})


@firm_first
def time_entry(request: HttpRequest, entry_id: int) -> HttpResponse:
    hold(TimeEntry.objects.filter(pk=entry_id))
    rows = TimeEntry.objects.select_related("worker", "job").prefetch_related("corrected_by")
    entry = get_object_or_404(rows, pk=entry_id)
    page = _Correcting(request, entry)
    return page.posted() if request.method == "POST" else page.shown()


class _Correcting:
    def __init__(self, request: HttpRequest, entry: TimeEntry) -> None:
        person: Any = request.user
        self.request, self.entry = request, entry
        self.among = workers_for(person)
        self.key = key_sent(request) or uuid.uuid4().hex
        data = request.POST if request.method == "POST" else None
        jobs = jobs_offered(person, entry.day, [entry.job_id] if entry.job_id else [])
        offered = Offered(jobs, [entry.worker], list(self.among.exclude(pk=entry.worker_id)))
        group = Group(entry.job_id, entry.step, entry.elsewhere, entry.tag, entry.typed_minutes, (entry.worker_id,))
        stored = Stored({"day": entry.day.isoformat(), "reason": entry.void_reason}, entry)
        self.head = ReasonForm(data, stored=stored)
        self.line = LineForm(data, 0, offered, group)
        if data is None:
            self.line.initial["note"] = entry.note
        self.told: list[str] = []
        self.asked: list[tuple[str, str]] = []

    @property
    def is_open(self) -> bool:
        gone = self.entry.voided_at is not None or hasattr(self.entry, "reversed_by")
        mine = self.among.filter(pk=self.entry.worker_id).exists()
        return mine and not gone and self.entry.reverses_id is None

    def posted(self) -> HttpResponse:
        takes_back = self.request.POST.get("do") == "take-back"
        answers = {name: True for name in ANSWERS if name in self.request.POST}
        try:
            document = self._document(takes_back) | answers
            now = clock.now()
            result = correct_entry(
                self.entry, document, signature_of(self.request.user, now), now=now, among=self.among
            )
        except DocumentError as error:
            return self._refused(error)
        except AskFirst as question:
            self.asked = [(question.path, " ".join(question.sentences)), *((name, "") for name in answers)]
            return self.shown(409)
        except Refused as refusal:
            self.told += refusal.sentences
            return self.shown(409)
        messages.success(self.request, _said(result))
        return redirect(reverse("hours_of_day", args=[self.entry.worker_id, self.entry.day.isoformat()]))

    def _document(self, takes_back: bool) -> dict[str, Any]:
        head_is_good, line_is_good = self.head.is_valid(), self.line.is_valid()
        if not head_is_good or not (takes_back or line_is_good):
            raise DocumentError([])
        given = self.head.entries()
        document = {"request_key": self.key, "reason": given.get("reason")}
        if takes_back:
            return document
        try:
            lines = self.line.lines(given.get("day", ""))
        except EntryError as error:
            raise DocumentError.at(f"line.{error.field}", error.reason) from error
        if len(lines) != 1:
            raise DocumentError.at("line.who", "choose one worker; enter the others as new hours")
        return document | {"line": lines[0]}

    def _refused(self, error: DocumentError) -> HttpResponse:
        of_line = [
            complaint
            for complaint in error.complaints
            if complaint.path.startswith("line.") and complaint.path != "line.day"
        ]
        of_head = [complaint for complaint in error.complaints if complaint not in of_line]
        for form, those in ((self.line, of_line), (self.head, of_head)):
            if those:
                form.complain(
                    DocumentError(
                        DocumentProblem(problem.path.removeprefix("line."), problem.reason) for problem in those
                    )
                )
        return self.shown(self.head.status() if self.head.is_late else 422)

    def shown(self, status: int = 200) -> HttpResponse:
        context = {
            "entry": self.entry,
            "row": entry_row(self.entry, _names(self.entry), with_money=sees_margin(self.request)),
            "head": self.head,
            "line": self.line,
            "key": self.key,
            "told": self.told,
            "asked": self.asked,
            "is_open": self.is_open,
        }
        return render(self.request, "hours/entry.html", context, status=status)


def _said(corrected: Corrected) -> str:
    if corrected.reversal is not None:
        month = month_words(corrected.reversal.posted_month)
        return f"{month_words(corrected.entry.posted_month)} is closed: it is reversed in {month}."
    return "Corrected." if corrected.anew is not None else "Voided. It stays visible and counts for nothing."


def _names(row: TimeEntry) -> dict[str, str]:
    if row.job is None:
        return {}
    return {key: step.name for key, step in known_steps(row.job, day_at_the_firm(clock.now())).items()}


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise Http404("There is no such day.") from None
