"""The day goods on order must be at the dock so that the job has them in time."""

from collections.abc import Collection
from datetime import date

from catalog.core.ground.workdays import CalendarError, WorkCalendar, calendar_with
from catalog.services.book import firm_of
from jobs.dates.models import StoredNeed
from jobs.jobs.models import Job
from jobs.orders.models import OrderLine


def dock_days(lines: Collection[OrderLine]) -> dict[int, date]:
    """By id of the line: what the job needs now, else the day it was ordered for, back the cushion days.

    A line of which nobody knows a day is left out. In a number of queries that does not grow with the lines.
    """
    job_ids = {line.job_id for line in lines}
    rows = StoredNeed.objects.filter(job__in=job_ids, material__in={line.material_id for line in lines})
    needs = {(row.job_id, row.material): row for row in rows}
    calendars, firm = _calendars(job_ids), firm_of()
    found = {}
    for line in lines:
        need = needs.get((line.job_id, line.material_id))
        day = need.need_by if need and need.need_by else line.need_by
        cushion = need.cushion_workdays if need else firm.cushion_workdays
        dock = (need.dock if need else None) or _back(calendars[line.job_id], day, cushion)
        if dock is not None:
            found[line.pk] = dock
    return found


def _calendars(job_ids: Collection[int]) -> dict[int, WorkCalendar]:
    """The firm's, without the days off of each job."""
    firm = firm_of()
    jobs = Job.objects.filter(pk__in=job_ids).prefetch_related("closures")
    return {
        job.pk: calendar_with(firm.name, (*firm.closures, *(one.to_core() for one in job.closures.all())))
        for job in jobs
    }


def _back(calendar: WorkCalendar, need_by: date | None, cushion_workdays: int) -> date | None:
    try:
        return None if need_by is None else calendar.back(need_by, cushion_workdays)
    except CalendarError:  # no such day: the firm does not work in all that time
        return None
