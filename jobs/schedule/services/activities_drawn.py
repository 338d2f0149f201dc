"""The chart of a job's activities, for its page and its papers."""

from catalog.drawings.svg import Picture
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.schedule.activities import ActivityPlan, PlannedActivity
from jobs.drawings.charts.activities_chart import ActivityRow, WaitSpan, activities_chart_svg
from jobs.drawings.charts.day_chart import MAX_ROWS

ROW_MM, ROOM_MM, MAX_MM = 7.0, 30.0, 2000.0


def activities_drawn(done: JobWorkUp, width_mm: float = 243.0, max_height_mm: float | None = None) -> Picture | None:
    """None while nothing is dated."""
    shown = [one for one in done.plan.activities if one.times is not None][:MAX_ROWS]
    if not shown:
        return None
    closures = (*done.read.book.firm.closures, *done.read.job.closures)
    return activities_chart_svg(
        [_row(one) for one in shown],
        today=done.today,
        title="Activities",
        waits=_waits(done.plan, shown),
        closed=tuple((one.first_day, one.last_day) for one in closures),
        promised_on=done.plan.promised_on,
        width_mm=width_mm,
        max_height_mm=min(max_height_mm or MAX_MM, ROOM_MM + ROW_MM * len(shown)),
    )


def _row(one: PlannedActivity) -> ActivityRow:
    assert one.times is not None
    times, days = one.times, one.times.total_float_workdays
    slips = f"may slip {days} working day{'' if days == 1 else 's'}"
    shape = "moment" if one.kind in ("hold", "delivery") or not one.duration_workdays else "days"
    return ActivityRow(
        one.name,
        times.early_start,
        times.early_finish,
        max(times.late_finish, times.early_finish),
        "ended" if times.has_ended else "critical" if times.critical else slips,
        times.critical,
        "moment" if shape == "moment" else "days",
    )


def _waits(plan: ActivityPlan, shown: list[PlannedActivity]) -> list[WaitSpan]:
    """Those that set a start, and material that lies on site: a wait that is over long before is not drawn."""
    places = {one.key: number for number, one in enumerate(shown)}
    days = {one.key: one.times for one in shown if one.times}
    material = {one.key for one in shown if one.kind == "delivery"}
    return [
        WaitSpan(places[wait.after], days[wait.before].early_finish, days[wait.after].early_start, wait.in_words)
        for wait in plan.waits
        if wait.before in days
        and wait.after in days
        and (days[wait.after].held_by == wait.before or wait.before in material)
    ]
