"""The day goods on order must be at the dock so that the job has them in time."""

from collections.abc import Collection
from datetime import date

from catalog.core.ground.workdays import CalendarError, WorkCalendar
from catalog.services.book import firm_of
from jobs.core.ordering.order_by import dock_by
from jobs.needs.models import StoredNeed
from jobs.orders.models import OrderLine


def dock_days(lines: Collection[OrderLine]) -> dict[int, date]:
    """By id of the line: what the job needs now, else the day it was ordered for, back the cushion days.

    A line of which nobody knows a day is left out. In a number of queries that does not grow with the lines.
    """
    job_ids = {line.job_id for line in lines}
    rows = StoredNeed.objects.filter(job__in=job_ids, material__in={line.material_id for line in lines})
    needs = {(row.job_id, row.material): row for row in rows}
    firm = firm_of()
    docks = {}
    for line in lines:
        need = needs.get((line.job_id, line.material_id))
        day = need.need_by if need and need.need_by else line.need_by
        cushion = need.cushion_workdays if need else firm.cushion_workdays
        dock = None if day is None else _dock_by(day, cushion, firm.calendar)
        if dock is not None:
            docks[line.pk] = dock
    return docks


def _dock_by(need_by: date, cushion_workdays: int, firm: WorkCalendar) -> date | None:
    try:
        return dock_by(need_by, cushion_workdays, firm)
    except CalendarError:  # no such day: the firm does not work in all that time
        return None
