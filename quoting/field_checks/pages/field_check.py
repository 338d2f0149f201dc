"""The field check of a wall: figures found on site beside the quoted ones, what they move, and keeping them.

The lead's page as well: costs are the desk's, prices theirs who make them.
"""

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from catalog.core.ground.units import BareLengthUnit, System, format_measure
from catalog.pages.firm_first import firm_first
from catalog.services.book import book_of
from jobs.core.measure.dimension_holds import every_dimension
from jobs.core.measure.survey import SurveyError
from jobs.core.measure.wall_spec import WallSpec
from jobs.core.ordering.wall_moves import RadiusMove, ToInform
from jobs.core.takeoff.field_check import FieldCheck
from jobs.drawings.plan.asked import asked_svg
from jobs.jobs.services.versions import ChangedMeanwhile
from jobs.site.pages.pages import worked_up
from jobs.site.services.field_check import ANGLES, entries_of, figure_words, known_words
from jobs.site.services.words import LINE_WORDS, lengths_in
from jobs.walls.models import Wall
from jobs.walls.pages.changes import wall_or_404
from jobs.walls.pages.quantities import with_unit
from jobs.walls.services.field_confirmation import dimension_of, keep_confirmed, wall_as_found
from quoting.field_checks.pages.check_rows import Row, keep_photos, photo_count
from quoting.field_checks.services.field_checks import QuotedWall, SiteCheck, check_on_site, quoted_wall
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm, signature_of
from quoting.platform.models.columns import quantized
from quoting.platform.pages.entry_form import sentence
from quoting.platform.pages.kept_form import answered
from quoting.platform.people import access
from quoting.platform.people.access import sees_margin

MAX_TYPED = 60
NOTHING_FOUND = "Enter at least one figure found on site; the others stay as they are."


@firm_first
def field_check(request: HttpRequest, job_id: int, wall_key: str) -> HttpResponse:
    wall, book = wall_or_404(job_id, wall_key), book_of()
    system = book.firm.display_units
    unit: BareLengthUnit = "in" if system == "imperial" else "mm"
    signature, stored, quoted = signature_of(request.user, clock.now()), wall.to_core(), quoted_wall(wall)
    rows, told, status = list(_rows(request, stored, quoted.spec, system)), [], 200
    found = {row.entry: row.typed for row in rows if row.typed}
    keeps = request.POST.get("do") == "keep"
    context: dict[str, Any] = {}
    photos = keep_photos(request, wall, rows)
    try:
        if any(row.errors for row in rows):
            raise DocumentError([])
        if keeps and photos and not found:
            messages.success(request, f"{photo_count(photos)} kept: {wall.name}.")
            return answered(request, reverse("field_check", args=[wall.job_id, wall.key]))
        if keeps and not found:
            raise DocumentError.at("", NOTHING_FOUND)
        if keeps:
            is_new = keep_confirmed(wall, found, seen_version=_seen(request), bare_unit=unit, signature=signature)
            return _kept(request, wall, is_new, quoted)
        if request.method == "POST":
            confirmed = wall_as_found(stored, found, unit, signature)
            context = _moved(request, check_on_site(wall, confirmed, quoted, signature.on))
    except DocumentError as error:
        told, status = _complain(error.complaints, rows), 422
    except SurveyError as error:
        told, status = _complain([DocumentProblem(error.field, error.reason)], rows), 422
    except ChangedMeanwhile as error:
        told, status = [str(error)], 409
    _draw(rows, wall, "Inches without a unit." if unit == "in" else "Millimetres without a unit.")
    context |= {
        "job": wall.job,
        "wall": wall,
        "rows": rows,
        "told": told,
        "photos": photo_count(photos) if photos else "",
        "quoted_said": quoted.said,
        "today": signature.on,
        # Told of another's change once, with the wall as it is now; sent again it is meant.
        "version": wall.version if status == 409 else request.POST.get("seen_version", wall.version),
    }
    return render(request, "site/field_check.html", context, status=status)


def _draw(rows: list[Row], wall: Wall, unit: str) -> None:
    """A wall that gives no line is asked for without pictures."""
    try:
        curve = worked_up(wall, book_of()).curve
    except SurveyError:
        curve = None
    for row in rows:
        is_angle = row.entry.rpartition(".")[2] in ANGLES
        row.unit = "Degrees." if is_angle else unit
        if curve is not None:
            row.picture = asked_svg(curve, row.entry, words=row.label, title=f"{wall.name}: {row.label}").svg


