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
from catalog.core.materials.catalog_data import Catalog
from catalog.pages.firm_first import firm_first
from catalog.services.book import book_of
from jobs.core.measure.brought_in import is_open
from jobs.core.measure.curve import curve_of
from jobs.core.measure.dimension_status import DimensionStatus
from jobs.core.measure.findings import Override
from jobs.core.measure.key_words import dimension_words, key_words
from jobs.core.measure.survey import SurveyError
from jobs.core.measure.wall_spec import WallSpec
from jobs.core.takeoff.held_templates import with_templates
from jobs.core.takeoff.wall_work_up import WallWorkUp, survey_of
from jobs.held_templates.services.templates import templates_of
from jobs.jobs.models import Job
from jobs.jobs.services.versions import ChangedMeanwhile
from jobs.walls.models import Wall
from jobs.walls.pages.decisions import FOR_ALL, own_reasons, with_decisions
from jobs.walls.pages.entries import WallEntries, entries_from_post, entries_of
from jobs.walls.pages.exact_entries import written
from jobs.walls.pages.figures import WallFigures, wall_figures
from jobs.walls.pages.fitting import FIT, TAKE, Fitted, fitted, refuse_unfitted, take
from jobs.walls.pages.form import WallForm, first_entries, offered_materials, thinnest_board, wall_form
from jobs.walls.pages.form_errors import Errors, errors_of, not_saved_of, spec_of, survey_complaint
from jobs.walls.pages.lines import changed_words
from jobs.walls.pages.shown import shown
from jobs.walls.services.brought_in import still_known
from jobs.walls.services.compute_limits import check_size
from jobs.walls.services.dimension_signatures import marked_on, with_marks_signed
from jobs.walls.services.kept_faces import kept_faces_of
from jobs.walls.services.wall_cache import QUICK, cached_wall_work_up
from jobs.walls.services.walls import free_wall_key, save_wall
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people import access
from quoting.platform.people.signatures import Signature

MAX_KEY = 40
NEW = "new-wall"
ROW_STEPS = (("up", "Move before"), ("down", "Move after"), ("remove", "Remove"))


@dataclass
class WallEditor:
    """One wall being edited. wall: None while it is not stored. stored: the wall as it is stored."""

    job: Job
    wall: Wall | None
    book: Catalog
    today: date

    def __post_init__(self) -> None:
        self.stored: WallSpec | None = self.wall.to_core() if self.wall else None
        self.system = self.book.firm.display_units
        self.templates = templates_of(self.job)
        self.kept_faces = kept_faces_of(self.job.pk, self.wall.key) if self.wall else ()
        self.unit = "in" if self.system == "imperial" else "mm"

    @property
    def key(self) -> str:
        return self.wall.key if self.wall else NEW

    def work_up(self, entries: WallEntries) -> tuple[WallWorkUp | None, Errors]:
        try:
            document = entries.document(self.key, self.stored)
            # A wall draws before it is called anything; the name is asked for when it is saved.
            spec = spec_of(document | {"name": document["name"] or "Wall"}, self.unit)
            spec = still_known(spec, self.stored)
            work_up = cached_wall_work_up(spec, self.book, self.today, board_rounds=QUICK, kept_faces=self.kept_faces)
            return work_up, {}
        except DocumentError as error:
            return None, errors_of(error, entries)
        except SurveyError as error:
            return None, errors_of(survey_complaint(error, self.key), entries)

    def figures(self, work_up: WallWorkUp | None, data: QueryDict) -> WallFigures | None:
        if work_up is None:
            return None
        return wall_figures(with_templates(work_up, self.templates), self.book, self.today, own_reasons(data))

    def save(self, entries: WallEntries, data: QueryDict, by: str, seen_version: int | None) -> Wall:
        """Stores the wall; raises DocumentError or ChangedMeanwhile, and then nothing is stored."""
        key = self.wall.key if self.wall else new_key(self.job, entries.one["name"])
        refuse_unfitted(entries)
        document = with_decisions(entries.document(key, self.stored), data, self.key, by, self.today)
        spec = spec_of(document, self.unit)
        try:
            curve_of(survey_of(spec, self.book.materials))
            check_size([spec])
        except SurveyError as error:
            raise survey_complaint(error, key) from error
        # A stored mark comes back with its name; whatever else is said is said by who saves. A decision has its name
        # already: the service would take a reason written again for the decision that stands.
        marked = marked_on(self.wall or Wall(job=self.job))
        spec = with_marks_signed(spec, marked, Signature(by, self.today))
        return save_wall(self.job, spec, seen_version=seen_version)


