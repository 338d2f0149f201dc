"""A wall's page: the drawing, the figures and the form they follow. A preview never saves anything."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.text import slugify

from catalog.core.ground.document_reader import DocumentError
from catalog.core.materials.catalog_data import Book
from catalog.pages.firm_first import firm_first
from catalog.services.book import book_of
from jobs.core.measure.curve import curve_of
from jobs.core.measure.dimension_holds import dimensions_of
from jobs.core.measure.site_document import write_mark
from jobs.core.measure.survey import SurveyError
from jobs.core.measure.wall_document import Document
from jobs.core.measure.wall_spec import WallSpec
from jobs.core.takeoff.held_templates import with_templates
from jobs.core.takeoff.wall_work_up import WallWorkUp, survey_of
from jobs.held_templates.services.templates import templates_of
from jobs.jobs.models import Job
from jobs.jobs.services.versions import ChangedMeanwhile
from jobs.walls.models import Wall
from jobs.walls.pages.decisions import FOR_ALL, own_reasons, with_decisions
from jobs.walls.pages.entries import WallEntries, entries_from_post, entries_of
from jobs.walls.pages.figures import WallFigures, wall_figures
from jobs.walls.pages.fitting import FIT, TAKE, Fitted, fitted, refuse_unfitted, take
from jobs.walls.pages.form import first_entries, offered_materials, thinnest_board, wall_form
from jobs.walls.pages.form_errors import Errors, errors_of, not_saved_of, spec_of, survey_complaint
from jobs.walls.pages.shown import shown
from jobs.walls.services.compute_limits import refuse_too_much
from jobs.walls.services.dimension_signatures import marked_on, with_marks_signed
from jobs.walls.services.kept_faces import kept_faces_of
from jobs.walls.services.wall_cache import QUICK, work_up_wall_once
from jobs.walls.services.walls import free_wall_key, save_wall
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people import access
from quoting.platform.people.signatures import Signature

LONGEST_KEY = 40
NEW = "new-wall"


@dataclass
class Desk:
    """One wall on somebody's desk. wall: None while it is not stored. kept: the wall as it is stored."""

    job: Job
    wall: Wall | None
    book: Book
    today: date

    def __post_init__(self) -> None:
        self.kept: WallSpec | None = self.wall.to_core() if self.wall else None
        self.system = self.book.firm.display_units
        self.templates = templates_of(self.job)
        self.kept_faces = kept_faces_of(self.job.pk, self.wall.key) if self.wall else ()
        self.unit = "in" if self.system == "imperial" else "mm"

    @property
    def key(self) -> str:
        return self.wall.key if self.wall else NEW

    def worked_up(self, entries: WallEntries) -> tuple[WallWorkUp | None, Errors]:
        try:
            document = entries.document(self.key, self.kept)
            # A wall draws before it is called anything; the name is asked for when it is saved.
            spec = spec_of(self.marked({**document, "name": document.get("name") or "Wall"}), self.unit)
            return (
                work_up_wall_once(spec, self.book, self.today, board_rounds=QUICK, kept_faces=self.kept_faces),
                {},
            )
        except DocumentError as error:
            return None, errors_of(error, entries)
        except SurveyError as error:
            return None, errors_of(survey_complaint(error, self.key), entries)

    def marked(self, document: Document) -> Document:
        """The document with the marks of those entries alone that are dimensions of this wall as it now is."""
        known = set(dimensions_of(spec_of(document | {"marks": []}, self.unit)))
        return document | {"marks": [one for one in document["marks"] if one["dimension"] in known]}

    def figures(self, done: WallWorkUp | None, data: QueryDict) -> WallFigures | None:
        if done is None:
            return None
        return wall_figures(with_templates(done, self.templates), self.book, self.today, own_reasons(data))

    def saved(self, entries: WallEntries, data: QueryDict, by: str, seen_version: int | None) -> Wall:
        """Stores the wall; raises DocumentError or ChangedMeanwhile, and then nothing is stored."""
        key = self.wall.key if self.wall else new_key(self.job, entries.one["name"])
        refuse_unfitted(entries)
        document = with_decisions(entries.document(key, self.kept), data, self.key, by, self.today)
        document = self.marked(document)
        spec = spec_of(document, self.unit)
        try:
            curve_of(survey_of(spec, self.book.materials))
            refuse_too_much([spec])
        except SurveyError as error:
            raise survey_complaint(error, key) from error
        # A stored mark comes back with its name; whatever else is said is said by who saves.
        stored = marked_on(self.wall or Wall(job=self.job))
        marks = with_marks_signed(spec, stored, Signature(by, self.today)).taken.marks
        document["marks"] = [write_mark(one) for one in marks]
        return save_wall(self.job, document, seen_version=seen_version, bare_unit=self.unit)


