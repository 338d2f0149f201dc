"""The client's answer, and the acceptance taken back, as the office enters them."""

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from quoting.client.pages.revision import AnswerForm, TakeBackForm, revision_page
from quoting.client.services.entered import enter_answer, enter_take_back
from quoting.platform import clock
from quoting.platform.pages.entry_form import EntryForm
from quoting.quotes.models import QuoteRevision
from quoting.quotes.pages.revisions import revision_or_404


def revision_answer(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    row = revision_or_404(job_id, number)
    return _entered(request, row, AnswerForm(row, request.POST), enter_answer, "answer_form", "The answer is entered.")


def revision_take_back(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    row = revision_or_404(job_id, number)
    said = f"{row} is cancelled; nothing is agreed until a new one is accepted."
    return _entered(request, row, TakeBackForm(request.POST), enter_take_back, "back_form", said)


def _entered(
    request: HttpRequest, row: QuoteRevision, form: EntryForm, enter: Callable[..., Any], name: str, said: str
) -> HttpResponse:
    if not form.saves(lambda: enter(row, form.entries(), request.user.full_name, clock.now())):
        return revision_page(request, row, status=422, **{name: form})
    messages.success(request, said)
    return redirect("revision", row.quote.job_id, row.number)
