"""What of each material a job takes and buys, with the working of each figure."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from catalog.pages.firm_first import firm_first
from catalog.services.book import firm_of
from jobs.core.takeoff.job_items import is_of_item
from jobs.jobs.pages.requests import job_or_404
from jobs.needs.services.stored_jobs import StoredJob, stored_job
from jobs.walls.pages.quantities import purchase_rows, quantity_rows
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.formatting import money_words
from quoting.platform.people import access


@firm_first
def job_quantities(request: HttpRequest, job_id: int) -> HttpResponse:
    job, show_money = job_or_404(job_id), access.role_of(request.user) in access.DESK
    stored = stored_job(job, day_at_the_firm(clock.now()))
    context = {"job": job, "trouble": stored.trouble, "show_money": show_money, **_tables(stored, show_money)}
    return render(request, "buying/quantities.html", context)


def _tables(stored: StoredJob, show_money: bool) -> dict[str, Any]:
    takeoff, currency = stored.takeoff, firm_of().currency
    if takeoff is None:
        return {}
    names = {wall.key: wall.name for wall in stored.facts.walls}
    of_walls = [line for line in takeoff.lines if not is_of_item(line.key)]
    others = tuple(line for line in takeoff.lines if is_of_item(line.key))
    tables = [(name, tuple(wall for wall in of_walls if wall.wall == key)) for key, name in names.items()]
    cost = takeoff.cost if show_money else None
    return {
        "purchases": purchase_rows(takeoff, names, currency=currency if show_money else None),
        "total": money_words(cost, currency) if cost is not None else "",
        "tables": [(name, quantity_rows(lines)) for name, lines in (*tables, ("other items", others)) if lines],
    }
