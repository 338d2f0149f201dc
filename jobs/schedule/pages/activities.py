"""The activities of one job: their early and late days, their float, what is critical, and the chart of it."""

from dataclasses import dataclass
from datetime import date

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from catalog.pages.firm_first import firm_first
from catalog.services.book import book_of
from jobs.core.results.activity_results import item_floats
from jobs.core.schedule.activities import TAPPED, ActivityPlan, PlannedActivity
from jobs.drawings.charts.day_chart import MOST_ROWS
from jobs.jobs.pages.requests import job_or_404
from jobs.schedule.pages.rows import workdays
from jobs.schedule.services.activities_drawn import activities_drawn
from jobs.schedule.services.planned_days import crew_days_ahead
from jobs.work_up.services.job_work_up import work_of
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people import access

KIND_WORDS = {"inspection": "inspection", "hold": "hold", "delivery": "material on site"}


@dataclass(frozen=True)
class ActivityLine:
    """One activity of the table. held: what sets its start, in words. waits: for what it waits before it, in words."""

    one: PlannedActivity
    kind: str
    held: str
    waits: tuple[str, ...]

    @property
    def is_tapped(self) -> bool:
        return self.one.kind in TAPPED

    @property
    def float_words(self) -> str:
        times = self.one.times
        return "" if times is None else float_words(times.total_float_workdays)

    @property
    def promise_words(self) -> str:
        promised = self.one.promised
        return "" if promised is None else float_words(promised.total_float_workdays)


def float_words(count: int) -> str:
    if count == 0:
        return "none"
    return workdays(count) if count > 0 else f"{workdays(-count)} too late"


def slack_words(count: int | None) -> str:
    if count is None:
        return ""
    if count == 0:
        return "nothing to spare"
    return f"{workdays(count)} to spare" if count > 0 else f"{workdays(-count)} too late"


def activity_lines(plan: ActivityPlan) -> list[ActivityLine]:
    names = {one.key: one.name for one in plan.activities}
    waited: dict[str, list[str]] = {}
    for wait in plan.waits:
        waited.setdefault(wait.after, []).append(f"{wait.in_words} after {_lower(names[wait.before])}")
    return [
        ActivityLine(
            one,
            KIND_WORDS.get(one.kind, ""),
            _held(one, names),
            tuple(waited.get(one.key, ())),
        )
        for one in plan.activities
    ]


def _held(one: PlannedActivity, names: dict[str, str]) -> str:
    held_by = one.times.held_by if one.times else ""
    if one.kind == "delivery" or one.actual or not held_by:
        return ""
    if held_by == "start":
        return "starts the work"
    return "held until its day" if held_by == "start no earlier" else f"waits for {_lower(names[held_by])}"


def _lower(name: str) -> str:
    return f"{name[:1].lower()}{name[1:]}"


@firm_first
def job_activities(request: HttpRequest, job_id: int) -> HttpResponse:
    job, today = job_or_404(job_id), day_at_the_firm(clock.now())
    work = work_of(job, book_of(), today)
    context = {
        "job": job,
        "today": today,
        "trouble": work.trouble,
        "editable": access.is_allowed(access.role_of(request.user), "job_dates", "POST"),
        "people": list(job.people.all()),
    }
    if work.done is not None:
        plan = work.done.plan
        picture = activities_drawn(work.done)
        context |= {
            "plan": plan,
            "lines": activity_lines(plan),
            "slack": slack_words(plan.slack_workdays),
            "critical": sum(1 for one in plan.activities if one.times and one.times.critical),
            "svg": picture.svg if picture else "",
            "left_out": max(0, len(plan.activities) - MOST_ROWS),
            "found": [one for one in plan.findings if one.weight in ("gap", "caution")],
            "items": [(one, float_words(one.float_workdays)) for one in item_floats(work.done)],
            "clashes": clashes_shown(job.key, today),
        }
    return render(request, "schedule/activities.html", context)


def clashes_shown(job_key: str, today: date) -> dict[str, object]:
    ahead = crew_days_ahead(today)
    return {"ahead": ahead, "found": ahead.of_job(job_key), "named": ahead.named_of_job(job_key)}
