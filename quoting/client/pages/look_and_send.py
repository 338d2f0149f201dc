"""The quotation before it is frozen: its first page, to whom it goes, and until when it holds; then it is sent."""

import uuid
from typing import Any

from csp.constants import NONE, SELF, UNSAFE_INLINE
from csp.decorators import csp_replace, csp_update
from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.clickjacking import xframe_options_sameorigin

from catalog.core.ground.refusal import Refused
from catalog.pages.firm_first import firm_first
from catalog.services.firm_on_paper import sheet_size
from jobs.core.measure.survey import SurveyError
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404
from quoting.client.pages.sending import mail_posted, revision_link
from quoting.core.quotes.work_up import WorkUp
from quoting.job_files.services.job_files import figures_mark, work_up_job
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.mail import addresses_of, message_text
from quoting.platform.mail_way import mail_stays, on_its_way
from quoting.quotes.models import QuoteRevision
from quoting.quotes.pages.comparing import changed_since
from quoting.quotes.pages.figures import figures_of
from quoting.quotes.pages.findings import hindrances
from quoting.quotes.services.cancellation import rule_in_force, window_of
from quoting.quotes.services.first_page import first_page
from quoting.quotes.services.quotes import issue_quote

SEND, LINK = "send", "link"
FRAMED = {"frame-ancestors": [SELF], "style-src": [UNSAFE_INLINE], "script-src": [NONE]}


@firm_first
@csp_update({"frame-src": [SELF]})
def quote_issue(request: HttpRequest, job_id: int) -> HttpResponse:
    job, now = job_or_404(job_id), clock.now()
    if request.method != "POST":
        return _page(request, job)
    way = request.POST.get("way", "")
    try:
        if way == SEND:
            _check_mail(request)
        revision = issue_quote(
            job,
            request_key=request.POST.get("request_key", ""),
            seen_mark=request.POST.get("seen_mark", ""),
            by=request.user,
            now=now,
            today=day_at_the_firm(now),
        )
    except Refused as refusal:
        return _page(request, job, refusal.sentences)
    if way == LINK:
        return revision_link(request, job.pk, revision.number)
    messages.success(request, _sent(request, revision) if way == SEND else f"Made: {revision}. Its PDF is being set.")
    return redirect("revision", job.pk, revision.number)


@xframe_options_sameorigin
@csp_replace(FRAMED)
def quote_first_page(request: HttpRequest, job_id: int) -> HttpResponse:
    """Shown in a frame of the page; nothing is frozen by looking at it."""
    job, today = job_or_404(job_id), day_at_the_firm(clock.now())
    try:
        return HttpResponse(first_page(work_up_job(job, today), today, request.user.full_name))
    except (Refused, SurveyError) as error:
        raise Http404(str(error)) from error


def _check_mail(request: HttpRequest) -> None:
    """Before anything is frozen."""
    addresses_of(request.POST.get("to_address", ""))
    message_text(request.POST.get("message", ""))


def _sent(request: HttpRequest, revision: QuoteRevision) -> str:
    mail = mail_posted(request, revision, with_paper_to_come=True)
    return f"{on_its_way(revision, mail.to_address)} You'll see here when it is opened."


def _page(request: HttpRequest, job: Job, refusals: tuple[str, ...] = ()) -> HttpResponse:
    today = day_at_the_firm(clock.now())
    try:
        work_up: WorkUp = work_up_job(job, today)
    except SurveyError as error:
        messages.error(request, f"The walls cannot be worked out. {error.field}: {error.reason}")
        return redirect("quote", job.pk)
    if work_up.quote is None:
        return redirect("quote", job.pk)
    last = QuoteRevision.objects.select_related("quote").filter(quote__job=job).order_by("-number").first()
    context: dict[str, Any] = {
        "job": job,
        "today": today,
        "refusals": refusals,
        "hindrances": hindrances(job, work_up.quote.blocking, has_walls=bool(work_up.walls)),
        "last": last,
        "changed": changed_since(last, work_up) if last else (),
        "window": window_of(rule_in_force(today), today),
        "starters": _starters(work_up),
        "sheet_size": sheet_size(work_up.read.book.firm),
        "mail_stays_here": mail_stays(),
        "to_address": request.POST.get("to_address", job.client.email),
        "message": request.POST.get("message", ""),
        # New for every page shown, so that pressing twice issues once.
        "request_key": uuid.uuid4().hex,
        "seen_mark": figures_mark(work_up.read, today),
        **figures_of(work_up, with_margin=True),
    }
    return render(request, "client/look_and_send.html", context, status=409 if refusals else 200)


def _starters(work_up: WorkUp) -> int:
    """Limits the bends rest on that nobody has checked."""
    bends = ((check.board, check) for wall in work_up.walls for check in wall.bend_checks)
    tracks = ((check.track, check) for wall in work_up.walls for check in wall.track_checks)
    return len({(name, check.least_radius_mm) for name, check in (*bends, *tracks) if check.sure == "memory"})
