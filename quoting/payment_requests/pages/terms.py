"""What the owner sets: how clients pay the firm, and what a client holds back of a job."""

from decimal import Decimal
from fractions import Fraction
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from catalog.pages.firm_first import firm_first
from jobs.deliveries.pages.acting import form_page
from jobs.jobs.pages.requests import job_or_404
from quoting.payment_requests.models import JobRetention, RequestTerms
from quoting.payment_requests.pages.forms import RetentionForm, TermsForm
from quoting.payment_requests.services.terms import retention_of, set_retention, set_terms, terms_of_requests
from quoting.platform import clock
from quoting.platform.firm_day import signature_of
from quoting.platform.pages.stored_values import Stored, hold
from quoting.pricing.models.shares import join_share

NONE_SET = {"share": "", "event": "", "holds_tax": True}


@firm_first
def request_terms(request: HttpRequest) -> HttpResponse:
    if request.method == "POST":
        hold(RequestTerms.objects.all())
    row = terms_of_requests()
    names = ("how_to_pay", "days_to_pay", "tax_number")
    stored = Stored({name: getattr(row, name) if row else "" for name in names}, row, request.path)

    def act(entries: dict[str, Any]) -> str:
        set_terms(entries)
        return "Saved. It is printed on every request issued from now on."

    form = TermsForm(request.POST or None, stored=stored)
    to = reverse("firm")
    return form_page(request, form, act, to, heading="How clients pay", button="Save", back_label="Firm")


@firm_first
def job_retention(request: HttpRequest, job_id: int) -> HttpResponse:
    job, now = job_or_404(job_id), clock.now()
    if request.method == "POST":
        hold(JobRetention.objects.filter(job=job))
    row = retention_of(job)
    stored = Stored(_shown(row), row, request.path)

    def act(entries: dict[str, Any]) -> str:
        signature = signature_of(request.user, now)
        retention = set_retention(job, entries, signature, now=now, seen_version=row.version if row else None)
        held = retention.to_core()
        return f"Saved: {_percent(held.share)} % is held back." if held else "Saved: nothing is held back."

    form, to = RetentionForm(request.POST or None, stored=stored), reverse("since_signed", args=[job.pk])
    return form_page(request, form, act, to, heading="What is held back", button="Save", back_label="Since signed")


def _shown(row: JobRetention | None) -> dict[str, Any]:
    if row is None:
        return NONE_SET
    share = join_share(row.share_count, row.share_parts)
    return {"share": _percent(share), "event": row.event, "holds_tax": row.holds_tax}


def _percent(share: Decimal | Fraction) -> str:
    return f"{float(share * 100):g}"