def new_key(job: Job, name: str) -> str:
    key = slugify(name.replace("_", "-"))[:MAX_KEY].strip("-") or "wall"
    return free_wall_key(job, key) if job.walls.filter(key=key).exists() else key


def find_editor(job_id: int, wall_key: str | None) -> WallEditor:
    job = get_object_or_404(Job.objects.select_related("client"), pk=job_id)
    wall = None
    if wall_key is not None:
        wall = job.walls.filter(key=wall_key).first()
        if wall is None:
            raise Http404(f'The job has no wall "{wall_key}".')
    return WallEditor(job, wall, book_of(), day_at_the_firm(clock.now()))


@firm_first
def wall_sheet(request: HttpRequest, job_id: int, wall_key: str | None = None) -> HttpResponse:
    editor = find_editor(job_id, wall_key)
    if request.method == "POST":
        return _posted(request, editor)
    if editor.stored is None:
        entries = first_entries(offered_materials(), thinnest_board())
        return render(request, "walls/wall.html", _context(request, editor, entries, {}, None))
    entries, errors, figures = entries_of(editor.stored, editor.system), {}, None
    try:
        work_up = cached_wall_work_up(editor.stored, editor.book, editor.today, kept_faces=editor.kept_faces)
        figures = editor.figures(work_up, QueryDict())
    except SurveyError as error:
        errors = errors_of(survey_complaint(error, editor.key), entries)
    context = _context(request, editor, entries, errors, figures)
    return render(request, "walls/wall.html", context | {"not_saved": not_saved_of(errors, "Cannot be drawn")})


def posted_entries(request: HttpRequest, editor: WallEditor) -> WallEntries:
    entries = entries_from_post(request.POST)
    entries.signed = (request.user.full_name, editor.today.isoformat())
    return entries


def _posted(request: HttpRequest, editor: WallEditor) -> HttpResponse:
    entries = posted_entries(request, editor)
    action = request.POST.get("do", "save")
    if action in (FIT, TAKE) or entries.change(action) or action == "redraw":
        # Without JavaScript a button that changes the form comes here. Nothing is saved.
        fit, errors = _fit(action, editor, entries)
        work_up, _ = editor.work_up(entries)
        figures = editor.figures(work_up, request.POST)
        context = _context(request, editor, entries, errors, figures, typed=True) | {"fit": fit}
        return render(request, "walls/wall.html", context | {"not_saved": not_saved_of(errors, "Not fitted")})
    errors: Errors = {}
    conflict, status = "", 422
    try:
        wall = editor.save(entries, request.POST, request.user.full_name, _seen_version(request, action))
    except DocumentError as error:
        errors = errors_of(error, entries)
    except ChangedMeanwhile as error:
        conflict, status = str(error), 409
    else:
        messages.success(request, _saved_words(editor, entries, wall))
        return redirect("wall", editor.job.pk, wall.key)
    work_up, _ = editor.work_up(entries)
    figures = editor.figures(work_up, request.POST)
    context = _context(request, editor, entries, errors, figures, typed=True) | {"conflict": conflict}
    context["not_saved"] = not_saved_of(errors, "Not saved")
    return render(request, "walls/wall.html", context, status=status)


def _saved_words(editor: WallEditor, entries: WallEntries, wall: Wall) -> str:
    """What was changed, and what is next."""
    what = changed_words(entries, entries_of(editor.stored, editor.system)) if editor.stored else ""
    after = find_editor(editor.job.pk, wall.key)
    assert after.stored is not None
    work_up = cached_wall_work_up(after.stored, after.book, after.today, kept_faces=after.kept_faces)
    figures = after.figures(work_up, QueryDict())
    count = len(figures.open_checks) if figures else 0
    following = (
        f"Next: decide {count} check{'' if count == 1 else 's'}." if count else "Nothing on it needs a decision."
    )
    return f"Saved {wall.name}{f': {what}' if what else ''}. {following}"


def _seen_version(request: HttpRequest, action: str) -> int | None:
    """The version this page showed; with "save-over" the one its conflict was told about."""
    typed = request.POST.get("present_version" if action == "save-over" else "seen_version", "")
    return int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 10 else None


