"""A wall's page: the drawing, what is to decide, the lines and the form they follow. A preview never saves anything."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render

from catalog.core.ground.document_reader import DocumentError
from catalog.pages.firm_first import firm_first
from jobs.jobs.services.versions import ChangedMeanwhile
from jobs.walls.models import Wall
from jobs.walls.pages.editor import WallEditor, find_editor
from jobs.walls.pages.fitting import FIT, LINE, TAKE, Fitted, fitted, take
from jobs.walls.pages.form.form_lines import changed_words
from jobs.walls.pages.form.form_parts import LINES, PIECES, POINTS
from jobs.walls.pages.form.wall_form import WallForm
from jobs.walls.pages.shown_wall import ROW_STEPS, preview_url, wall_context

OPEN = "open-"
PARTS = {line.key: line for line in LINES}


@firm_first
def wall_sheet(request: HttpRequest, job_id: int, wall_key: str | None = None) -> HttpResponse:
    editor = find_editor(request, job_id, wall_key)
    if request.method == "POST":
        return _posted(request, editor)
    form = editor.form(opened=request.GET.get("open", ""))
    figures = editor.stored_figures(form)
    context = wall_context(request, editor, form, figures, request.GET)
    return render(request, "walls/wall.html", context | {"not_saved": form.not_saved("Cannot be drawn")})


def _posted(request: HttpRequest, editor: WallEditor) -> HttpResponse:
    data = request.POST
    action = data.get("do", "save")
    form, fit, is_change = _changed(editor, data, action)
    status = 200
    said: dict[str, str] = {}
    if not is_change:
        try:
            wall = editor.save(form, data, _seen_version(data, action))
        except DocumentError as error:
            form.complain(error)
            status = 422
        except ChangedMeanwhile as error:
            status, said = 409, {"conflict": str(error)}
        else:
            messages.success(request, _saved_words(request, editor, wall))
            return redirect("wall", editor.job.pk, wall.key)
    wrong = dict(form.errors)
    figures = editor.figures(form, data)
    # Without JavaScript a button that changes the form comes here: of a row just added nothing is wrong yet.
    form.errors = wrong
    context = wall_context(request, editor, form, figures, data, unsaved=True) | said | {"fit": fit}
    context["not_saved"] = form.not_saved("Not fitted" if action in (FIT, TAKE) else "Not saved")
    return render(request, "walls/wall.html", context, status=status)


@firm_first
def wall_preview(request: HttpRequest, job_id: int, wall_key: str | None = None) -> HttpResponse:
    editor, data = find_editor(request, job_id, wall_key), request.POST
    action = data.get("do") or _opened_by(request)
    form, fit, is_change = _changed(editor, data, action)
    if action.startswith(OPEN):
        return _part(request, editor, form, action.removeprefix(OPEN))
    wrong = dict(form.errors)
    figures = editor.figures(form, data)
    if is_change:
        form.errors = wrong
    context = wall_context(request, editor, form, figures, data, unsaved=True) | {"fit": fit}
    if is_change:
        # Until it is filled the wall is none; the drawing of the one before stays where it is.
        template, target = ("walls/_desk.html", "#desk") if figures else ("walls/_rows_changed.html", "#wall-form")
        response = render(request, template, context)
        response["HX-Retarget"], response["HX-Reswap"] = target, "outerHTML"
        return response
    complained = {entry for entry in data.get("complained", "").split() if form.has(entry)}
    context["slots"] = [
        (entry, form.errors.get(entry, [])) for entry in sorted(complained | (form.errors.keys() - {""}))
    ]
    context["complained"] = " ".join(sorted(entry for entry in form.errors if entry))
    context |= {"was_refused": "refused" in data, "not_saved": form.not_saved("Not saved")}
    response = render(request, "walls/_preview.html", context)
    if figures is None:
        # The drawing stays at the last figures that made a wall, and the page says so.
        response["HX-Reswap"] = "none"
    return response


def _changed(editor: WallEditor, data: QueryDict, action: str) -> tuple[WallForm, Fitted | None, bool]:
    """The form as sent and as one of its buttons changes it. Nothing is saved."""
    opened = action.removeprefix(OPEN) if action.startswith(OPEN) else ""
    form = editor.form(data, opened)
    if action in (FIT, TAKE):
        try:
            fit = fitted(form, editor.unit, editor.system)
        except DocumentError as error:
            form.complain(error)
            return form, None, True
        if action == FIT:
            return form, fit, True
        take(form, fit, editor.system, editor.signed, data.get(LINE, ""))
        return editor.again(form), None, True
    if form.typed.change(action):
        return editor.again(form), None, True
    return form, None, bool(opened) or action == "redraw"


def _opened_by(request: HttpRequest) -> str:
    """A line or piece opened in place, by the id of what asked."""
    asked = request.headers.get("HX-Trigger", "")
    return asked if asked.startswith(OPEN) else ""


def _part(request: HttpRequest, editor: WallEditor, form: WallForm, name: str) -> HttpResponse:
    context = {"preview_url": preview_url(editor), "row_steps": ROW_STEPS, "form": form, "opened": name}
    if name == "offsets" and not form.typed.rows(POINTS.name):
        form.typed.change(f"add-{POINTS.name}")
    if name in PARTS:
        return render(request, "walls/_part.html", context | {"line": form.line(name)})
    rows = [row for row in form.pieces_shown if name in (row.id, f"{row.id}-given")]
    return render(request, "walls/_piece.html", context | {"row": rows[0] if rows else None, "rows": PIECES})


def _saved_words(request: HttpRequest, editor: WallEditor, wall: Wall) -> str:
    """What was changed, and what is next."""
    after = find_editor(request, editor.job.pk, wall.key)
    what = changed_words(after.base, editor.base) if editor.stored else ""
    figures = after.stored_figures(after.form())
    count = figures.open_count if figures else 0
    following = f"Next: decide {count}." if count else "Nothing on it needs a decision."
    return f"Saved {wall.name}{f': {what}' if what else ''}. {following}"


def _seen_version(data: QueryDict, action: str) -> int | None:
    """The version this page showed; with "save-over" the one its conflict was told about."""
    typed = data.get("present_version" if action == "save-over" else "seen_version", "")
    return int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 10 else None
