"""The quote of a job as it stands: how it is priced, what it comes to, what is in the way, what was issued."""

from datetime import date
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from catalog.core.ground.document_reader import DocumentError
from catalog.pages.firm_first import firm_first
from jobs.core.measure.survey import SurveyError
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404
from jobs.jobs.services.versions import ChangedMeanwhile
from quoting.core.quotes.work_up import WorkUp
from quoting.job_files.services.job_files import work_up_job
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm, signature_of
from quoting.platform.formatting import amount_words
from quoting.platform.people.access import sees_margin
from quoting.pricing.models import Pricing
from quoting.pricing.services.pricing import fill_from_usual, pricing_document, pricing_of, save_pricing
from quoting.pricing.services.taxes import labour_rates_in_force, taxes_in_force
from quoting.quotes.models import Quote
from quoting.quotes.pages.figures import figures_of
from quoting.quotes.pages.findings import hindrances
from quoting.quotes.pages.pricing_form import LISTS, PricingForm
from quoting.quotes.services.quote_preview import work_up_with
from quoting.quotes.services.revisions import list_revisions


@firm_first
def quote(request: HttpRequest, job_id: int) -> HttpResponse:
    job = job_or_404(job_id)
    if request.method == "POST":
        return _save(request, job)
    return _page(request, job, _stored_form(job) if sees_margin(request) else None)


@firm_first
def quote_start(request: HttpRequest, job_id: int) -> HttpResponse:
    job = job_or_404(job_id)
    try:
        fill_from_usual(job)
    except DocumentError as error:
        messages.error(request, f"{error.complaints[0].reason[:1].upper()}{error.complaints[0].reason[1:]}.")
    return redirect("quote", job.pk)


@firm_first
def quote_preview(request: HttpRequest, job_id: int) -> HttpResponse:
    """What the typed pricing comes to. Nothing is stored."""
    job = job_or_404(job_id)
    form = typed_form(request, job)
    context = {"job": job, "was_refused": "refused" in request.POST, **_figures_typed(request, job, form)}
    return render(request, "quotes/_preview.html", context | {"not_saved": form.not_saved()})


def _figures_typed(request: HttpRequest, job: Job, form: PricingForm) -> dict[str, Any]:
    """What the typed pricing comes to, or what keeps it from being worked out."""
    figures: dict[str, Any] = {}
    if form.is_valid() and not form.sentences:
        try:
            now = clock.now()
            work_up = work_up_with(job, form.document(), day_at_the_firm(now), signature_of(request.user, now))
            figures = figures_of(work_up, with_margin=True) | _in_the_way(job, work_up)
        except DocumentError as error:
            form.complain(error)
        except SurveyError as error:
            figures = {"faults": [_no_walls(error)]}
    return {"is_typed": True, "faults": form.sentences, **figures}


def _no_walls(error: SurveyError) -> str:
    return f"The walls cannot be worked out. {error.field}: {error.reason}"


def _save(request: HttpRequest, job: Job) -> HttpResponse:
    more = request.POST.get("more", "")
    form = typed_form(request, job, more=more)
    if more in LISTS or not form.is_valid():
        return _page(request, job, form, status=form.status())
    seen = request.POST.get("version", "")
    version = int(seen) if seen.isascii() and seen.isdigit() and len(seen) < 10 else None
    try:
        now = clock.now()
        signature, today = signature_of(request.user, now), day_at_the_firm(now)
        save_pricing(job, form.document(), seen_version=version, on_day=today, signature=signature)
    except DocumentError as error:
        form.complain(error)
        return _page(request, job, form, status=422)
    except ChangedMeanwhile:
        form.conflict = (
            "Someone else changed how this job is priced since you opened this page. Nothing was saved. "
            "What you typed stands below: compare it with the page opened anew, then save here again."
        )
        return _page(request, job, form, status=409)
    messages.success(request, _saved_words(job, today))
    return redirect("quote", job.pk)


def _saved_words(job: Job, today: date) -> str:
    words = _figures_stored(job, today, with_margin=True)
    priced, count = words.get("priced"), len(words.get("hindrances", ()))
    price = f"Saved: {amount_words(priced.price)} before tax." if priced else "Saved; there is no price yet."
    following = (
        f"{count} thing{' stands' if count == 1 else 's stand'} before sending."
        if count
        else "Next: look at it and send."
    )
    return f"{price} {following}"


def typed_form(request: HttpRequest, job: Job, more: str = "") -> PricingForm:
    return PricingForm(request.POST, {}, _wall_names(job), more=more)


def _stored_form(job: Job) -> PricingForm | None:
    pricing = pricing_of(job)
    if pricing is None:
        return None
    return PricingForm(None, pricing_document(pricing, day_at_the_firm(clock.now())), _wall_names(job))


def _wall_names(job: Job) -> list[str]:
    return [wall.name for wall in job.walls.all()]


def _page(request: HttpRequest, job: Job, form: PricingForm | None, status: int = 200) -> HttpResponse:
    today, with_margin = day_at_the_firm(clock.now()), sees_margin(request)
    issued = Quote.objects.filter(job=job).first()
    pricing = Pricing.objects.filter(job=job).first()
    context: dict[str, Any] = {
        "job": job,
        "today": today,
        "form": form,
        "version": pricing.version if pricing else "",
        "is_priced": pricing is not None,
        "with_margin": with_margin,
        "has_usual": Pricing.objects.filter(job=None).exists(),
        "issued": issued,
        "revisions": list_revisions(issued) if issued else [],
        "taxes": taxes_in_force(today),
        "rates": labour_rates_in_force(today),
    }
    if form is not None and form.data is not None:
        context |= _figures_typed(request, job, form)
        context["not_saved"] = form.not_saved()
    else:
        context |= _figures_stored(job, today, with_margin)
    return render(request, "quotes/quote.html", context, status=status)


def _figures_stored(job: Job, today: date, with_margin: bool) -> dict[str, Any]:
    try:
        work_up = work_up_job(job, today)
    except SurveyError as error:
        return {"faults": [_no_walls(error)]}
    return figures_of(work_up, with_margin=with_margin) | _in_the_way(job, work_up)


def _in_the_way(job: Job, work_up: WorkUp) -> dict[str, Any]:
    findings = work_up.quote.blocking if work_up.quote else ()
    return {"hindrances": hindrances(job, findings), "has_walls": bool(work_up.walls)}
