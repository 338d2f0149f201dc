"""The page of a job's cutting plans: how they stand, asking for better ones, choosing, and what is on hand."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from catalog.core.ground.refusal import Refused
from catalog.models import Pack
from catalog.pages.firm_first import firm_first
from catalog.services.book import book_of, firm_of
from jobs.core.takeoff.cut_list import not_planned
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404
from jobs.plans.models import FoundPlan, PlanOf
from jobs.plans.services.asking import KINDS, ask_for_plan
from jobs.plans.services.plans import choose_plan, drop_plan
from jobs.plans.services.standing import standing_of
from jobs.site.services.cuts import cut_lists
from jobs.site.services.drawings import drawings
from jobs.site.services.sheet import screen_section
from jobs.site.services.sheet_numbers import sheet_numbers
from jobs.stock.models import Stock
from jobs.stock.services.stock import shelf_for
from jobs.work_up.services.job_work_up import work_of
from quoting.platform import clock
from quoting.platform.errands.models import Errand
from quoting.platform.firm_day import day_at_the_firm, signature_of
from quoting.platform.pages.step import step


@firm_first
def job_plans(request: HttpRequest, job_id: int) -> HttpResponse:
    return _page(request, job_or_404(job_id))


def _page(request: HttpRequest, job: Job) -> HttpResponse:
    today = day_at_the_firm(clock.now())
    work = work_of(job, book_of(), today)
    context: dict[str, Any] = {"job": job, "today": today, "trouble": work.trouble}
    if work.done is not None:
        section = cut_lists(work.done)
        numbers = sheet_numbers(work.done.takeoff)
        book = work.done.read.book
        context |= {
            "standings": [standing_of(job, what, work.done) for what in PlanOf.values],
            "currency": book.firm.currency,
            "not_planned": [book.materials[code].name for code in not_planned(work.done.walls, book)],
            "cuts": screen_section(section) if section else None,
            "faces": [
                drawing
                for wall in work.done.walls
                for some in drawings(wall, book, numbers).faces.values()
                for drawing in some
            ],
        }
    taken = {purchase.material for purchase in work.done.takeoff.purchases} if work.done else set()
    packs = {(row.material.code, row.code): row.label for row in Pack.objects.select_related("material")}
    rows = [*Stock.objects.filter(job=job).select_related("material", "job"), *shelf_for(job, taken)]
    context |= {"rows": [(row, packs.get((row.material_id, row.pack), row.pack)) for row in rows], "firm": firm_of()}
    return render(request, "plans/plans.html", context)


@firm_first
def plan_ask(request: HttpRequest, job_id: int, what: str) -> HttpResponse:
    job, now = job_or_404(job_id), clock.now()
    _known(what)
    work = work_of(job, book_of(), day_at_the_firm(now))
    if work.done is None:
        messages.error(request, f"The walls cannot be worked out, so nothing can be planned. {work.trouble}")
    else:
        try:
            ask_for_plan(job, what, work.done, now)
        except Refused as error:
            messages.error(request, str(error))
    return redirect("job_plans", job.pk)


def plan_use(request: HttpRequest, job_id: int, what: str) -> HttpResponse:
    job = job_or_404(job_id)
    _known(what)

    def act() -> str:
        plan = FoundPlan.objects.filter(job=job, what=what).order_by("-found_at").first()
        if plan is None:
            raise Refused("There is no plan to use yet: look for one first.")
        signature = signature_of(request.user, clock.now())
        choose_plan(plan, by=signature.by, on=signature.on, seen_version=_seen(request))
        return f"The job is cut by this plan from now on: {plan.get_what_display().lower()}."

    return step(request, act, reverse("job_plans", args=[job.pk]))


def plan_drop(request: HttpRequest, job_id: int, what: str) -> HttpResponse:
    job = job_or_404(job_id)
    _known(what)

    def act() -> str:
        dropped = drop_plan(job, what, seen_version=_seen(request))
        return "The quick plan serves again." if dropped else "The quick plan serves already."

    return step(request, act, reverse("job_plans", args=[job.pk]))


def plan_progress(request: HttpRequest, errand_id: int) -> HttpResponse:
    """The fragment the page asks for again and again while a plan is looked for."""
    errand = get_object_or_404(Errand, pk=errand_id, kind__in=KINDS.values())
    response = render(request, "plans/_progress.html", {"errand": errand})
    response["Cache-Control"] = "no-store"
    if errand.is_over:
        # The whole page follows: figures, drawings and cut lists may all have changed.
        response["HX-Refresh"] = "true"
    return response


def _known(what: str) -> None:
    if what not in PlanOf.values:
        raise Http404(f"There is no plan of {what}.")


def _seen(request: HttpRequest) -> int | None:
    value = request.POST.get("seen_version", "")
    return int(value) if value.isascii() and value.isdigit() and len(value) < 10 else None