def new_key(job: Job, name: str) -> str:
    key = slugify(name.replace("_", "-"))[:LONGEST_KEY].strip("-") or "wall"
    return free_wall_key(job, key) if job.walls.filter(key=key).exists() else key


def find_desk(job_id: int, wall_key: str | None) -> Desk:
    job = get_object_or_404(Job.objects.select_related("client"), pk=job_id)
    wall = None
    if wall_key is not None:
        wall = job.walls.filter(key=wall_key).first()
        if wall is None:
            raise Http404(f'The job has no wall "{wall_key}".')
    return Desk(job, wall, book_of(), day_at_the_firm(clock.now()))


@firm_first
def wall_sheet(request: HttpRequest, job_id: int, wall_key: str | None = None) -> HttpResponse:
    desk = find_desk(job_id, wall_key)
    if request.method == "POST":
        return _posted(request, desk)
    if desk.kept is None:
        entries = first_entries(offered_materials(), thinnest_board())
        return render(request, "walls/wall.html", _context(request, desk, entries, {}, None))
    entries, errors, figures = entries_of(desk.kept, desk.system), {}, None
    try:
        done = work_up_wall_once(desk.kept, desk.book, desk.today, kept_faces=desk.kept_faces)
        figures = desk.figures(done, QueryDict())
    except SurveyError as error:
        errors = errors_of(survey_complaint(error, desk.key), entries)
    context = _context(request, desk, entries, errors, figures)
    return render(request, "walls/wall.html", context | {"not_saved": not_saved_of(errors, "Cannot be drawn")})


def typed_entries(request: HttpRequest, desk: Desk) -> WallEntries:
    entries = entries_from_post(request.POST)
    entries.signed = (request.user.full_name, desk.today.isoformat())
    return entries


def _posted(request: HttpRequest, desk: Desk) -> HttpResponse:
    entries = typed_entries(request, desk)
    asked = request.POST.get("do", "save")
    if asked in (FIT, TAKE) or entries.change(asked) or asked == "redraw":
        # Without JavaScript a button that changes the form comes here. Nothing is saved.
        fit, errors = _fit_asked(asked, desk, entries)
        done, _ = desk.worked_up(entries)
        figures = desk.figures(done, request.POST)
        context = _context(request, desk, entries, errors, figures, typed=True) | {"fit": fit}
        return render(request, "walls/wall.html", context | {"not_saved": not_saved_of(errors, "Not fitted")})
    errors: Errors = {}
    conflict, status = "", 422
    try:
        wall = desk.saved(entries, request.POST, request.user.full_name, _seen_version(request, asked))
    except DocumentError as error:
        errors = errors_of(error, entries)
    except ChangedMeanwhile as error:
        conflict, status = str(error), 409
    else:
        messages.success(request, f"Saved: {wall.name}.")
        return redirect("wall", desk.job.pk, wall.key)
    done, _ = desk.worked_up(entries)
    figures = desk.figures(done, request.POST)
    context = _context(request, desk, entries, errors, figures, typed=True) | {"conflict": conflict}
    context["not_saved"] = not_saved_of(errors, "Not saved")
    return render(request, "walls/wall.html", context, status=status)


def _seen_version(request: HttpRequest, asked: str) -> int | None:
    """The version this page showed; with "save-over" the one its conflict was told about."""
    typed = request.POST.get("present_version" if asked == "save-over" else "seen_version", "")
    return int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 10 else None


