"""One change note: its paper, its signature as the office received it, and taking it back."""

import uuid
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from catalog.core.ground.refusal import Refused
from quoting.changes.models import ChangeAnswer, ChangeNote, ChangeState
from quoting.changes.services.change_notes import answer_change, withdraw_change
from quoting.changes.services.change_paper import days_sentence
from quoting.changes.services.change_papers import change_note_errand
from quoting.changes.services.change_snapshots import frozen_change_paper
from quoting.changes.services.contracts import contract_of
from quoting.client.pages.sending import mail_posted
from quoting.client.services.client_links import live_link
from quoting.client.services.mails import list_mails
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.mail_way import mail_stays, on_its_way
from quoting.platform.pages.step import step
from quoting.platform.papers.papers import paper_of
from quoting.platform.people.access import sees_margin
from quoting.quotes.services.given_answers import Given


def change_note(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    return _page(request, note_or_404(job_id, number))


def change_answer(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    note, now = note_or_404(job_id, number), clock.now()
    typed = {name: request.POST.get(name, "") for name in ("name", "reason")}
    # The office enters what it holds on paper; the client's own answers come by the client's link.
    answer, by = request.POST.get("answer", ""), request.user.full_name
    given = Given(answer, typed["name"], reason=typed["reason"], entered_by_name=by)
    try:
        stored = answer_change(note, given, now=now, today=day_at_the_firm(now))
    except Refused as refusal:
        return _page(request, note, status=422, refusal=str(refusal), typed=typed)
    messages.success(request, f"Kept: {stored}.")
    return redirect("change_note", job_id, number)


def change_withdraw(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    note, reason = note_or_404(job_id, number), request.POST.get("reason", "")

    def act() -> str:
        if len(reason) > 2000:
            raise Refused(f"The reason is {len(reason)} characters long; at most 2,000.")
        withdraw_change(note.pk, now=clock.now(), by_name=request.user.full_name, reason=reason)
        return f"{note} is withdrawn and can no longer be signed."

    return step(request, act, reverse("change_note", args=[job_id, number]))


def change_send(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    note = note_or_404(job_id, number)
    try:
        mail = mail_posted(request, note.revision, note=note)
    except Refused as refusal:
        typed = {name: request.POST.get(name, "") for name in ("to_address", "message")}
        return _page(request, note, status=422, mail_refusal=str(refusal), **typed)
    messages.success(request, on_its_way(note, mail.to_address))
    return redirect("change_note", job_id, number)


def _page(request: HttpRequest, note: ChangeNote, *, status: int = 200, **typed: Any) -> HttpResponse:
    errand, contract = change_note_errand(note), contract_of(note.job)
    agreed = contract.sums.total if contract else None
    if agreed is not None and note.state == ChangeState.SIGNED:
        agreed -= note.total
    context = {
        "job": note.job,
        "note": note,
        "paper": frozen_change_paper(note),
        "days": days_sentence(note.days_moved),
        "answer": ChangeAnswer.objects.filter(note=note).first(),
        "contract": contract,
        "before": agreed,
        "after": None if agreed is None else agreed + note.total,
        "errand": errand,
        "errand_paper": paper_of(errand) if errand else None,
        "revision": note.revision,
        "mails": list_mails(note.revision, note),
        "link": live_link(note.revision),
        "mail_stays_here": mail_stays(),
        "request_key": uuid.uuid4().hex,
        "editable": sees_margin(request),
        **typed,
    }
    return render(request, "client/note.html", context, status=status)


def note_or_404(job_id: int, number: int) -> ChangeNote:
    rows = ChangeNote.objects.select_related("job__client", "revision__quote").filter(job_id=job_id, number=number)
    note = rows.first()
    if note is None:
        raise Http404("The job has no such change note.")
    return note
