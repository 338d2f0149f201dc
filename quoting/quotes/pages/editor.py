"""The price of a job: how it is made, a step at a time, what it comes to, and what stands before sending."""

from datetime import date
from typing import Any, NamedTuple

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.pages.firm_first import firm_first
from jobs.core.measure.survey import SurveyError
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404
from jobs.jobs.services.versions import ChangedMeanwhile
from quoting.core.prices.checklist import open_items
from quoting.core.quotes.work_up import WorkUp
from quoting.job_files.services.job_files import work_up_job
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm, signature_of
from quoting.platform.formatting import amount_words
from quoting.platform.pages.document_form import Document
from quoting.platform.people.access import sees_margin
from quoting.pricing.models import Pricing
from quoting.pricing.services.pricing import fill_from_usual, pricing_document, pricing_of, save_pricing
from quoting.pricing.services.taxes import labour_rates_in_force
from quoting.quotes.models import Quote
from quoting.quotes.pages.cost_step import CostPart
from quoting.quotes.pages.extras_step import ExtrasPart
from quoting.quotes.pages.figures import figures_of
from quoting.quotes.pages.findings import hindrances
from quoting.quotes.pages.pricing_part import PricingPart
from quoting.quotes.pages.terms_step import TermsPart
from quoting.quotes.services.quote_preview import work_up_with
from quoting.quotes.services.revisions import list_revisions

COST, EXTRAS, TERMS = "cost", "extras", "terms"
STEPS: dict[str, tuple[str, type[PricingPart]]] = {
    COST: ("Cost and margin", CostPart),
    EXTRAS: ("Usual extras", ExtrasPart),
    TERMS: ("Options and terms", TermsPart),
}


class Step(NamedTuple):
    key: str
    label: str
    words: str


@firm_first
def quote(request: HttpRequest, job_id: int) -> HttpResponse:
    job, step = job_or_404(job_id), step_of(request)
    document = stored_document(job) if sees_margin(request) else None
    if request.method == "POST" and document is not None:
        return _save(request, job, step, document)
    return _page(request, job, step, _part(request, job, step, document) if document is not None else None)


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
    job, step = job_or_404(job_id), step_of(request)
    part = _part(request, job, step, stored_document(job) or {})
    figures = _figures_typed(request, job, part)
    context = {"job": job, "step": step, "was_refused": "refused" in request.POST, "not_saved": part.not_saved()}
    return render(request, "quotes/_preview.html", context | figures)


def step_of(request: HttpRequest) -> str:
    step = (request.POST or request.GET).get("step", COST)
    return step if step in STEPS else COST


def stored_document(job: Job) -> Document | None:
    pricing = pricing_of(job)
    return pricing_document(pricing, day_at_the_firm(clock.now())) if pricing else None


def _part(request: HttpRequest, job: Job, step: str, document: Document) -> PricingPart:
    posted = request.POST if request.method == "POST" else None
    walls = tuple(wall.name for wall in job.walls.all())
    return STEPS[step][1](posted, document, walls=walls, more=request.POST.get("more", ""))


def _figures_typed(request: HttpRequest, job: Job, part: PricingPart) -> dict[str, Any]:
    """What the typed pricing comes to, or what keeps it from being worked out."""
    figures: dict[str, Any] = {}
    if part.is_valid():
        try:
            now = clock.now()
            document = part.stored | part.document()
            work_up = work_up_with(job, document, day_at_the_firm(now), signature_of(request.user, now))
            figures = _figures(job, work_up, with_margin=True)
        except DocumentError as error:
            part.complain(error)
        except SurveyError as error:
            figures = {"faults": [_no_walls(error)]}
    return {"is_typed": True, "faults": part.sentences, **figures}


def _no_walls(error: SurveyError) -> str:
    return f"The walls cannot be worked out. {error.field}: {error.reason}"


def _save(request: HttpRequest, job: Job, step: str, stored: Document) -> HttpResponse:
    part = _part(request, job, step, stored)
    if request.POST.get("more", "") in part.rows or not part.is_valid():
        return _page(request, job, step, part, status=part.status())
    seen, now = request.POST.get("version", ""), clock.now()
    version = int(seen) if seen.isascii() and seen.isdigit() and len(seen) < 10 else None
    today, signature = day_at_the_firm(now), signature_of(request.user, now)
    try:
        save_pricing(job, stored | part.document(), seen_version=version, on_day=today, signature=signature)
    except DocumentError as error:
        part.complain(error)
        return _page(request, job, step, part, status=422)
    except ChangedMeanwhile:
        part.conflict = (
            "Someone else changed how this job is priced since you opened this page. What you typed is below: "
            "compare it with the page opened again, then save."
        )
        return _page(request, job, step, part, status=409)
    messages.success(request, _saved_words(job, today))
    return redirect(f"{reverse('quote', args=[job.pk])}?step={step}")


def _saved_words(job: Job, today: date) -> str:
    words = _figures_stored(job, today, with_margin=True)
    priced, count = words.get("priced"), len(words.get("hindrances", ()))
    price = f"Saved: {amount_words(priced.price)} before tax." if priced else "Saved; there is no price yet."
    return f"{price} {f'Before you can send: {count}.' if count else 'Next: look and send.'}"


def _page(request: HttpRequest, job: Job, step: str, part: PricingPart | None, status: int = 200) -> HttpResponse:
    today, with_margin = day_at_the_firm(clock.now()), sees_margin(request)
    issued, pricing = Quote.objects.filter(job=job).first(), pricing_of(job)
    if part is not None and part.data is not None:
        figures = _figures_typed(request, job, part) | {"not_saved": part.not_saved()}
    else:
        figures = _figures_stored(job, today, with_margin)
    context: dict[str, Any] = {
        "job": job,
        "today": today,
        "part": part,
        "step": step,
        "steps": [Step(key, label, _step_words(key, figures)) for key, (label, _) in STEPS.items()],
        "version": pricing.version if pricing else "",
        "is_priced": pricing is not None,
        "with_margin": with_margin,
        "has_usual": Pricing.objects.filter(job=None).exists(),
        "issued": issued,
        "revisions": list_revisions(issued) if issued else [],
        "rates": labour_rates_in_force(today),
        **figures,
    }
    return render(request, "quotes/quote.html", context, status=status)


def _step_words(step: str, figures: dict[str, Any]) -> str:
    """What a step holds that is not open."""
    sheet = figures.get("quote")
    if sheet is None:
        return ""
    if step == COST:
        return f"cost {amount_words(sheet.priced.cost)}" if sheet.priced else "no price yet"
    if step == EXTRAS:
        waiting = len(open_items(sheet.checklist, sheet.costs))
        return f"{waiting} to answer" if waiting else "all answered"
    options, parts = len(sheet.pricing.terms.options), len(sheet.pricing.instalments)
    return f"options {options}, instalments {parts}, valid {sheet.pricing.valid_days} days"


def _figures_stored(job: Job, today: date, with_margin: bool) -> dict[str, Any]:
    try:
        work_up = work_up_job(job, today)
    except SurveyError as error:
        return {"faults": [_no_walls(error)]}
    return _figures(job, work_up, with_margin=with_margin)


def _figures(job: Job, work_up: WorkUp, *, with_margin: bool) -> dict[str, Any]:
    """Of no wall, nothing is sent."""
    findings = work_up.quote.blocking if work_up.quote else ()
    before = hindrances(job, findings, has_walls=bool(work_up.walls))
    return figures_of(work_up, with_margin=with_margin) | {"hindrances": before}
