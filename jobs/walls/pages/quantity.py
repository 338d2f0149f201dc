"""A person's own quantity instead of a computed one, with reason, original and drift; and taking it back."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.pages.firm_first import firm_first
from catalog.pages.words import QUANTITY_UNITS
from catalog.services.book import book_of
from jobs.core.measure.survey import SurveyError
from jobs.core.takeoff.takeoff import TakeoffLine, take_off
from jobs.jobs.services.versions import ChangedMeanwhile
from jobs.walls.models import Wall
from jobs.walls.pages.changes import wall_or_404
from jobs.walls.pages.quantities import quantity_rows
from jobs.walls.services.kept_faces import kept_faces_of
from jobs.walls.services.overrides import clear_override, set_override
from jobs.walls.services.wall_cache import cached_wall_work_up
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.entry_form import EntryForm, text


class QuantityForm(EntryForm):
    value = text("Quantity to count instead", longest=40)
    reason = text("Reason", "Shown beside the figure everywhere.", rows=3)


@firm_first
def wall_quantity(request: HttpRequest, job_id: int, wall_key: str) -> HttpResponse:
    wall = wall_or_404(job_id, wall_key)
    line = _line(wall, request.GET.get("line", ""))
    form = QuantityForm(request.POST if request.method == "POST" else None, _initial(line))
    if request.method == "POST" and form.is_valid():
        try:
            message = _change(request, wall, line, form)
        except DocumentError as error:
            form.complain(error)
        except ChangedMeanwhile as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, message)
            return redirect(f"{reverse('wall', args=[job_id, wall_key])}#takeoff")
    context = {
        "wall": wall,
        "job": wall.job,
        "line": line,
        "unit": QUANTITY_UNITS.get(line.unit, line.unit),
        "row": quantity_rows((line,))[0],
        "form": form,
        "version": request.POST.get("seen_version", wall.version),
    }
    return render(request, "walls/quantity.html", context, status=form.status())


def _line(wall: Wall, key: str) -> TakeoffLine:
    book, today = book_of(), day_at_the_firm(clock.now())
    try:
        result = cached_wall_work_up(wall.to_core(), book, today, kept_faces=kept_faces_of(wall.job_id, wall.key))
    except SurveyError as error:
        raise Http404(f"{wall.name} has no quantities: {error.reason}.") from error
    for line in take_off((result,), book, today).lines:
        if line.key == key:
            return line
    raise Http404(f'{wall.name} has no quantity "{key[:100]}".')


def _initial(line: TakeoffLine) -> dict[str, object]:
    return {"value": line.override.value, "reason": line.override.reason} if line.override else {}


def _change(request: HttpRequest, wall: Wall, line: TakeoffLine, form: QuantityForm) -> str:
    typed = request.POST.get("seen_version", "")
    seen = int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 10 else 0
    if request.POST.get("do") == "clear":
        clear_override(wall.job, wall, line.key, seen_version=seen)
        return f"{line.label}: the computed quantity stands again."
    # A quantity left empty must be told, not taken for a decision about a check.
    set_override(
        wall.job,
        wall,
        key=line.key,
        value=form.cleaned_data["value"],
        reason=form.cleaned_data["reason"],
        original=line.computed,
        by=request.user.full_name,
        on=day_at_the_firm(clock.now()),
        seen_version=seen,
    )
    return f"{line.label}: your quantity is saved."
