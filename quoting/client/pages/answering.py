"""The client's answer, and the acceptance taken back, as the office enters them."""

from datetime import date

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from catalog.core.ground.refusal import Refused
from quoting.client.pages.page import ticked
from quoting.client.pages.revision import revision_page
from quoting.client.services.acceptance_withdrawal import Notice, take_back
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.quotes.models import AnswerKind, QuoteRevision, TakeBackWay
from quoting.quotes.pages.revisions import revision_or_404
from quoting.quotes.services.acceptance import answer_revision, check_signed_on
from quoting.quotes.services.given_answers import Given


def revision_answer(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    """What the client signed on paper, as the office enters it."""
    row, posted = revision_or_404(job_id, number), request.POST
    typed = {name: posted.get(name, "") for name in ("signed_name", "signed_on", "answer_reason")}
    try:
        kind = AnswerKind.DECLINED if posted.get("answer") == "declined" else AnswerKind.ACCEPTED
        given = Given(
            kind,
            typed["signed_name"],
            ticked(posted),
            typed["answer_reason"],
            entered_by_name=request.user.full_name,
        )
        answer_revision(row, given, now=clock.now(), today=_signed_on(row, typed["signed_on"]))
    except Refused as refusal:
        return revision_page(request, row, status=422, answer_refusal=str(refusal), **typed)
    messages.success(request, f"{row} is {kind.label.lower()}.")
    return redirect("revision", job_id, number)


def _signed_on(row: QuoteRevision, text: str) -> date:
    today = day_at_the_firm(clock.now())
    day = day_typed("Signed on", text, today)
    check_signed_on(row, day, today)
    return day


def revision_take_back(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    row, now, posted = revision_or_404(job_id, number), clock.now(), request.POST
    today = day_at_the_firm(now)
    typed = {name: posted.get(name, "") for name in ("back_name", "back_on", "back_way", "back_reason")}
    try:
        if typed["back_way"] not in TakeBackWay.values or typed["back_way"] == TakeBackWay.PAGE:
            raise Refused("How it came is missing: choose one of the ways.")
        given_on = day_typed("The day of the notice", typed["back_on"], today)
        notice = Notice(
            typed["back_name"],
            given_on,
            TakeBackWay(typed["back_way"]),
            typed["back_reason"],
            entered_by_name=request.user.full_name,
        )
        take_back(row, notice, now=now, today=today)
    except Refused as refusal:
        return revision_page(request, row, status=422, back_refusal=str(refusal), **typed)
    messages.success(request, f"The acceptance of {row} is taken back; nothing is agreed until a new one is accepted.")
    return redirect("revision", job_id, number)


def day_typed(name: str, text: str, today: date) -> date:
    try:
        return date.fromisoformat(text.strip())
    except ValueError as error:
        raise Refused(f"{name} is {text[:40]!r}; write a day such as {today.isoformat()}.") from error
