"""A change note on the client's page: by the link of the accepted quote, read and signed as the quote was."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.csrf import csrf_exempt

from catalog.core.ground.refusal import Refused
from quoting.changes.models import ChangeAnswer, ChangeNote, ChangeState
from quoting.changes.services.change_notes import answer_change
from quoting.changes.services.change_snapshots import frozen_change_paper
from quoting.client.models import ClientLink
from quoting.client.pages.gate import by_link
from quoting.client.pages.page import handed_out
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.papers.models import Paper
from quoting.platform.people.rate_limits import address_of
from quoting.quotes.services.given_answers import Given


@by_link
def client_change(request: HttpRequest, link: ClientLink, secret: str, number: int) -> HttpResponse:
    return _page(request, _note_of(link, number), secret)


# As with the quote itself, whoever can post here holds the secret in the address (see quoting/client/pages/page.py).
@csrf_exempt
@by_link
def client_change_answer(request: HttpRequest, link: ClientLink, secret: str, number: int) -> HttpResponse:
    note, now = _note_of(link, number), clock.now()
    typed = {name: request.POST.get(name, "") for name in ("name", "reason")}
    answer = {"sign": "signed", "decline": "declined"}.get(request.POST.get("answer", ""), "")
    given = Given(answer, typed["name"], reason=typed["reason"], from_address=address_of(request))
    try:
        answer_change(note, given, now=now, today=day_at_the_firm(now))
    except Refused as refusal:
        return _page(request, _note_of(link, number), secret, status=422, refusal=str(refusal), typed=typed)
    return redirect("client_note", secret, number)


@by_link
def client_change_paper(request: HttpRequest, link: ClientLink, secret: str, number: int) -> HttpResponse:
    return handed_out(
        Paper.objects.filter(change_note=_note_of(link, number)).select_related("job", "change_note").first()
    )


def _note_of(link: ClientLink, number: int) -> ChangeNote:
    """A note of the revision the link is bound to, and of no other."""
    rows = ChangeNote.objects.select_related("job", "revision__quote")
    note = rows.filter(revision=link.revision_id, number=number).first()
    if note is None:
        raise Http404("There is no such change note.")
    return note


def _page(request: HttpRequest, note: ChangeNote, secret: str, status: int = 200, **more: Any) -> HttpResponse:
    context = {
        "secret": secret,
        "note": note,
        "paper": frozen_change_paper(note),
        "has_file": Paper.objects.filter(change_note=note).exists(),
        "waits": note.state == ChangeState.ISSUED,
        "answer": ChangeAnswer.objects.filter(note=note).first(),
        **more,
    }
    return render(request, "client/change.html", context, status=status)