@firm_first
def wall_preview(request: HttpRequest, job_id: int, wall_key: str | None = None) -> HttpResponse:
    editor = find_editor(job_id, wall_key)
    entries = posted_entries(request, editor)
    action = request.POST.get("do", "")
    fit, fit_errors = _fit(action, editor, entries)
    redraw = action in (FIT, TAKE) or entries.change(action)
    work_up, errors = editor.work_up(entries)
    figures = editor.figures(work_up, request.POST)
    if redraw:
        context = _context(request, editor, entries, fit_errors, figures, typed=True) | {"fit": fit}
        # Until it is filled the wall is none; the drawing of the one before stays where it is.
        template, target = ("walls/_desk.html", "#desk") if figures else ("walls/_rows_changed.html", "#wall-form")
        response = render(request, template, context)
        response["HX-Retarget"], response["HX-Reswap"] = target, "outerHTML"
        return response
    context = _context(request, editor, entries, errors, figures, typed=True, with_form=False)
    complained = {entry for entry in request.POST.get("complained", "").split() if entry in known_entries(entries)}
    context["slots"] = [(entry, errors.get(entry, [])) for entry in sorted({*complained, *(e for e in errors if e)})]
    context["complained"] = " ".join(sorted(entry for entry in errors if entry))
    context["about_all"] = errors.get("", [])
    context |= {"was_refused": "refused" in request.POST, "not_saved": not_saved_of(errors, "Not saved")}
    response = render(request, "walls/_preview.html", context)
    if figures is None:
        # The drawing stays at the last figures that made a wall, and the page says so.
        response["HX-Reswap"] = "none"
    return response


def _fit(action: str, editor: WallEditor, entries: WallEntries) -> tuple[Fitted | None, Errors]:
    """Fits pieces to the offsets when that is asked, and takes them when that is. Nothing is saved."""
    if action not in (FIT, TAKE):
        return None, {}
    try:
        result = fitted(entries, editor.unit, editor.system)
    except DocumentError as error:
        return None, errors_of(error, entries)
    if action == TAKE:
        take(entries, result, editor.system)
    return (result, {}) if action == FIT else (None, {})


def known_entries(entries: WallEntries) -> set[str]:
    known = set(entries.one)
    for name, rows in entries.rows.items():
        for place, row in enumerate(rows):
            known |= {f"{name}-{place}", *(f"{name}-{place}-{leaf}" for leaf in row)}
    return known


def _context(
    request: HttpRequest,
    editor: WallEditor,
    entries: WallEntries,
    errors: Errors,
    figures: WallFigures | None,
    *,
    typed: bool = False,
    with_form: bool = True,
) -> dict[str, Any]:
    preview = reverse("wall_preview", args=[editor.job.pk, editor.wall.key]) if editor.wall else None
    editable = access.is_allowed(access.role_of(request.user), "wall", "POST")
    version = editor.wall.version if editor.wall else None
    return {
        "job": editor.job,
        "wall": editor.wall,
        "spec": editor.stored,
        "preview_url": preview or reverse("wall_add_preview", args=[editor.job.pk]),
        "system": editor.system,
        "bare_unit": "inches" if editor.unit == "in" else "millimetres",
        "figures": figures,
        "editable": editable,
        "show_money": access.role_of(request.user) in access.DESK,
        # Only what is stored can be overridden line by line.
        "unsaved": typed,
        "form": _form(editor, entries, errors, typed=typed) if editable and with_form else None,
        "error_count": sum(len(error) for error in errors.values()),
        "reason_for_all": request.POST.get(FOR_ALL, ""),
        "exact": written(entries.exact),
        "row_steps": ROW_STEPS,
        "seen_version": request.POST.get("seen_version", version or "") if typed else version or "",
        "present_version": version or "",
        "decisions": _decisions(editor.stored) if editor.stored else [],
        "brought_in": _unconfirmed(editor.stored) if editor.stored and editable and not typed else [],
        "today": editor.today,
        "firm": editor.book.firm,
        **(shown(request, editor.wall) if editor.wall and with_form else {}),
    }


def _form(editor: WallEditor, entries: WallEntries, errors: Errors, *, typed: bool) -> WallForm:
    offered = offered_materials()
    if not typed:
        return wall_form(entries, errors, offered)
    opened_with = (
        entries_of(editor.stored, editor.system) if editor.stored else first_entries(offered, thinnest_board())
    )
    return wall_form(entries, errors, offered, base=opened_with)


def _decisions(spec: WallSpec) -> list[tuple[str, Override]]:
    return [(key_words(override.key, spec), override) for override in spec.overrides]


def _unconfirmed(spec: WallSpec) -> list[tuple[str, DimensionStatus | Override]]:
    """What came with a file and nobody here has confirmed."""
    marks = [(f"{dimension_words(mark.dimension, spec)} {mark.mark.words}", mark.mark) for mark in spec.taken.marks]
    return [(words, entry) for words, entry in (*marks, *_decisions(spec)) if is_open(entry.brought_in)]
