"""Where each job stands, by the day its next step is due."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from django.core.paginator import Page, Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.safestring import SafeString, mark_safe

from catalog.services.book import NoFirmYet, firm_of
from jobs.jobs.models import Job
from jobs.needs.services.wall_pictures import first_pictures
from quoting.core.life.stations import LABELS, STATIONS
from quoting.life.pages.chain import drawn_short
from quoting.life.pages.links import ShownStep, shown_steps
from quoting.life.services.listing import MAX_SEARCH, ListedJob, counts_of, found_jobs
from quoting.life.services.reading import ReadLife, lives_of
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people import access
from quoting.quotes.services.stored_prices import prices_of_jobs

A_PAGE = 15
MAX_CLIENTS = 30


@dataclass(frozen=True)
class JobRow:
    job: Job
    read: ReadLife
    chain: SafeString
    picture: SafeString
    next: ShownStep | None
    price: Decimal | None

    @property
    def on_site(self) -> tuple[date | None, date | None]:
        return self.read.facts.starts_on, self.read.facts.ends_on


def job_list(request: HttpRequest) -> HttpResponse:
    role, today = access.role_of(request.user), day_at_the_firm(clock.now())
    texts = _asked(request)
    if texts["station"] == "sent" and texts["shown"] != "closed" and access.is_allowed(role, "quotes_out", "GET"):
        narrowed = urlencode({name: texts[name] for name in ("q", "client") if texts[name]})
        return redirect(f"{reverse('quotes_out')}?{narrowed}" if narrowed else "quotes_out")
    every = found_jobs(texts["q"], closed=texts["shown"] == "closed", today=today)
    of_client = [job for job in every if texts["client"] in ("", str(job.client_id))]
    shown = [job for job in of_client if texts["station"] in ("", job.station) and not (texts["station"] and job.ended)]
    page = Paginator(shown, A_PAGE).get_page(request.GET.get("page"))
    context = {
        "rows": _rows(page, today, at_desk=role in access.DESK, with_price=role in access.PRICERS),
        "page": page,
        "asked": texts,
        "late": sum(1 for job in shown if not job.ended and job.next_by is not None and job.next_by < today),
        "is_closed": texts["shown"] == "closed",
        "closed": Job.objects.exclude(closed_on=None).count(),
        "any": bool(every) or Job.objects.exists(),
        "clients": _clients(every),
        "client": next((job for job in every if str(job.client_id) == texts["client"]), None),
        "stations": [(key, LABELS[key], count) for key, count in counts_of(of_client)],  # type: ignore[index]
        "station": LABELS.get(texts["station"], ""),  # type: ignore[call-overload]
        "query": {name: urlencode({**texts, name: ""}) for name in ("client", "station", "q")},
        "rest": urlencode({name: value for name, value in texts.items() if value}),
        "at_desk": role in access.DESK,
        "with_price": role in access.PRICERS,
        "may_add": access.is_allowed(role, "job_add", "GET"),
        "currency": _currency(),
    }
    return render(request, "life/list.html", context)


def _asked(request: HttpRequest) -> dict[str, str]:
    typed = {name: request.GET.get(name, "").replace("\x00", "")[:MAX_SEARCH].strip() for name in ("q", "client")}
    station, shown = request.GET.get("station", ""), request.GET.get("shown", "")
    return {
        **typed,
        "station": station if station in STATIONS else "",
        "shown": "closed" if shown == "closed" else "",
    }


def _clients(jobs: list[ListedJob]) -> list[tuple[int, str]]:
    """Those of the jobs found; of many the first by name, for the others are found by typing."""
    return sorted({(job.client_id, job.client) for job in jobs}, key=lambda job: job[1].casefold())[:MAX_CLIENTS]


def _rows(page: Page[Any], today: date, *, at_desk: bool, with_price: bool) -> list[JobRow]:
    ids = [entry.pk for entry in page]
    jobs = Job.objects.select_related("client").in_bulk(ids)
    reads = lives_of(jobs.values(), today, at_desk=at_desk)
    steps, pictures = shown_steps(reads.values(), 1, at_desk=at_desk), first_pictures(ids)
    prices = _prices(reads, today) if with_price else {}
    return [
        JobRow(
            jobs[pk],
            read := reads[pk],
            drawn_short(read),
            mark_safe(pictures.get(pk, {}).get("thumbnail", "")),
            steps[pk][0] if steps[pk] else None,
            prices.get(pk),
        )
        for pk in ids
        if pk in reads
    ]


def _prices(reads: dict[int, ReadLife], today: date) -> dict[int, Decimal | None]:
    """Before tax: of what the client was given, else as the job was last priced."""
    given = {pk: read.facts.revision.price for pk, read in reads.items() if read.facts.revision}
    worked = prices_of_jobs([pk for pk in reads if pk not in given], today)
    return given | {pk: price.facts.price if price.facts else None for pk, price in worked.items()}


def _currency() -> str:
    try:
        return firm_of().currency
    except NoFirmYet:
        return ""
