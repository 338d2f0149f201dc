"""A change being priced: typed, worked out from the walls or from an allowance, and issued as the next note."""

import uuid
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render

from catalog.core.ground.declared import write
from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.pages.firm_first import firm_first
from catalog.services.typed_money import entry_reader
from jobs.deleted.pages.undo import say_deleted
from jobs.deleted.services.deleted import Deletion
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404
from quoting.changes.models import ChangeDraft
from quoting.changes.models.changes import KIND_CHOICES
from quoting.changes.services import change_drafts as service
from quoting.changes.services.change_notes import issue_change
from quoting.changes.services.contracts import accepted_revision, agreed_tax
from quoting.changes.services.draft_cautions import cautions_of, hours_sentence, is_days_open
from quoting.core.changes.change_notes import price_change
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.entry_form import EntryForm, pick, sentence, text
from quoting.platform.pages.entry_rows import EntryRows
from quoting.platform.people.access import sees_margin
from quoting.pricing.models.costs import CATEGORY_CHOICES


class ChangeForm(EntryForm):
    title = text("What changes", "One line, as the client reads it.", longest=200)
    kind = pick("Kind", KIND_CHOICES)
    reason = text("Why", "The client reads it.", rows=3)
    days_moved = text("Days added", "Working days; -2 for two days sooner.", longest=5)
    original = text("As agreed", "For one thing in place of another.", rows=2)
    replacement = text("In its place", rows=2)
    # Known by what it was made from, not typed.
    allowance = forms.CharField(widget=forms.HiddenInput, max_length=200)


class LineForm(EntryForm):
    what = text("Work", longest=200)
    price = text("Price before tax", "Minus for what is taken off.", longest=20)
    taxed = text("Of it taxed", "Empty: all of it, where tax is on the price.", longest=20)
    cost = text("Our cost", "The client never sees it.", longest=20)


COST_CHOICES = [*CATEGORY_CHOICES, ("freight", "Freight")]


class CostForm(EntryForm):
    category = pick("Kind", COST_CHOICES)
    item = text("What it costs us", "Step, material or sum; the client never sees it.", longest=200)
    quantity = text("How much", "Hours for labour; minus for what is left out.", longest=20)
    unit_cost = text("Cost of one", longest=20)
    # The name of a step or material that bears a key.
    what = forms.CharField(widget=forms.HiddenInput, max_length=200)


class ChangePage:
    """The form of a change with its lines. document: as it stands; data: what was typed, if anything was."""

    def __init__(self, data: QueryDict | None, document: dict[str, Any], more: str = "") -> None:
        self.others: list[str] = []
        self.head = ChangeForm(data, {name: document.get(name) for name in ChangeForm.base_fields})
        self.lines = EntryRows(LineForm, "lines", data, document.get("lines", []), spare=1, more=more == "lines")
        costs = document.get("costs", [])
        self.costs = EntryRows(
            CostForm, "costs", data, costs, spare=1 if more == "costs" else 0, more=more == "costs", label="Cost"
        )

    def is_valid(self) -> bool:
        return all([self.head.is_valid(), self.lines.is_valid(), self.costs.is_valid()])

    def document(self) -> dict[str, Any]:
        return {**self.head.entries(), "lines": self.lines.entries(), "costs": self.costs.entries()}

    def complain(self, error: DocumentError) -> None:
        for complaint in error.complaints:
            if not self.lines.takes(complaint) and not self.costs.takes(complaint):
                self.head.complain(DocumentError([complaint]))


@firm_first
def change_add(request: HttpRequest, job_id: int) -> HttpResponse:
    return _saved_or_shown(request, job_or_404(job_id), None)


@firm_first
def change_draft(request: HttpRequest, draft_id: int) -> HttpResponse:
    draft = _draft_or_404(draft_id)
    return _saved_or_shown(request, draft.job, draft)


