"""Received: what came, day by day, and what is expected, for the office."""

from collections.abc import Iterable
from itertools import groupby
from typing import Any

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from catalog.pages.firm_first import firm_first
from jobs.deliveries.models import Delivery
from jobs.deliveries.pages.expected import expected_groups
from jobs.deliveries.services.claim_letters import came_words
from jobs.deliveries.services.claims import needs_claim, standing_words
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm

A_PAGE = 40


@firm_first
def received(request: HttpRequest) -> HttpResponse:
    today = day_at_the_firm(clock.now())
    rows = Delivery.objects.select_related("order__supplier").order_by("-received_on", "-pk")
    parts = ("lines__line__job", "lines__line__receipts", "lines__line__returns")
    page = Paginator(rows.prefetch_related(*parts), A_PAGE).get_page(request.GET.get("page"))
    context = {
        "today": today,
        "days": [
            (day, [_shown(delivery) for delivery in mine])
            for day, mine in groupby(page, lambda delivery: delivery.received_on)
        ],
        "page": page,
        "groups": expected_groups(today)[:2],
    }
    return render(request, "deliveries/received.html", context)


def _shown(delivery: Delivery) -> dict[str, Any]:
    lines = list(delivery.lines.all())
    bad = [row for row in lines if row.damaged or row.wrong]
    return {
        "delivery": delivery,
        "came": _in_few_words(lines),
        "bad": [f"{came_words(row)}: {standing_words(row).lower()}" for row in bad if needs_claim(row)],
        "jobs": list(dict.fromkeys(row.line.job.title for row in lines)),
    }


def _in_few_words(lines: Iterable[Any]) -> str:
    names = [row.line.what.partition(",")[0] for row in lines]
    first, more = names[0] if names else "Nothing", len(names) - 1
    return f"{first} and {more} more" if more > 0 else first
