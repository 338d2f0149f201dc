"""The site papers: asked for, followed as they are made, and handed out to everyone on the staff."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render

from catalog.core.ground.refusal import Refused
from catalog.drawings.svg import DrawingInputError
from catalog.pages.firm_first import firm_first
from catalog.services.book import book_of
from jobs.core.measure.survey import SurveyError
from jobs.jobs.models import Job
from jobs.site.pages.pages import worked_up
from jobs.site.services.full_size import full_size_paper
from jobs.site.services.on_site import arrivals_of
from jobs.site.services.sheet import site_paper as filled_paper
from jobs.site.services.words import interval_typed
from jobs.walls.pages.changes import wall_or_404
from jobs.walls.services.photos import paper_photos
from jobs.work_up.services.job_work_up import work_of
from quoting.platform import clock
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import retry_errand
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.papers.models import Paper, PaperKind
from quoting.platform.papers.pages.handing_out import handed_out
from quoting.platform.papers.papers import RENDER_FULL_SIZE, RENDER_SITE_SHEET, SITE_PAPERS, paper_of, queue_filled
from quoting.platform.papers.parts import SHEET_SIZES


@firm_first
def site_sheet_make(request: HttpRequest, job_id: int) -> HttpResponse:
    job = get_object_or_404(Job.objects.select_related("client"), pk=job_id)
    work = work_of(job, book_of(), day_at_the_firm(clock.now()))
    if work.done is None:
        messages.error(request, f"The walls cannot be worked out, so there is nothing to print. {work.trouble}")
        return redirect("site_sheet", job.pk)
    try:
        size = chosen(request, "size", "Paper", SHEET_SIZES)
        photos = paper_photos(job, for_client=False)
        paper = filled_paper(
            work.done,
            prepared_by=request.user.full_name,
            size=size,
            photos=photos,
            interval_mm=interval_typed(request.POST.get("interval", ""), work.done.read.book.firm.display_units),
            arrivals=arrivals_of(job),
        )
    except Refused as error:
        messages.error(request, str(error))
    else:
        queue_filled(RENDER_SITE_SHEET, job, paper, clock.now())
    return redirect("site_sheet", job.pk)


@firm_first
def full_size_make(request: HttpRequest, job_id: int, wall_key: str) -> HttpResponse:
    wall, book = wall_or_404(job_id, wall_key), book_of()
    try:
        work_up = worked_up(wall, book)
        arcs = tuple(str(piece.index + 1) for piece in work_up.curve.pieces if piece.is_arc)
        paper = full_size_paper(
            work_up,
            book,
            job_title=wall.job.title,
            piece_index=int(chosen(request, "piece", "Piece", arcs)) - 1,
            only_a_stretch=chosen(request, "length", "Length", ("whole", "stretch")) == "stretch",
            size=chosen(request, "size", "Paper", SHEET_SIZES),
            prepared_by=request.user.full_name,
            today=day_at_the_firm(clock.now()),
        )
    except Refused as error:
        messages.error(request, str(error))
    except DrawingInputError as error:
        messages.error(request, f"No template was made: {error}.")
    except SurveyError as error:
        messages.error(request, f"The wall cannot be worked out, so there is nothing to print. {error.reason}.")
    else:
        queue_filled(RENDER_FULL_SIZE, wall.job, paper, clock.now())
    return redirect("site_wall", job_id, wall_key)


def chosen(request: HttpRequest, entry: str, label: str, known: tuple[str, ...]) -> str:
    value = request.POST.get(entry, "")
    if value not in known:
        listed = ", ".join(known) if known else "nothing, as this wall has none"
        raise Refused(f"{label}: {value[:40]!r} is not one of the choices; it can be {listed}.")
    return value


def site_paper_progress(request: HttpRequest, errand_id: int) -> HttpResponse:
    errand = site_errand(errand_id)
    response = render(request, "site/_progress.html", {"errand": errand, "errand_paper": paper_of(errand)})
    response["Cache-Control"] = "no-store"
    return response


def site_paper_retry(request: HttpRequest, errand_id: int) -> HttpResponse:
    errand = site_errand(errand_id)
    if retry_errand(errand.pk, clock.now()):
        messages.success(request, "The paper is asked for again.")
    else:
        messages.warning(request, "This paper has not failed: it is made, or being made.")
    return redirect("site_sheet", errand.payload["job"])


def site_paper(request: HttpRequest, paper_id: int) -> HttpResponse:
    # Only the papers of the site: those of the office hold prices and suppliers.
    kinds = (PaperKind.SITE_SHEET, PaperKind.FULL_SIZE)
    row = get_object_or_404(Paper.objects.select_related("job", "revision"), pk=paper_id, kind__in=kinds)
    return handed_out(request, row)


def site_errand(errand_id: int) -> Errand:
    return get_object_or_404(Errand, pk=errand_id, kind__in=SITE_PAPERS)
