"""A change being priced: typed, worked out from the walls or from an allowance, and issued as the next note."""

import uuid
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render

from catalog.core.ground.declared import write
from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.pages.firm_first import firm_first
from catalog.services.typed_money import entry_reader
from jobs.deleted.pages.undo import say_deleted
from jobs.deleted.services.deleted import Deletion
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404, seen_version
from quoting.changes.models import ChangeDraft
from quoting.changes.services import change_drafts as service
from quoting.changes.services.change_notes import issue_change
from quoting.changes.services.contracts import accepted_revision, agreed_tax, contract_of
from quoting.changes.services.draft_cautions import cautions_of, hours_sentence, is_days_open
from quoting.core.changes.change_document import ChangeSpec
from quoting.core.changes.change_notes import ChangeCost, ChangeLine, price_change
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.declared_fields import form_of
from quoting.platform.pages.document_form import Document, document_form, fields_of
from quoting.platform.pages.entry_form import sentence
from quoting.platform.people.access import sees_margin
from quoting.quotes.pages.pricing_part import Group, PricingPart

HEAD = fields_of(ChangeSpec, "title", "reason", "days_moved", "kind", "original", "replacement")
# Known by what it was made from, not typed.
ALLOWANCE = {"allowance": forms.CharField(widget=forms.HiddenInput, max_length=200)}


class LineRow(form_of(ChangeLine, "what", "price", "taxed", "cost")):  # type: ignore[misc]
    label = "Line"


class CostRow(form_of(ChangeCost, "category", "item", "quantity", "unit_cost")):  # type: ignore[misc]
    label, says = "Cost", ("item", "unit_cost")
    # The name of a step or material that bears a key.
    what = forms.CharField(widget=forms.HiddenInput, max_length=200)

    def is_filled(self) -> bool:
        return bool(self.entries().keys() - {"category"})


class ChangePart(PricingPart):
    head_of = document_form(HEAD, ALLOWANCE)
    rows_of: dict[str, Any] = {"lines": LineRow, "costs": CostRow}
    groups = (
        Group("Days added", ("days_moved",), says="{} working days"),
        Group("One thing for another", ("kind", "original", "replacement")),
        Group("What it costs us", rows="costs", hint="The client never sees it."),
    )

    def shown(self, document: Document) -> Document:
        """A change begins with a line to fill in."""
        return document | {"lines": document.get("lines") or [{}]}

    def document(self) -> Document:
        return {name: entry for name, entry in super().document().items() if entry is not None}


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
            seen_version=seen_version(request),
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
        return _shown(request, job, draft, ChangePart(None, _document(draft)))
    part = ChangePart(request.POST, {}, more=request.POST.get("more", ""))
    if request.POST.get("more") or not part.is_valid():
        return _shown(request, job, draft, part)
    try:
        saved = service.save_draft(
            job, part.document(), by=request.user, now=clock.now(), draft=draft, seen_version=seen_version(request)
        )
    except DocumentError as error:
        part.complain(error)
        return _shown(request, job, draft, part, status=422)
    except Refused as refusal:
        part.conflict = str(refusal)
        return _shown(request, job, draft, part, status=409)
    messages.success(request, f"Saved: {saved}. Next: issue it for the client to sign.")
    return redirect("change_draft", saved.pk)


def _shown(
    request: HttpRequest, job: Job, draft: ChangeDraft | None, part: ChangePart, status: int = 200
) -> HttpResponse:
    revision, contract = accepted_revision(job), contract_of(job)
    priced = None
    if draft is not None and revision is not None and draft.lines.exists():
        priced = price_change(service.spec_of_draft(draft).lines, agreed_tax(revision))
    context = {
        "job": job,
        "draft": draft,
        "part": part,
        "not_saved": part.not_saved(),
        "priced": priced,
        "contract": contract,
        "after": contract.sums.total + priced.total if contract and priced else None,
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
