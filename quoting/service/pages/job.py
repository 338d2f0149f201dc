"""The job's page: its walls, what is bought for all of them, what stands in the way, and when what is done."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils.safestring import SafeString, mark_safe

from catalog.core.ground.units import System, format_length
from catalog.services.book import NoFirmYet, firm_of
from jobs.core.measure.findings import Finding
from jobs.core.results.job_facts import WallFacts
from jobs.core.takeoff.job_items import is_of_item
from jobs.deliveries.services.deviations import otherwise_of_job
from jobs.jobs.models import Job
from jobs.needs.services.stored_jobs import StoredJob, stored_job
from jobs.needs.services.stored_needs import findings_of_needs
from jobs.walls.pages.quantities import purchase_rows, quantity_rows, why_of
from quoting.changes.services.contracts import contract_of
from quoting.client.services.payments_received import deposit_of
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.formatting import money_words
from quoting.platform.people import access
from quoting.quotes.services.answers import last_taken_back
from quoting.quotes.services.stored_prices import stored_price


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
        found = stored_job(job, today)
        if found.trouble:
            context["trouble"] = f"{found.trouble}."
        else:
            context |= _figures(job, found, today, context["show_money"])
    except NoFirmYet as missing:
        context["trouble"] = str(missing)
    return render(request, "jobs/job.html", context)


def _figures(job: Job, found: StoredJob, today: date, show_money: bool) -> dict[str, Any]:
    firm, takeoff, plan = firm_of(), found.takeoff, found.plan
    assert takeoff is not None and plan is not None, "walls that can be worked out have both"
    names = {wall.key: wall.name for wall in found.facts.walls}
    told = _told(job, found, today, show_money)
    of_walls = [one for one in takeoff.lines if not is_of_item(one.key)]
    return {
        "done": True,
        "plan": plan,
        "firm": firm,
        "cards": [_card(wall, firm.display_units) for wall in found.facts.walls],
        "decide": [one for one in told if one.weight in ("gap", "decide")],
        "cautions": [one for one in told if one.weight == "caution"],
        "notes": [one for one in told if one.weight == "note"],
        "purchases": purchase_rows(takeoff, names, currency=firm.currency if show_money else None),
        "total": money_words(takeoff.cost, firm.currency) if show_money and takeoff.cost is not None else "",
        "by_wall": [
            (wall, quantity_rows(tuple(one for one in of_walls if one.wall == wall.key))) for wall in found.facts.walls
        ],
        "item_lines": quantity_rows(tuple(one for one in takeoff.lines if is_of_item(one.key))),
        "activities": [(one, why_of(one.explanation), why_of(one.days_explanation)) for one in plan.activities],
    }


def _told(job: Job, found: StoredJob, today: date, show_money: bool) -> list[Finding]:
    told = list(found.facts.findings(show_money))
    if show_money:
        told += findings_of_needs(job) if job.start_on is not None else []
        price = stored_price(job, today)
        told += price.findings if price else []
    return list({one.key: one for one in told}.values())


def _card(wall: WallFacts, system: System) -> WallCard:
    figures = [
        ("Left finished face", format_length(wall.lengths_mm["left_finished"], system)),
        ("Right finished face", format_length(wall.lengths_mm["right_finished"], system)),
        ("Height, at most", format_length(wall.height_mm, system)),
    ]
    if wall.studs is not None:
        figures.append(("Studs", str(wall.studs)))
    picture = wall.pictures.get("plan")
    return WallCard(wall.key, wall.name, mark_safe(picture) if picture else None, tuple(figures), wall.open_count)
