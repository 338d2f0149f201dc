"""What the lead builds from, on a phone: the same figures and drawings as the site sheet on paper.

No money and no supplier in here: every page is the lead's.
"""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils.safestring import SafeString, mark_safe
from django.utils.text import slugify

from catalog.core.ground.refusal import Refused
from catalog.core.ground.units import format_length
from catalog.core.materials.catalog_data import Catalog
from catalog.pages.firm_first import firm_first
from catalog.services.book import book_of
from catalog.services.firm_on_paper import sheet_size
from jobs.core.measure.survey import SurveyError
from jobs.core.takeoff.held_templates import with_templates
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.drawings.dxf import wall_dxf
from jobs.held_templates.services.templates import templates_of
from jobs.jobs.models import Job
from jobs.needs.services.stored_jobs import stored_job
from jobs.site.pages.parts import ScreenWall, screen_parts, screen_wall
from jobs.site.services.cuts import cut_lists, materials
from jobs.site.services.drawings import drawing_of
from jobs.site.services.full_size import STRETCH_MM
from jobs.site.services.on_site import arrivals_of
from jobs.site.services.setting_out import NO_PLACE
from jobs.site.services.sheet import CAUTIONS, on_screen, screen_section
from jobs.site.services.sheet import site_wall as filled_wall
from jobs.site.services.words import INTERVAL_MM, interval_typed
from jobs.walls.models import Wall
from jobs.walls.pages.changes import wall_or_404
from jobs.walls.pages.shown import shown as photos_shown
from jobs.walls.services.kept_faces import kept_faces_of
from jobs.walls.services.wall_cache import cached_wall_work_up
from jobs.work_up.services.job_work_up import work_of
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.papers.models import PaperKind
from quoting.platform.papers.papers import RENDER_FULL_SIZE, RENDER_SITE_SHEET, last_errand, list_papers, paper_of

SHEET_SIZES = (("letter", "Letter"), ("a4", "A4"))


@dataclass(frozen=True)
class _WallLink:
    key: str
    name: str
    picture: SafeString


@firm_first
def site_sheet(request: HttpRequest, job_id: int) -> HttpResponse:
    job = get_object_or_404(Job.objects.select_related("client"), pk=job_id)
    book, today = book_of(), day_at_the_firm(clock.now())
    work = work_of(job, book, today)
    errand = last_errand(RENDER_SITE_SHEET, job)
    walls = list(job.walls.all())
    facts = stored_job(job, today).facts.walls if walls else ()
    pictures = {fact.key: mark_safe(fact.pictures.get("thumbnail", "")) for fact in facts}
    sections = [materials(work.done, arrivals_of(job)), cut_lists(work.done)] if work.done else []
    context = {
        "job": job,
        "today": today,
        "walls": [_WallLink(wall.key, wall.name, pictures.get(wall.key, SafeString())) for wall in walls],
        "trouble": work.trouble,
        "cautions": CAUTIONS,
        "sections": [screen_parts(screen_section(section)) for section in sections if section is not None],
        "sizes": SHEET_SIZES,
        "usual_size": sheet_size(book.firm),
        "usual_interval": format_length(INTERVAL_MM[book.firm.display_units], book.firm.display_units),
        "errand": errand,
        "errand_paper": paper_of(errand) if errand else None,
        "papers": list_papers(job, PaperKind.SITE_SHEET),
    }
    return render(request, "site/job.html", context)


@firm_first
def site_wall(request: HttpRequest, job_id: int, wall_key: str) -> HttpResponse:
    wall, book = wall_or_404(job_id, wall_key), book_of()
    system, typed = book.firm.display_units, request.GET.get("interval", "")
    errand = last_errand(RENDER_FULL_SIZE, wall.job, wall=wall.name)
    wrong, interval_mm = "", None
    try:
        interval_mm = interval_typed(typed, system)
    except Refused as error:
        wrong = str(error)
    context = {
        "interval": typed[:60],
        "usual_interval": format_length(INTERVAL_MM[system], system),
        "wrong_interval": wrong,
        "job": wall.job,
        "wall": wall,
        "today": day_at_the_firm(clock.now()),
        "cautions": CAUTIONS,
        "sizes": SHEET_SIZES,
        "usual_size": sheet_size(book.firm),
        "stretch": format_length(STRETCH_MM[book.firm.display_units], book.firm.display_units),
        "errand": errand,
        "errand_paper": paper_of(errand) if errand else None,
    }
    try:
        work_up = worked_up(wall, book)
    except SurveyError as error:
        return render(request, "site/wall.html", {**context, "trouble": f"{error.field}: {error.reason}."})
    arcs = [piece.index + 1 for piece in work_up.curve.pieces if piece.is_arc]
    context |= photos_shown(request, wall)
    return render(
        request,
        "site/wall.html",
        {**context, "site": _shown(work_up, book, interval_mm), "untied": NO_PLACE, "arcs": arcs},
    )


def _shown(work_up: WallWorkUp, book: Catalog, interval_mm: float | None) -> ScreenWall:
    return screen_wall(on_screen(filled_wall(work_up, book, interval_mm=interval_mm)), work_up)


@firm_first
def site_wall_dxf(request: HttpRequest, job_id: int, wall_key: str) -> HttpResponse:
    wall = wall_or_404(job_id, wall_key)
    try:
        drawing = wall_dxf(drawing_of(worked_up(wall, book_of())))
    except SurveyError as error:
        context = {"job": wall.job, "wall": wall, "trouble": f"{error.field}: {error.reason}."}
        return render(request, "site/wall.html", context, status=422)
    response = HttpResponse(drawing, content_type="image/vnd.dxf")
    name = slugify(f"{wall.job.key} {wall.key}") or "wall"
    response["Content-Disposition"] = f'attachment; filename="{name}.dxf"'
    response["Cache-Control"] = "private, no-store"
    return response


def worked_up(wall: Wall, book: Catalog) -> WallWorkUp:
    work_up = cached_wall_work_up(
        wall.to_core(), book, day_at_the_firm(clock.now()), kept_faces=kept_faces_of(wall.job_id, wall.key)
    )
    return with_templates(work_up, templates_of(wall.job))
