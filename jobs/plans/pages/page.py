"""The page of a job's cutting plans: how they stand, asking for better ones, choosing, and what is on hand."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.refusal import Refused
from catalog.models import Material
from catalog.pages.firm_first import firm_first
from catalog.services.book import book_of
from jobs.core.schedule.plan_document import read_plans
from jobs.core.takeoff.cut_list import not_planned
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404
from jobs.plans.models import FoundPlan, PlanOf
from jobs.plans.services.asking import KINDS, ask_for_plan
from jobs.plans.services.plans import choose_plan, drop_plan, set_on_hand
from jobs.plans.services.standing import standing_of
from jobs.site.services.cuts import cut_lists
from jobs.site.services.drawings import drawings
from jobs.site.services.sheet import screen_section
from jobs.site.services.sheet_numbers import sheet_numbers
from jobs.work_up.services.job_work_up import work_of
from quoting.platform import clock
from quoting.platform.errands.models import Errand
from quoting.platform.firm_day import day_at_the_firm, signature_of
from quoting.platform.pages.step import step

SPARE_ROWS = 3
COLUMNS = ("material", "length", "count")


@firm_first
def job_plans(request: HttpRequest, job_id: int) -> HttpResponse:
    return _page(request, job_or_404(job_id), [])


def _page(
    request: HttpRequest, job: Job, complaints: list[str], typed: list[dict[str, str]] | None = None
) -> HttpResponse:
    today = day_at_the_firm(clock.now())
    work = work_of(job, book_of(), today)
    context: dict[str, Any] = {"job": job, "today": today, "trouble": work.trouble, "complaints": complaints}
    context["materials"] = Material.objects.filter(active=True, kind__in=("stud", "track", "trim")).order_by("name")
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
    stored = [
        {"material": one.material_id, "length": f"{float(one.length_mm):g} mm", "count": str(one.count)}
        for one in job.on_hand.all()
    ]
    context["rows"] = (typed if typed is not None else stored) + [dict.fromkeys(COLUMNS, "")] * SPARE_ROWS
    return render(request, "plans/plans.html", context, status=422 if complaints else 200)


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
        found = FoundPlan.objects.filter(job=job, what=what).order_by("-found_at").first()
        if found is None:
            raise Refused("There is no plan to use yet: look for one first.")
        signature = signature_of(request.user, clock.now())
        choose_plan(found, by=signature.by, on=signature.on, seen_version=_seen(request))
        return f"The job is cut by this plan from now on: {found.get_what_display().lower()}."

    return step(request, act, reverse("job_plans", args=[job.pk]))


def plan_drop(request: HttpRequest, job_id: int, what: str) -> HttpResponse:
    job = job_or_404(job_id)
    _known(what)

    def act() -> str:
        dropped = drop_plan(job, what, seen_version=_seen(request))
        return "The quick plan serves again." if dropped else "The quick plan serves already."

    return step(request, act, reverse("job_plans", args=[job.pk]))


@firm_first
def on_hand(request: HttpRequest, job_id: int) -> HttpResponse:
    job = job_or_404(job_id)
    lists = [request.POST.getlist(name)[:200] for name in COLUMNS]
    typed = [dict(zip(COLUMNS, (value.strip() for value in row), strict=True)) for row in zip(*lists, strict=False)]
    typed = [row for row in typed if any(row.values())]
    unit = "in" if book_of().firm.display_units == "imperial" else "mm"
    try:
        plans = read_plans(Reader({"on_hand": typed}, bare_unit=unit))
        codes = [one.material for one in plans.on_hand]
        known = set(Material.objects.filter(code__in=codes).values_list("code", flat=True))
        wrong = [one.material for one in plans.on_hand if one.material not in known]
        if wrong:
            raise DocumentError.at("on_hand", f"material {wrong[0]!r} is not in the catalog; choose one of the list")
        set_on_hand(job, plans.on_hand, seen_version=_seen(request))
    except DocumentError as error:
        told = [f"Row {_row(one.path)}: {_name(one.path)}{one.reason}." for one in error.complaints]
        return _page(request, job, told, typed)
    except Refused as error:
        messages.error(request, str(error))
    else:
        messages.success(request, "What is on hand is kept.")
    return redirect("job_plans", job.pk)


def _row(path: str) -> str:
    digits = path.partition("[")[2].partition("]")[0]
    return str(int(digits) + 1) if digits.isdigit() else "of the table"


def _name(path: str) -> str:
    name = path.rpartition(".")[2]
    return f"{name} " if name in COLUMNS else ""


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
