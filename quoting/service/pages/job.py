"""The job's page: its walls, what is bought for all of them, what stands in the way, and when what is done."""

from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils.safestring import SafeString, mark_safe

from catalog.core.ground.units import System, format_length
from catalog.drawings.svg import DrawingInputError
from catalog.services.book import NoFirmYet
from jobs.core.measure.survey import SurveyError
from jobs.core.takeoff.job_items import is_of_item
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.deliveries.services.deviations import otherwise_of_job
from jobs.drawings.plan.plan import plan_svg
from jobs.jobs.models import Job
from jobs.walls.pages.quantities import purchase_rows, quantity_rows, why_of
from jobs.work_up.services.findings import findings_for
from quoting.changes.services.contracts import contract_of
from quoting.client.services.payments_received import deposit_of
from quoting.core.quotes.work_up import WorkUp
from quoting.job_files.services.job_files import work_up_job
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.formatting import money_words
from quoting.platform.people import access
from quoting.quotes.services.answers import last_taken_back

THUMBNAIL_WIDTH_MM = 120.0


@dataclass(frozen=True)
class WallCard:
    key: str
    name: str
    picture: SafeString | None
    figures: tuple[tuple[str, str], ...]
    open_count: int


def job_sheet(request: HttpRequest, job_id: int) -> HttpResponse:
    job = get_object_or_404(Job.objects.select_related("client"), pk=job_id)
    role = access.role_of(request.user)
    today = day_at_the_firm(clock.now())
    context: dict[str, Any] = {
        "job": job,
        "today": today,
        "editable": access.is_allowed(role, "wall", "POST"),
        "show_money": role in access.DESK,
        "contract": contract_of(job) if role in access.DESK else None,
        "deposit": deposit_of(job) if role in access.DESK else None,
        "back": last_taken_back(job) if role in access.DESK else None,
        "otherwise": otherwise_of_job(job.pk, today) if role in access.DESK else [],
        "walls": list(job.walls.all()),
        "done": None,
        "trouble": "",
    }
    try:
        done = work_up_job(job, today)
    except NoFirmYet as missing:
        context["trouble"] = str(missing)
    except SurveyError as error:
        context["trouble"] = f"{error.field}: {error.reason}."
    else:
        context |= _figures(done, context["show_money"])
    return render(request, "jobs/job.html", context)


def _figures(done: WorkUp, show_money: bool) -> dict[str, Any]:
    firm = done.read.book.firm
    names = {wall.spec.key: wall.spec.name for wall in done.walls}
    found = findings_for(done, show_money)
    cost = done.takeoff.cost
    of_walls = [one for one in done.takeoff.lines if not is_of_item(one.key)]
    return {
        "done": done,
        "firm": firm,
        "cards": [_card(wall, firm.display_units) for wall in done.walls],
        "decide": [one for one in found if one.weight in ("gap", "decide")],
        "cautions": [one for one in found if one.weight == "caution"],
        "notes": [one for one in found if one.weight == "note"],
        "purchases": purchase_rows(done.takeoff, names, currency=firm.currency if show_money else None),
        "total": money_words(cost, firm.currency) if show_money and cost is not None else "",
        "by_wall": [
            (wall.spec, quantity_rows(tuple(one for one in of_walls if one.wall == wall.spec.key)))
            for wall in done.walls
        ],
        "item_lines": quantity_rows(tuple(one for one in done.takeoff.lines if is_of_item(one.key))),
        "activities": [(one, why_of(one.explanation), why_of(one.days_explanation)) for one in done.plan.activities],
    }


def _card(wall: WallWorkUp, system: System) -> WallCard:
    figures = [
        ("Left finished face", format_length(wall.curve.length_mm("left_finished"), system)),
        ("Right finished face", format_length(wall.curve.length_mm("right_finished"), system)),
        ("Height, at most", format_length(wall.curve.greatest_height_mm, system)),
    ]
    if wall.framing.is_complete:
        figures.append(("Studs", str(wall.stud_count)))
    waiting = sum(1 for one in wall.findings if one.weight in ("gap", "decide"))
    return WallCard(wall.spec.key, wall.spec.name, _thumbnail(wall, system), tuple(figures), waiting)


def _thumbnail(wall: WallWorkUp, system: System) -> SafeString | None:
    try:
        picture = plan_svg(
            wall.curve, title=f"{wall.spec.name}: plan", system=system, width_mm=THUMBNAIL_WIDTH_MM, max_height_mm=90.0
        )
    except DrawingInputError:
        return None
    return mark_safe(picture.svg)
