"""The chart of a job's activities, for its page and its papers."""

from catalog.drawings.svg import Picture
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.schedule.activities import ActivityPlan, PlannedActivity
from jobs.drawings.charts.activities_chart import ActivityRow, WaitSpan, activities_chart_svg
from jobs.drawings.charts.day_chart import MAX_ROWS

ROW_MM, ROOM_MM, MAX_MM = 7.0, 30.0, 2000.0


def activities_drawn(work_up: JobWorkUp, width_mm: float = 243.0, max_height_mm: float | None = None) -> Picture | None:
    """None while nothing is dated."""
    shown = [activity for activity in work_up.plan.activities if activity.times is not None][:MAX_ROWS]
    if not shown:
        return None
    closures = (*work_up.read.book.firm.closures, *work_up.read.job.closures)
    return activities_chart_svg(
        [_row(activity) for activity in shown],
        today=work_up.today,
        title="Activities",
        waits=_waits(work_up.plan, shown),
        closed=tuple((closure.first_day, closure.last_day) for closure in closures),
        promised_on=work_up.plan.promised_on,
        width_mm=width_mm,
        max_height_mm=min(max_height_mm or MAX_MM, ROOM_MM + ROW_MM * len(shown)),
    )


def _row(activity: PlannedActivity) -> ActivityRow:
    assert activity.times is not None
    times, days = activity.times, activity.times.total_float_workdays
    slips = f"may slip {days} working day{'' if days == 1 else 's'}"
    shape = "moment" if activity.kind in ("hold", "delivery") or not activity.duration_workdays else "days"
    return ActivityRow(
        activity.name,
        times.early_start,
        times.early_finish,
        max(times.late_finish, times.early_finish),
        "ended" if times.has_ended else "critical" if times.critical else slips,
        times.critical,
        "moment" if shape == "moment" else "days",
    )


def _waits(plan: ActivityPlan, shown: list[PlannedActivity]) -> list[WaitSpan]:
    """Those that set a start, and material that lies on site: a wait that is over long before is not drawn."""
    places = {activity.key: number for number, activity in enumerate(shown)}
    days = {activity.key: activity.times for activity in shown if activity.times}
    material = {activity.key for activity in shown if activity.kind == "delivery"}
    return [
        WaitSpan(places[wait.after], days[wait.before].early_finish, days[wait.after].early_start, wait.in_words)
        for wait in plan.waits
        if wait.before in days
        and wait.after in days
        and (days[wait.after].held_by == wait.before or wait.before in material)
    ]
