"""A revision as it was issued: its figures, its paper, its way to the client, and the client's answer."""

import uuid
from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render

from catalog.core.ground.plain_text import half_up
from quoting.client.services.client_links import live_link
from quoting.client.services.entered import WAYS, NewAnswer, NewTakeBack
from quoting.client.services.mails import list_mails
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.mail_way import mail_stays
from quoting.platform.pages.declared_fields import form_field, form_of
from quoting.platform.papers.papers import paper_of
from quoting.platform.people.access import sees_margin
from quoting.quotes.models import AnswerKind, QuoteRevision, RevisionState, TakeBackWay
from quoting.quotes.pages.revisions import revision_or_404
from quoting.quotes.services.answers import answer_of, taking_back_of
from quoting.quotes.services.certificate import window_sentences
from quoting.quotes.services.certificate_papers import certificate_errand
from quoting.quotes.services.offers import offer_of
from quoting.quotes.services.quote_papers import quote_paper_errand
from quoting.quotes.services.revisions import is_acceptable, is_latest


class AnswerForm(form_of(NewAnswer, "name", "signed_on", "reason")):
    answer = form_field(NewAnswer, "answer", words=dict(AnswerKind.choices))
    options = forms.MultipleChoiceField(label="Options chosen", widget=forms.CheckboxSelectMultiple)
    field_order = ("answer", "name", "signed_on", "options", "reason")

    def __init__(self, row: QuoteRevision, data: QueryDict | None = None) -> None:
        super().__init__(data, auto_id="answer_%s")
        offered = offer_of(row).options
        self.fields["options"].choices = [(entry.key, f"{entry.title}, {entry.price:,}") for entry in offered]  # type: ignore[attr-defined]
        if not offered:
            del self.fields["options"]


class TakeBackForm(form_of(NewTakeBack, "name", "given_on", "reason")):
    way = form_field(NewTakeBack, "way", words={way: TakeBackWay(way).label for way in WAYS})
    field_order = ("name", "given_on", "way", "reason")

    def __init__(self, data: QueryDict | None = None) -> None:
        super().__init__(data, auto_id="back_%s")


def revision(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    return revision_page(request, revision_or_404(job_id, number))


def revision_page(request: HttpRequest, row: QuoteRevision, status: int = 200, **typed: Any) -> HttpResponse:
    """typed: what was sent and refused, and why, to stand in the forms again."""
    errand, today = quote_paper_errand(row), day_at_the_firm(clock.now())
    others = row.quote.revisions.exclude(pk=row.pk).values_list("number", flat=True)
    context = {
        "job": row.quote.job,
        "revision": row,
        "today": today,
        "lines": row.lines.all(),
        "instalments": row.instalments.all(),
        "errand": errand,
        "errand_paper": paper_of(errand) if errand else None,
        "acceptable": is_acceptable(row, today),
        "is_latest": is_latest(row),
        "with_margin": sees_margin(request),
        "margin": half_up(row.margin * 100, 2),
        "others": sorted(others, reverse=True),
        "mails": list_mails(row),
        "link": live_link(row),
        "mail_stays_here": mail_stays(),
        # New for every page shown, so that pressing twice sends once.
        "request_key": uuid.uuid4().hex,
        **_answered(row),
        **typed,
    }
    return render(request, "client/revision.html", context, status=status)


def _answered(row: QuoteRevision) -> dict[str, Any]:
    answer = answer_of(row)
    if answer is None:
        return {"answer_form": AnswerForm(row)}
    errand, accepted = certificate_errand(answer), row.state == RevisionState.ACCEPTED
    return {
        "back": taking_back_of(row),
        # Also once the window is over: notice may have been given on its last day.
        "can_enter_taking_back": accepted and answer.cancel_until is not None,
        "back_form": TakeBackForm(),
        "answer": answer,
        "answer_window": window_sentences(answer) if answer.answer == "accepted" else (),
        "certificate_errand": errand,
        "certificate": paper_of(errand) if errand else None,
    }
