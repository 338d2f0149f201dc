"""The chance that one job is done by its promised day, and what would raise it most."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from catalog.core.ground.refusal import Refused
from catalog.pages.firm_first import firm_first
from catalog.services.book import book_of
from jobs.core.schedule.completion_risk import FinishingChance, Remedy
from jobs.jobs.pages.requests import job_or_404
from jobs.schedule.pages.activities import slack_words
from jobs.schedule.services.late_goods import LateGoods, chance_with_goods
from jobs.work_up.services.job_work_up import work_of
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people import access

MAX_REMEDIES = 6
WORTH_SAYING = 0.005
REMEDY_WORDS = {
    "shorter": "{0}: a working day shorter",
    "person": "{0}: one more person on it",
    "earlier": "Begin the whole work a working day earlier",
}


@firm_first
def job_chance(request: HttpRequest, job_id: int) -> HttpResponse:
    job, today = job_or_404(job_id), day_at_the_firm(clock.now())
    work = work_of(job, book_of(), today)
    context: dict[str, Any] = {
        "job": job,
        "today": today,
        "trouble": work.trouble,
        "editable": access.is_allowed(access.role_of(request.user), "job_dates", "POST"),
    }
    if work.done is not None:
        plan = work.done.plan
        context |= {"plan": plan, "slack": slack_words(plan.slack_workdays)}
        try:
            context |= _shown(*chance_with_goods(work, today))
        except Refused as error:
            context["unknown"] = f"{str(error)[:1].upper()}{str(error)[1:]}."
    # The page of days asks for one sentence of it once it is there, for the runs take a while.
    return render(request, "schedule/_chance.html" if request.htmx else "schedule/chance.html", context)  # type: ignore[attr-defined]


def _shown(chance: FinishingChance, late: list[LateGoods]) -> dict[str, Any]:
    worth = [remedy for remedy in chance.remedies if remedy.gain >= WORTH_SAYING]
    return {
        "found": chance,
        "late_goods": late,
        "chance": None if chance.chance is None else percent(chance.chance),
        "days": [(percent(share), day) for share, day in chance.days.items()],
        "critical": [(name, percent(share)) for name, share in chance.criticality],
        "remedies": [remedy_words(remedy) for remedy in worth[:MAX_REMEDIES]],
        "more": max(0, len(worth) - MAX_REMEDIES),
    }


def remedy_words(remedy: Remedy) -> tuple[str, str, str]:
    points = max(1, round(remedy.gain * 100))
    gain = f"{points} point{'' if points == 1 else 's'} more"
    return REMEDY_WORDS[remedy.what].format(remedy.activity), percent(remedy.chance), gain


def percent(share: float) -> str:
    """In whole percent; what is not certain is never said to be."""
    if 0 < share < 0.005:
        return "under 1 %"
    if 0.995 <= share < 1:
        return "over 99 %"
    return f"{round(share * 100)} %"
