"""Since signed: what of the contract is asked for, paid and open, and what can be asked for next."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from catalog.pages.firm_first import firm_first
from jobs.jobs.pages.requests import job_or_404
from quoting.changes.services.contracts import contract_of
from quoting.payment_requests.models import PaymentRequest
from quoting.payment_requests.services.asked import asked_of
from quoting.payment_requests.services.payments_received import deposit_of, payments_of
from quoting.payment_requests.services.standing import requests_of
from quoting.payment_requests.services.terms import retention_of, terms_of_requests
from quoting.payment_requests.services.words import late_words, open_words
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people.access import OWNER, role_of


@firm_first
def since_signed(request: HttpRequest, job_id: int) -> HttpResponse:
    job, today = job_or_404(job_id), day_at_the_firm(clock.now())
    result, wanted, contract = requests_of(job), asked_of([job.pk])[job.pk], contract_of(job)
    parts = tuple(result.parts()) if result else ()
    currency = contract.currency if contract else ""
    ready = next((part.part for part in parts if part.can_be_issued), "")
    context = {
        "job": job,
        "today": today,
        "contract": contract,
        "currency": currency,
        "parts": [part for part in parts if part.live is None],
        "ready": ready,
        "late": late_words(wanted, today, currency),
        "open": open_words(wanted, parts, today, currency),
        "asked": wanted,
        "rows": [(status, status.is_overdue(today)) for status in wanted.requests],
        "credits": PaymentRequest.objects.filter(job=job).exclude(credits=None).select_related("credits"),
        "payments": payments_of(job),
        "deposit": deposit_of(job),
        "retention": retention_of(job),
        "marks": result.marks.values() if result else (),
        "has_terms": terms_of_requests() is not None,
        "is_owner": role_of(request.user) in OWNER,
    }
    return render(request, "payment_requests/since_signed.html", context)
