"""The money of a job: what does it make, and where did the margin go? Each figure opens to its rows."""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.safestring import mark_safe

from catalog.core.ground.money import to_cents
from jobs.deliveries.pages.acting import form_page, request_key
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404
from quoting.core.money.cost_parts import CostPart, Stage
from quoting.core.money.job_costs import CostSum, ItemCost, JobCosts
from quoting.core.money.pace import step_at_this_pace
from quoting.core.money.quoted import FREIGHT
from quoting.job_money.pages.drawn import drawn
from quoting.job_money.pages.forms import SayForm
from quoting.job_money.pages.warned import warned_address
from quoting.job_money.services.bridge_words import CAUSE_WORDS, lead, row_words, says
from quoting.job_money.services.job_costs import JobMoney, money_of
from quoting.job_money.services.row_origins import Origin, origins_of
from quoting.job_money.services.saying import say_to_go
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm, signature_of
from quoting.platform.papers.models import PaperKind
from quoting.platform.papers.papers import RENDER_JOB_RESULT, last_errand, list_papers, paper_of

CATEGORY_WORDS = {
    "labour": "Labour",
    "materials": "Materials",
    "subcontract": "Subcontract",
    "other": "Other",
    FREIGHT: "Freight",
}
STAGE_WORDS: dict[Stage, str] = {
    "worked": "Worked",
    "billed": "Billed",
    "received": "Received, no bill yet",
    "overhead": "Overhead on these",
    "committed": "On order",
    "to_go": "Still to go",
}


@dataclass(frozen=True)
class ShownCategory:
    """items: each with what it still costs at this pace, None where nobody said enough to go by."""

    name: str
    sums: CostSum
    items: tuple[tuple[ItemCost, Decimal | None], ...]

    @property
    def is_uncoded(self) -> bool:
        return any(not item.is_coded for item, _ in self.items)


@dataclass(frozen=True)
class ShownCause:
    """parts: what each item adds, with its rows in words."""

    name: str
    points: Decimal
    amount: Decimal
    says: str
    parts: tuple[tuple[str, Decimal, tuple[tuple[str, Decimal], ...]], ...]


def job_money(request: HttpRequest, job_id: int) -> HttpResponse:
    job, today = job_or_404(job_id), day_at_the_firm(clock.now())
    money = money_of([job.pk], today).get(job.pk)
    errand = last_errand(RENDER_JOB_RESULT, job)
    context: dict[str, Any] = {
        "job": job,
        "found": money,
        "errand": errand,
        "errand_paper": paper_of(errand) if errand else None,
        "papers": list_papers(job, PaperKind.JOB_RESULT),
    }
    if money is not None:
        context |= _shown(job, money)
        context["warnings"] = [
            (warning, warned_address(request, job, money.costs, warning)) for warning in money.warnings
        ]
    return render(request, "job_money/money.html", context)


def _shown(job: Job, money: JobMoney) -> dict[str, Any]:
    is_closed, bridge = money.costs.facts.is_closed, money.bridge
    shown: dict[str, Any] = {
        "categories": _categories(money.costs),
        "earned_percent": _percent(money.earned.share),
        "fitted_percent": _percent(money.earned.share_fitted),
    }
    if bridge is None:
        return shown
    picture = drawn(bridge, is_closed=is_closed)
    first, worst = lead(bridge, is_closed=is_closed)
    return shown | {
        "lead": first,
        "worst": worst,
        "picture": mark_safe(picture.wide.svg),
        "narrow": mark_safe(picture.narrow.svg),
        "causes": [_cause(step) for step in bridge.steps],
    }


def _percent(share: Fraction | None) -> Decimal | None:
    return None if share is None else to_cents(share * 100)


def _categories(costs: JobCosts) -> list[ShownCategory]:
    sums = costs.by_category
    groups = {key: tuple((item, _pace(costs, item)) for item in costs.items if item.category == key) for key in sums}
    order = [key for key in CATEGORY_WORDS if key in sums]
    return [ShownCategory(CATEGORY_WORDS[key], sums[key], groups[key]) for key in order]


def _pace(costs: JobCosts, item: ItemCost) -> Decimal | None:
    return step_at_this_pace(costs, item.item) if item.category == "labour" else None


def _cause(step: Any) -> ShownCause:
    parts = tuple(
        (part.what or "On no step", part.amount, tuple((row_words(row), row.amount) for row in part.rows))
        for part in step.parts
    )
    return ShownCause(CAUSE_WORDS[step.cause], step.points, step.amount, says(step), parts)


@dataclass(frozen=True)
class ShownStage:
    name: str
    anchor: str
    amount: Decimal
    rows: tuple[tuple[CostPart, str, Origin | None, str], ...]


def money_item(request: HttpRequest, job_id: int, category: str) -> HttpResponse:
    """One step, material or lump: every row, and what a person says is still to go."""
    job, now, key = job_or_404(job_id), clock.now(), request.GET.get("item", "")
    today = day_at_the_firm(now)
    money = money_of([job.pk], today).get(job.pk)
    items = money.costs.items if money else ()
    item = next((cost for cost in items if (cost.category, cost.item) == (category, key)), None)
    if money is None or item is None:
        raise Http404
    form = SayForm(request.POST or None, {"request_key": request_key(request)})

    def act(entries: dict[str, Any]) -> str:
        document = {**entries, "category": category, "item": key}
        say_to_go(job, document, signature_of(request.user, now), now=now)
        return f"Said for {item.what or 'hours on no step'}."

    to = reverse("job_money", args=[job.pk])
    about = {
        "job": job,
        "item": item,
        "heading": item.what or "Hours on no step",
        "stages": _stages(item),
        "said": [entry for entry in money.costs.facts.said if (entry.category, entry.item) == (category, key)],
        "pace": _pace(money.costs, item),
        "button": "Save",
        "back_label": "Money",
        "template": "job_money/item.html",
    }
    return form_page(request, form, act, to, **about)


PRICE_WORDS = {
    "order": "At the price of the order",
    "confirmation": "At the price confirmed",
    "bill": "At the price billed",
    "no price": "No price: at its quoted cost",
}


def _source(part: CostPart) -> str:
    """Where its price or quantity is from; a bill is named already."""
    return "" if part.stage == "billed" else PRICE_WORDS.get(part.source, part.source)


def _stages(item: ItemCost) -> list[ShownStage]:
    origins = origins_of(item.parts)
    stages = []
    for stage, name in STAGE_WORDS.items():
        parts = [part for part in item.parts if part.stage == stage]
        if parts:
            rows = tuple((part, row_words(part), origins.get((part.stage, part.row)), _source(part)) for part in parts)
            stages.append(ShownStage(name, stage, item.of(stage), rows))
    return stages
