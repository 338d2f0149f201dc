"""A revision on its way to the client."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from catalog.core.ground.refusal import Refused
from quoting.client.models import QuoteMail
from quoting.client.pages.revision import revision_page
from quoting.client.services.client_links import withdraw_links
from quoting.client.services.mail_messages import link_for_hand
from quoting.client.services.mails import request_mail
from quoting.platform import clock
from quoting.platform.base_url import origin_of
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.mail_way import on_its_way
from quoting.quotes.models import QuoteRevision
from quoting.quotes.pages.revisions import revision_or_404


def mail_posted(request: HttpRequest, revision: QuoteRevision, **more: Any) -> QuoteMail:
    """Of a form with request_key, to_address and message. more: as of `request_mail`. Raises Refused."""
    now, typed = clock.now(), {name: request.POST.get(name, "") for name in ("to_address", "message", "request_key")}
    asked = {"origin": origin_of(request), "by_name": request.user.full_name, "now": now}
    return request_mail(revision, **typed, **asked, today=day_at_the_firm(now), **more)


def revision_send(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    row = revision_or_404(job_id, number)
    try:
        mail = mail_posted(request, row)
    except Refused as refusal:
        typed = {"to_address": request.POST.get("to_address", ""), "message": request.POST.get("message", "")}
        return revision_page(request, row, status=422, mail_refusal=str(refusal), **typed)
    messages.success(request, on_its_way(row, mail.to_address))
    return redirect("revision", job_id, number)


def revision_link(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    row, now = revision_or_404(job_id, number), clock.now()
    try:
        wanted = {"origin": origin_of(request), "now": now, "today": day_at_the_firm(now)}
        address = link_for_hand(row, **wanted, by_name=request.user.full_name)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("revision", job_id, number)
    response = render(request, "client/link_once.html", {"revision": row, "job": row.quote.job, "address": address})
    response["Cache-Control"] = "no-store"
    response["Referrer-Policy"] = "no-referrer"
    return response


def revision_link_withdraw(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    row = revision_or_404(job_id, number)
    if withdraw_links(row, clock.now()):
        messages.success(request, "Link withdrawn. Its page now says so.")
    else:
        messages.warning(request, "No link to this revision is in use.")
    return redirect("revision", job_id, number)
