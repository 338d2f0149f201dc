"""One job: how is it, and what is next? Read from rows; nothing is worked up for it."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.safestring import SafeString, mark_safe

from catalog.core.ground.units import System, format_length
from catalog.services.book import NoFirmYet, firm_of
from jobs.core.results.job_facts import JobFacts, WallFacts
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404
from jobs.needs.services.stored_jobs import stored_job
from quoting.life.pages.chain import drawn
from quoting.life.pages.links import shown_steps
from quoting.life.services.outcomes import outcome_of
from quoting.life.services.reading import ReadLife, life_of_job
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people import access
from quoting.platform.screen_days import span_words
from quoting.quotes.models import QuoteRevision
from quoting.quotes.services.stored_prices import prices_of_jobs

MAX_ROWS = 2
# What a row says already, or the figure of a row.
SAID_BY_ROWS = ("late", "to confirm", "unsigned")


@dataclass(frozen=True)
class ShownWall:
    """picture: large, of the first, and narrow for a phone; small of the others. says: its figures in a line."""

    key: str
    name: str
    picture: SafeString
    narrow: SafeString
    says: str


def job_sheet(request: HttpRequest, job_id: int) -> HttpResponse:
    job, role = job_or_404(job_id), access.role_of(request.user)
    today, at_desk = day_at_the_firm(clock.now()), role in access.DESK
    read = life_of_job(job, today, at_desk=at_desk)
    desk, phone = drawn(read)
    steps = shown_steps([read], MAX_ROWS + 1, at_desk=at_desk, buys=role in access.BUYERS)[job.pk]
    context = {
        "job": job,
        "place": ", ".join(job.site_address.split("\n"))[:80],
        "read": read,
        "chain": desk,
        "chain_on_a_phone": phone,
        "next": steps[0] if steps else None,
        "others": steps[1:],
        "on_site": span_words(read.facts.starts_on, read.facts.ends_on),
        "beside": [text for text in read.life.beside if not text.endswith(SAID_BY_ROWS)],
        "price": _price(read, role),
        "lost": outcome_of(job) if at_desk else None,
        "at_desk": at_desk,
        "editable": access.is_allowed(role, "job_change", "POST"),
        **_walls(job, today, at_desk=at_desk),
    }
    return render(request, "life/job.html", context)


def _price(read: ReadLife, role: str) -> dict[str, Any]:
    """Of the revision that counts, for those who see money; margins, and what is not sent yet, for those who price."""
    revision, prices = read.facts.revision, role in access.PRICERS
    if revision is not None and role in access.DESK:
        rows = QuoteRevision.objects.select_related("quote").defer("snapshot")
        row = rows.get(quote__job=read.job, number=revision.number)
        return _shown(revision.price, row.margin if prices else None, row.currency) | {"revision": row}
    listed = prices_of_jobs([read.job.pk], read.today).get(read.job.pk) if prices and revision is None else None
    facts = listed.facts if listed else None
    return _shown(facts.price, facts.margin, facts.currency) if facts and facts.price is not None else {}


def _shown(price: Decimal | None, margin: Decimal | None, currency: str) -> dict[str, Any]:
    return {"price": price, "currency": currency, "margin": None if margin is None else round(margin, 3)}


def _walls(job: Job, today: Any, *, at_desk: bool) -> dict[str, Any]:
    try:
        stored, system = stored_job(job, today), firm_of().display_units
    except NoFirmYet as missing:
        return {"trouble": str(missing)}
    facts: JobFacts = stored.facts
    findings = facts.findings(at_desk)
    return {
        "walls": [_wall(fact, system, large=not place) for place, fact in enumerate(facts.walls)],
        "trouble": f"{facts.trouble}." if facts.trouble else "",
        "to_decide": sum(1 for finding in findings if finding.weight in ("gap", "decide")),
        "cautions": sum(1 for finding in findings if finding.weight == "caution"),
    }


def _wall(wall: WallFacts, system: System, *, large: bool) -> ShownWall:
    wide, narrow = ("standing", "standing_narrow") if large else ("thumbnail", "thumbnail")
    arcs = [arc.radii_mm["centre"] for arc in wall.arcs]
    says = [f"Radius {format_length(arcs[0], system)}"] if len(arcs) == 1 else [f"{len(arcs)} arcs"] if arcs else []
    says.append(f"{format_length(wall.lengths_mm['centre'], system)} long")
    says.append(f"{format_length(wall.height_mm, system)} high")
    says += [f"{wall.studs} studs"] if wall.studs else []
    picture, lean = (mark_safe(wall.pictures.get(name, "")) for name in (wide, narrow))
    return ShownWall(wall.key, wall.name, picture, lean, f"{', '.join(says)}.")