def _kept(request: HttpRequest, wall: Wall, is_new: bool, quoted: QuotedWall) -> HttpResponse:
    if is_new:
        messages.success(request, f"Confirmed by {request.user.full_name}: {wall.name}.")
        for one in _to_inform(Wall.objects.get(pk=wall.pk), quoted):
            messages.warning(request, f"{one.who.capitalize()}: {one.sentence}")
    else:
        messages.info(request, f"These figures of {wall.name} are confirmed already.")
    return answered(request, reverse("field_check", args=[wall.job_id, wall.key]))


def _to_inform(wall: Wall, quoted: QuotedWall) -> tuple[ToInform, ...]:
    """What is kept is kept, be another wall of the job impossible."""
    try:
        return check_on_site(wall, wall.to_core(), quoted, day_at_the_firm(clock.now())).moves.inform
    except (DocumentError, SurveyError):
        return ()


def _seen(request: HttpRequest) -> int:
    typed = request.POST.get("seen_version", "")
    return int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 10 else 0


def _rows(request: HttpRequest, stored: WallSpec, quoted: WallSpec, system: System) -> Iterable[Row]:
    say, marks = lengths_in(system), {one.dimension: one.mark for one in stored.taken.marks}
    before = {entry: figure for one in every_dimension(quoted) for entry, _, figure in entries_of(one)}
    for one in every_dimension(stored):
        for entry, more, figure in entries_of(one):
            was = before.get(entry)
            now = "" if was is not None and quantized(was) == quantized(figure) else figure_words(entry, figure, say)
            label = f"{one.words[:1].upper()}{one.words[1:]}{more}"
            typed = request.POST.get(entry, "").strip()[:MAX_TYPED]
            was_said = "not in the quote" if was is None else figure_words(entry, was, say)
            yield Row(entry, label, was_said, now, known_words(marks.get(one.place)), typed, [])


def _complain(complaints: Iterable[DocumentProblem], rows: list[Row]) -> list[str]:
    """Beside the entry it is about; what is about none stands above them all."""
    told = []
    for complaint in complaints:
        at = [row for row in rows if complaint.path and row.entry.startswith(complaint.path)]
        at = [row for row in at if row.typed] or at
        if at and dimension_of(at[0].entry) == dimension_of(complaint.path):
            at[0].errors.append(sentence(at[0].label, complaint))
        else:
            told.append(sentence(complaint.path, complaint))
    return told


def _moved(request: HttpRequest, done: SiteCheck) -> dict[str, Any]:
    sees_costs = access.role_of(request.user) in access.DESK
    lines = [
        (line.label, *_sides(line.quoted, line.confirmed, line.unit), _signed(line.difference, line.unit))
        for line in done.moved.lines
    ]
    return {
        "check": done,
        "radii": [(one.piece, LINE_WORDS[one.line], *_radii(one, done.system)) for one in done.moves.radii],
        "ordered": [(one, one.words(done.system)) for one in done.moves.ordered],
        # What moves by less than is written stands apart.
        "lines": [one for one in lines if one[1] != one[2]],
        "still_lines": (still := [one for one in lines if one[1] == one[2]]),
        "still": bool(still) or len(done.moves.misfits) < len(done.moves.ordered),
        "purchases": list(_purchases(done.moved, sees_costs)),
        "sees_costs": sees_costs,
        "sees_price": sees_margin(request),
    }


def _radii(one: RadiusMove, system: System) -> tuple[str, str]:
    was, now = ("no arc" if mm is None else format_measure(mm, system) for mm in (one.was_mm, one.now_mm))
    return was, now


def _purchases(moved: FieldCheck, sees_costs: bool) -> Iterable[tuple[Any, ...]]:
    for one in moved.purchases:
        if sees_costs or one.quoted != one.confirmed:
            yield one.name, *_sides(one.quoted, one.confirmed, one.unit), one.quoted_cost, one.confirmed_cost


def _sides(quoted: Decimal | None, confirmed: Decimal | None, unit: str) -> tuple[str, str]:
    was, now = ("none" if one is None else with_unit(one, unit) for one in (quoted, confirmed))
    return was, now


def _signed(difference: Decimal, unit: str) -> str:
    return f"{'−' if difference < 0 else '+'}{with_unit(abs(difference), unit)}"