@firm_first
def wall_preview(request: HttpRequest, job_id: int, wall_key: str | None = None) -> HttpResponse:
    desk = find_desk(job_id, wall_key)
    entries = typed_entries(request, desk)
    asked = request.POST.get("do", "")
    fit, fit_errors = _fit_asked(asked, desk, entries)
    redraw = asked in (FIT, TAKE) or entries.change(asked) or request.POST.get("shown", "") != entries.layout
    done, errors = desk.worked_up(entries)
    figures = desk.figures(done, request.POST)
    if redraw:
        # A row just added is empty, and nobody has been asked to fill it yet.
        context = _context(request, desk, entries, fit_errors, figures, typed=True) | {"fit": fit}
        # Until it is filled the wall is none; the drawing of the one before stays where it is.
        template, target = ("walls/_desk.html", "#desk") if figures else ("walls/_rows_changed.html", "#wall-form")
        response = render(request, template, context)
        response["HX-Retarget"], response["HX-Reswap"] = target, "outerHTML"
        return response
    context = _context(request, desk, entries, errors, figures, typed=True, with_form=False)
    complained = {one for one in request.POST.get("complained", "").split() if one in known_entries(entries)}
    context["slots"] = [(one, errors.get(one, [])) for one in sorted({*complained, *(e for e in errors if e)})]
    context["complained"] = " ".join(sorted(entry for entry in errors if entry))
    context["about_all"] = errors.get("", [])
    context |= {"was_refused": "refused" in request.POST, "not_saved": not_saved_of(errors, "Not saved")}
    response = render(request, "walls/_preview.html", context)
    if figures is None:
        # The drawing stays at the last figures that made a wall, and the page says so.
        response["HX-Reswap"] = "none"
    return response


def _fit_asked(asked: str, desk: Desk, entries: WallEntries) -> tuple[Fitted | None, Errors]:
    """Fits pieces to the offsets when that is asked, and takes them when that is. Nothing is saved."""
    if asked not in (FIT, TAKE):
        return None, {}
    try:
        found = fitted(entries, desk.unit, desk.system)
    except DocumentError as error:
        return None, errors_of(error, entries)
    if asked == TAKE:
        take(entries, found, desk.system)
    return (found, {}) if asked == FIT else (None, {})


def known_entries(entries: WallEntries) -> set[str]:
    known = set(entries.one)
    for name, rows in entries.rows.items():
        for place, row in enumerate(rows):
            known |= {f"{name}-{place}", *(f"{name}-{place}-{leaf}" for leaf in row)}
    return known


def _context(
    request: HttpRequest,
    desk: Desk,
    entries: WallEntries,
    errors: Errors,
    figures: WallFigures | None,
    *,
    typed: bool = False,
    with_form: bool = True,
) -> dict[str, Any]:
    preview = reverse("wall_preview", args=[desk.job.pk, desk.wall.key]) if desk.wall else None
    editable = access.is_allowed(access.role_of(request.user), "wall", "POST")
    version = desk.wall.version if desk.wall else None
    return {
        "job": desk.job,
        "wall": desk.wall,
        "spec": desk.kept,
        "preview_url": preview or reverse("wall_add_preview", args=[desk.job.pk]),
        "system": desk.system,
        "bare_unit": "inches" if desk.unit == "in" else "millimetres",
        "figures": figures,
        "editable": editable,
        "show_money": access.role_of(request.user) in access.DESK,
        # Only what is stored can be overridden line by line.
        "unsaved": typed,
        "form": wall_form(entries, errors, offered_materials()) if editable and with_form else None,
        "error_count": sum(len(told) for told in errors.values()),
        "reason_for_all": request.POST.get(FOR_ALL, ""),
        "layout": entries.layout,
        "seen_version": request.POST.get("seen_version", version or "") if typed else version or "",
        "present_version": version or "",
        "today": desk.today,
        "firm": desk.book.firm,
        **(shown(request, desk.wall) if desk.wall and with_form else {}),
    }
