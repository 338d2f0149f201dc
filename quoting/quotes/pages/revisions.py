"""Revisions beside each other and as a file, and the withdrawal of a revision."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from catalog.core.ground.refusal import Refused
from jobs.jobs.pages.requests import job_or_404
from quoting.platform import clock
from quoting.platform.people.access import sees_margin
from quoting.quotes.models import QuoteRevision
from quoting.quotes.pages.comparing import compared, offered_by
from quoting.quotes.services.quote_csv import quote_csv
from quoting.quotes.services.revisions import withdraw_revision


def revision_csv(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    row = revision_or_404(job_id, number)
    response = HttpResponse(quote_csv(row), content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{row.quote.number}-revision-{row.number}.csv"'
    return response


def revision_withdraw(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    row = revision_or_404(job_id, number)
    reason = request.POST.get("reason", "")
    try:
        if len(reason) > 2000:
            raise Refused(f"The reason is {len(reason)} characters long; at most 2,000.")
        withdraw_revision(row.pk, now=clock.now(), by_name=request.user.full_name, reason=reason)
    except Refused as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, f"{row} is withdrawn and can no longer be accepted.")
    return redirect("revision", job_id, number)


def quote_compare(request: HttpRequest, job_id: int) -> HttpResponse:
    job, pair = job_or_404(job_id), (request.GET.get("a", ""), request.GET.get("b", ""))
    if not all(entry.isascii() and entry.isdigit() and len(entry) < 6 for entry in pair):
        raise Http404("Two revisions are compared by their numbers.")
    first, second = (revision_or_404(job_id, number) for number in sorted(int(entry) for entry in pair))
    rows = compared(offered_by(first), offered_by(second), sees_margin(request))
    context = {"job": job, "first": first, "second": second, "rows": rows}
    return render(request, "quotes/compare.html", context)


def revision_or_404(job_id: int, number: int) -> QuoteRevision:
    rows = QuoteRevision.objects.select_related("quote__job__client")
    row = rows.filter(quote__job_id=job_id, number=number).first()
    if row is None:
        raise Http404("The job has no such revision.")
    return row
