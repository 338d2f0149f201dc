"""What a way out of a bend costs, worked out once it is asked for."""

from decimal import Decimal

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.plain_text import half_up
from jobs.core.measure.survey import SurveyError
from jobs.walls.pages.changes import wall_or_404
from quoting.builds.pages.rows import signed
from quoting.builds.services.way_price import WayPrice, price_of_way
from quoting.platform import clock
from quoting.platform.firm_day import signature_of
from quoting.platform.formatting import amount_words
from quoting.platform.people.access import sees_margin


def way_price(request: HttpRequest, job_id: int, wall_key: str) -> HttpResponse:
    wall = wall_or_404(job_id, wall_key)
    try:
        signature = signature_of(request.user, clock.now())
        words = price_words(
            price_of_way(wall.job, wall.key, request.GET.get("way", ""), signature), sees_margin(request)
        )
    except DocumentError as error:
        words = f"not known: {error.complaints[0].reason}"
    except SurveyError as error:
        words = f"not known: {error.reason}"
    return render(request, "builds/way_price.html", {"wall": wall, "job": wall.job, "words": words})


def price_words(change: WayPrice, with_price: bool) -> str:
    """By the price where the job has one and the person sees it, else by what the materials cost; then the hours."""
    amount, of = (change.price, "") if with_price and change.price is not None else (change.material_cost, "materials ")
    hours = None if change.hours is None else half_up(Decimal(repr(change.hours)), 1)
    if amount is None:
        return "price not known"
    parts = [f"{of}{signed(amount, amount_words)}"] if amount else []
    parts += [f"{signed(hours, str)} h"] if hours else []
    return ", ".join(parts) or "same price"
