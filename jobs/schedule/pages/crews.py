"""Days on which open jobs together want more people than the firm has on site."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from catalog.pages.firm_first import firm_first
from jobs.core.schedule.crew_clashes import CrewClash
from jobs.core.schedule.people import NameClash
from jobs.jobs.models import Job
from jobs.jobs.services.signed import WORKS, work_typed
from jobs.schedule.services.planned_days import CrewDaysAhead, crew_days_ahead
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people import access

MAX_LINES = 100


@dataclass(frozen=True)
class ClashLine:
    """Some days on which too many people are wanted, and who wants them: job, activities, people, whether signed."""

    clash: CrewClash
    wanting: tuple[tuple[Job, str, int, bool], ...]

    @property
    def short(self) -> int:
        return self.clash.wanted - self.clash.there


def clash_lines(ahead: CrewDaysAhead) -> list[ClashLine]:
    """Those of signed work alone first."""
    lines = [ClashLine(clash, tuple(_wanting(clash, ahead.jobs))) for clash in ahead.clashes]
    return sorted(lines, key=lambda line: not line.clash.is_of_signed)


def name_lines(ahead: CrewDaysAhead) -> list[tuple[NameClash, list[Job]]]:
    return [(clash, [ahead.jobs[key] for key in clash.jobs]) for clash in ahead.named]


def _wanting(clash: CrewClash, jobs: dict[str, Job]) -> Iterator[tuple[Job, str, int, bool]]:
    for key, people in clash.by_job.items():
        parts = [part for part in clash.parts if part.job == key]
        named = ", ".join(dict.fromkeys(part.activity for part in parts))
        yield jobs[key], named, people, all(part.signed for part in parts)


@firm_first
def crew_clashes(request: HttpRequest) -> HttpResponse:
    today: date = day_at_the_firm(clock.now())
    work = work_typed(request.GET.get("work", ""))
    ahead = crew_days_ahead(today, work=work)
    lines, named = clash_lines(ahead), name_lines(ahead)
    context = {
        "today": today,
        "ahead": ahead,
        "work": work,
        "works": WORKS,
        "lines": lines[:MAX_LINES],
        "more": max(0, len(lines) - MAX_LINES),
        "named": named[:MAX_LINES],
        "more_named": max(0, len(named) - MAX_LINES),
        "at_desk": access.role_of(request.user) in access.DESK,
    }
    return render(request, "schedule/crew_clashes.html", context)
