"""What a wall's page shows beside its form: the drawing, what is to decide, the walls beside it, what more there is."""

from typing import Any

from django.http import HttpRequest, QueryDict
from django.urls import reverse

from jobs.core.measure.brought_in import is_open
from jobs.core.measure.dimension_status import DimensionStatus
from jobs.core.measure.findings import Override
from jobs.core.measure.key_words import dimension_words, key_words
from jobs.core.measure.wall_spec import WallSpec
from jobs.walls.pages.editor import WallEditor
from jobs.walls.pages.figures import WallFigures, whole_wall
from jobs.walls.pages.form.exact_entries import written
from jobs.walls.pages.form.wall_form import WallForm
from jobs.walls.pages.pictures import VIEWS, draw
from jobs.walls.services.photos import photos_of
from quoting.platform.people import access

ROW_STEPS = (("up", "Move before"), ("down", "Move after"), ("remove", "Remove"))
# What is shown of a wall below its lines, once it is asked for.
MORE = ("framing", "trim", "measured", "checks", "cautions", "decided", "takeoff")


def preview_url(editor: WallEditor) -> str:
    if editor.wall is None:
        return reverse("wall_add_preview", args=[editor.job.pk])
    return reverse("wall_preview", args=[editor.job.pk, editor.wall.key])


def wall_context(
    request: HttpRequest,
    editor: WallEditor,
    form: WallForm,
    figures: WallFigures | None,
    asked: QueryDict,
    *,
    unsaved: bool = False,
) -> dict[str, Any]:
    role = access.role_of(request.user)
    editable, version = access.is_allowed(role, "wall", "POST"), editor.wall.version if editor.wall else ""
    view = asked.get("view", "")
    view, show = view if view in VIEWS else "plan", asked.get("show", "")
    return {
        "job": editor.job,
        "wall": editor.wall,
        "spec": editor.stored,
        "preview_url": preview_url(editor),
        "system": editor.system,
        "bare_unit": "inches" if editor.unit == "in" else "millimetres",
        "figures": figures,
        "view": view,
        "views": _views(figures),
        "drawn": draw(view, figures.wall, editor.book, figures.decisions) if figures else None,
        "show": show if show in MORE else "",
        "more": _more(editor, figures),
        "whole": whole_wall(figures.wall, editor.system) if figures else [],
        "editable": editable,
        "show_money": role in access.DESK,
        # Only what is stored can be overridden line by line.
        "unsaved": unsaved,
        "form": form if editable else None,
        "error_count": sum(len(error) for error in form.errors.values()),
        "about_all": form.errors.get("", []),
        "exact": written(form.typed.exact),
        "row_steps": ROW_STEPS,
        "seen_version": asked.get("seen_version", version) if unsaved else version,
        "present_version": version,
        "decisions": _decisions(editor.stored) if editor.stored else [],
        "brought_in": _unconfirmed(editor.stored) if editor.stored and editable and not unsaved else [],
        "measured": _measured(editor.stored),
        "photo_count": photos_of(editor.wall).count() if editor.wall else 0,
        "beside": _beside(editor),
        "firm": editor.book.firm,
    }


def _views(figures: WallFigures | None) -> dict[str, str]:
    has_offsets = figures is not None and figures.wall.baseline is not None
    return {name: label for name, label in VIEWS.items() if name != "offsets" or has_offsets}


def _more(editor: WallEditor, figures: WallFigures | None) -> dict[str, str]:
    """What else may be asked for of this wall, in a word or two."""
    if figures is None:
        return {}
    counts = {"checks": len(figures.passed), "cautions": len(figures.cautions) + len(figures.notes)}
    counts["decided"] = len(editor.stored.overrides) if editor.stored else 0
    words = {
        "framing": "Framing",
        "trim": "Trim" if figures.wall.trims else "",
        "measured": "How it is known" + (", held back" if figures.held else ""),
        "checks": _counted(counts["checks"], "check passed", "checks passed"),
        "cautions": _counted(counts["cautions"], "caution", "cautions"),
        "decided": _counted(counts["decided"], "decided", "decided"),
        "takeoff": "Takeoff",
    }
    return {name: label for name, label in words.items() if label}


def _counted(count: int, one: str, many: str) -> str:
    return f"{count} {one if count == 1 else many}" if count else ""


def _beside(editor: WallEditor) -> dict[str, Any]:
    """The wall among those of its job: its number, how many there are, the one before and the one after."""
    walls = list(editor.job.walls.values_list("key", "name"))
    at = next((place for place, (key, _) in enumerate(walls) if editor.wall and key == editor.wall.key), None)
    if at is None:
        return {"count": len(walls)}
    return {
        "number": at + 1,
        "count": len(walls),
        "before": walls[at - 1] if at else None,
        "after": walls[at + 1] if at + 1 < len(walls) else None,
    }


def _measured(spec: WallSpec | None) -> DimensionStatus | None:
    """Who measured last, and when."""
    marks = [marked.mark for marked in spec.taken.marks] if spec else []
    return max(marks, key=lambda mark: mark.on, default=None)


def _decisions(spec: WallSpec) -> list[tuple[str, Override]]:
    return [(key_words(override.key, spec), override) for override in spec.overrides]


def _unconfirmed(spec: WallSpec) -> list[tuple[str, DimensionStatus | Override]]:
    """What came with a file and nobody here has confirmed."""
    marks = [(f"{dimension_words(mark.dimension, spec)} {mark.mark.words}", mark.mark) for mark in spec.taken.marks]
    return [(words, entry) for words, entry in (*marks, *_decisions(spec)) if is_open(entry.brought_in)]
