"""Papers as they are made: how far an errand is, trying again, and the finished file."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from quoting.changes.models import ChangeNote
from quoting.payment_requests.models import PaymentRequest
from quoting.platform import clock
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import retry_errand
from quoting.platform.papers.models import Paper, PaperKind
from quoting.platform.papers.pages.handing_out import handed_out
from quoting.platform.papers.papers import (
    DESK_PAPERS,
    MONEY_PAPERS,
    OWNER_PAPERS,
    RENDER_CERTIFICATE,
    RENDER_CHANGE_NOTE,
    RENDER_CLAIM_LETTER,
    RENDER_JOB_RESULT,
    RENDER_MONTH,
    RENDER_ORDER_DATES,
    RENDER_ORDER_SHEET,
    RENDER_REQUEST,
    RENDER_STATEMENT,
    RESULT_PAPERS,
    paper_of,
)
from quoting.platform.people.access import BUYERS, DESK, OWNER, PRICERS, role_of
from quoting.quotes.models import QuoteRevision

# Of each kind that is not all the desk's. What the client is asked to pay is the office's and the owner's; what a job
# made is of those who price.
READERS = {
    PaperKind.REQUEST: BUYERS,
    PaperKind.STATEMENT: BUYERS,
    PaperKind.MONTH: OWNER,
    PaperKind.JOB_RESULT: PRICERS,
}


def paper_progress(request: HttpRequest, errand_id: int) -> HttpResponse:
    """The fragment a page asks for again and again while the paper is being made."""
    errand = paper_errand(request, errand_id)
    response = render(request, "papers_made/_progress.html", {"errand": errand, "paper": paper_of(errand)})
    response["Cache-Control"] = "no-store"
    return response


def paper_retry(request: HttpRequest, errand_id: int) -> HttpResponse:
    errand = paper_errand(request, errand_id)
    if retry_errand(errand.pk, clock.now()):
        messages.success(request, "The paper is asked for again.")
    else:
        messages.warning(request, "This paper has not failed: it is made, or being made.")
    return redirect(page_of(errand))


def paper(request: HttpRequest, paper_id: int) -> HttpResponse:
    row = get_object_or_404(
        Paper.objects.select_related("job", "order", "receipt", "revision__quote", "answer__revision__quote").defer(
            "revision__snapshot", "answer__revision__snapshot"
        ),
        pk=paper_id,
    )
    if role_of(request.user) not in READERS.get(PaperKind(row.kind), DESK):
        raise Http404("There is no such paper.")
    return handed_out(request, row)


def paper_errand(request: HttpRequest, errand_id: int) -> Errand:
    role = role_of(request.user)
    kinds = (
        *DESK_PAPERS,
        *(MONEY_PAPERS if role in BUYERS else ()),
        *(OWNER_PAPERS if role in OWNER else ()),
        *(RESULT_PAPERS if role in PRICERS else ()),
    )
    return get_object_or_404(Errand, pk=errand_id, kind__in=kinds)


def page_of(errand: Errand) -> str:
    if errand.kind == RENDER_ORDER_DATES:
        return reverse("job_order_dates", args=[errand.payload["job"]])
    if errand.kind == RENDER_JOB_RESULT:
        return reverse("job_money", args=[errand.payload["job"]])
    if errand.kind == RENDER_CHANGE_NOTE:
        note = get_object_or_404(ChangeNote, pk=errand.payload["change_note"])
        return reverse("change_note", args=[note.job_id, note.number])
    if errand.kind == RENDER_REQUEST:
        row = get_object_or_404(PaymentRequest, pk=errand.payload["request"])
        return reverse("payment_request", args=[row.job_id, row.number])
    if errand.kind == RENDER_MONTH:
        return reverse("month_of", args=[errand.payload["month"]])
    if errand.kind == RENDER_STATEMENT:
        return reverse("client_statement", args=[errand.payload["client"]])
    if errand.kind == RENDER_ORDER_SHEET:
        return reverse("order", args=[errand.payload["order"]])
    if errand.kind == RENDER_CLAIM_LETTER:
        return reverse("receipt", args=[errand.payload["receipt"]])
    rows = QuoteRevision.objects.select_related("quote").defer("snapshot")
    if errand.kind == RENDER_CERTIFICATE:
        page = rows.filter(answer=errand.payload["answer"]).first()
    else:
        page = rows.filter(pk=errand.payload["revision"]).first()
    if page is None:
        raise Http404("The revision of this paper is not there.")
    return reverse("revision", args=[page.quote.job_id, page.number])
