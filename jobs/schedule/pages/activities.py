"""The activities of one job in words: their float, what holds them, what they wait for."""

from dataclasses import dataclass
from datetime import date

from jobs.core.schedule.activities import TAPPED, ActivityPlan, PlannedActivity
from jobs.schedule.pages.rows import workdays
from jobs.schedule.services.planned_days import crew_days_ahead

KIND_WORDS = {"inspection": "inspection", "hold": "hold", "delivery": "material on site"}


@dataclass(frozen=True)
class ActivityLine:
    """One activity of the table. held: what sets its start, in words. waits: for what it waits before it, in words."""

    activity: PlannedActivity
    kind: str
    held: str
    waits: tuple[str, ...]

    @property
    def is_tapped(self) -> bool:
        return self.activity.kind in TAPPED

    @property
    def float_words(self) -> str:
        times = self.activity.times
        return "" if times is None else float_words(times.total_float_workdays)


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
    names = {activity.key: activity.name for activity in plan.activities}
    waited: dict[str, list[str]] = {}
    for wait in plan.waits:
        waited.setdefault(wait.after, []).append(f"{wait.in_words} after {_lower(names[wait.before])}")
    return [
        ActivityLine(
            activity,
            KIND_WORDS.get(activity.kind, ""),
            _held(activity, names),
            tuple(waited.get(activity.key, ())),
        )
        for activity in plan.activities
    ]


def _held(activity: PlannedActivity, names: dict[str, str]) -> str:
    held_by = activity.times.held_by if activity.times else ""
    if activity.kind == "delivery" or activity.actual or not held_by:
        return ""
    if held_by == "start":
        return "starts the work"
    return "held until its day" if held_by == "start no earlier" else f"waits for {_lower(names[held_by])}"


def _lower(name: str) -> str:
    return f"{name[:1].lower()}{name[1:]}"


def clashes_shown(job_key: str, today: date) -> dict[str, object]:
    ahead = crew_days_ahead(today)
    return {"ahead": ahead, "found": ahead.of_job(job_key), "named": ahead.named_of_job(job_key)}
