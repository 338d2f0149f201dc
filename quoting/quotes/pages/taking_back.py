"""That the client took the acceptance back, as the office enters it."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from catalog.core.ground.refusal import Refused
from quoting.client.models import TakeBackWay
from quoting.client.services.acceptance_withdrawal import Notice, take_back
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.quotes.pages.revision import revision_or_404, revision_page
from quoting.quotes.pages.sending import day_typed


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