def change_draft_remove(request: HttpRequest, draft_id: int) -> HttpResponse:
    draft = _draft_or_404(draft_id)
    stored = service.remove_draft(draft.pk, Deletion(request.user.full_name, clock.now()))
    say_deleted(request, f"Deleted: {draft}.", stored)
    return redirect("change_list", draft.job_id)


@firm_first
def change_from_walls(request: HttpRequest, job_id: int) -> HttpResponse:
    job, now = job_or_404(job_id), clock.now()
    try:
        draft = service.draft_from_walls(job, by=request.user, now=now, today=day_at_the_firm(now))
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("change_list", job.pk)
    return redirect("change_draft", draft.pk)


@firm_first
def change_from_allowance(request: HttpRequest, job_id: int) -> HttpResponse:
    job, now = job_or_404(job_id), clock.now()
    try:
        reader = entry_reader({name: request.POST.get(name, "") for name in ("what", "actual")})
        what, actual = reader.text("what", longest=200), reader.money("actual")
        draft = service.draft_from_allowance(job, what, actual, by=request.user, now=now, today=day_at_the_firm(now))
    except DocumentError as error:
        messages.error(request, sentence("What it came to", error.complaints[0]))
        return redirect("change_list", job.pk)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("change_list", job.pk)
    return redirect("change_draft", draft.pk)


@firm_first
def change_issue(request: HttpRequest, draft_id: int) -> HttpResponse:
    draft, now = _draft_or_404(draft_id), clock.now()
    try:
        note = issue_change(
            draft,
            request_key=request.POST.get("request_key", ""),
            seen_version=_version(request),
            by=request.user,
            now=now,
            today=day_at_the_firm(now),
        )
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("change_draft", draft.pk)
    messages.success(request, f"Issued: {note}. Its paper is being made.")
    return redirect("change_note", note.job_id, note.number)


def _saved_or_shown(request: HttpRequest, job: Job, draft: ChangeDraft | None) -> HttpResponse:
    if request.method != "POST":
        return _shown(request, job, draft, ChangePage(None, _document(draft)))
    form = ChangePage(request.POST, {}, more=request.POST.get("more", ""))
    if request.POST.get("more") or not form.is_valid():
        return _shown(request, job, draft, form)
    try:
        saved = service.save_draft(
            job, form.document(), by=request.user, now=clock.now(), draft=draft, seen_version=_version(request)
        )
    except DocumentError as error:
        form.complain(error)
        return _shown(request, job, draft, form, status=422)
    except Refused as refusal:
        form.others.append(str(refusal))
        return _shown(request, job, draft, form, status=409)
    messages.success(request, f"Saved: {saved}. Next: issue it for the client to sign.")
    return redirect("change_draft", saved.pk)


def _shown(
    request: HttpRequest, job: Job, draft: ChangeDraft | None, form: ChangePage, status: int = 200
) -> HttpResponse:
    revision = accepted_revision(job)
    priced = None
    if draft is not None and revision is not None and draft.lines.exists():
        priced = price_change(service.spec_of_draft(draft).lines, agreed_tax(revision))
    context = {
        "job": job,
        "draft": draft,
        "form": form,
        "priced": priced,
        "cautions": cautions_of(draft) if draft else (),
        "hours": hours_sentence(draft) if draft and not is_days_open(draft) else "",
        "revision": revision,
        "request_key": uuid.uuid4().hex,
        "editable": sees_margin(request),
    }
    return render(request, "changes/draft.html", context, status=status)


def _document(draft: ChangeDraft | None) -> dict[str, Any]:
    return write(service.spec_of_draft(draft)) if draft else {"kind": "lines", "days_moved": 0}


def _draft_or_404(draft_id: int) -> ChangeDraft:
    return get_object_or_404(ChangeDraft.objects.select_related("job__client"), pk=draft_id)


def _version(request: HttpRequest) -> int:
    seen = request.POST.get("version", "")
    return int(seen) if seen.isascii() and seen.isdigit() and len(seen) < 10 else 0
