"""A revision on its way to the client, and an answer that came back on paper."""

from datetime import date

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from catalog.core.ground.refusal import Refused
from quoting.client.models import AnswerKind
from quoting.client.pages.page import ticked
from quoting.client.services.acceptance import Given, answer_revision, check_signed_on
from quoting.client.services.client_links import withdraw_links
from quoting.client.services.mail_messages import link_for_hand
from quoting.client.services.mails import request_mail
from quoting.platform import clock
from quoting.platform.base_url import origin_of
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.mail_way import on_its_way
from quoting.quotes.models import QuoteRevision
from quoting.quotes.pages.revision import revision_or_404, revision_page


def day_typed(name: str, text: str, today: date) -> date:
    try:
        return date.fromisoformat(text.strip())
    except ValueError as error:
        raise Refused(f"{name} is {text[:40]!r}; write a day such as {today.isoformat()}.") from error


def revision_send(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    row, now = revision_or_404(job_id, number), clock.now()
    typed = {"to_address": request.POST.get("to_address", ""), "message": request.POST.get("message", "")}
    try:
        mail = request_mail(
            row,
            **typed,
            origin=origin_of(request),
            request_key=request.POST.get("request_key", ""),
            by_name=request.user.full_name,
            now=now,
            today=day_at_the_firm(now),
        )
    except Refused as refusal:
        return revision_page(request, row, status=422, mail_refusal=str(refusal), **typed)
    messages.success(request, on_its_way(row, mail.to_address))
    return redirect("revision", job_id, number)


def revision_link(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    row, now = revision_or_404(job_id, number), clock.now()
    try:
        asked = {"origin": origin_of(request), "now": now, "today": day_at_the_firm(now)}
        address = link_for_hand(row, **asked, by_name=request.user.full_name)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("revision", job_id, number)
    response = render(request, "quotes/link_once.html", {"revision": row, "job": row.quote.job, "address": address})
    response["Cache-Control"] = "no-store"
    response["Referrer-Policy"] = "no-referrer"
    return response


def revision_link_withdraw(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    row = revision_or_404(job_id, number)
    if withdraw_links(row, clock.now()):
        messages.success(request, "The link is withdrawn; whoever opens it is told so.")
    else:
        messages.warning(request, "No link to this revision is in use.")
    return redirect("revision", job_id, number)


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
