"""The sites of one person, by the day somebody works there next: read from rows, nothing is worked up."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date

from catalog.core.ground.workdays import calendar_with
from catalog.services.book import firm_of
from jobs.jobs.models import Job
from jobs.needs.services.wall_pictures import first_pictures
from jobs.schedule.models import ActualDays, PlannedActivityDays
from quoting.platform.people.models import Person
from quoting.service.services.own_day import own_jobs


@dataclass(frozen=True)
class OwnSite:
    """activity: of today, else the next there; empty where nothing is planned. first_day: of it. in_days: working days
    until then, 0 today. picture: SVG of the first wall, or empty."""

    job: Job
    activity: str
    first_day: date | None
    in_days: int
    picture: str


def own_sites(person: Person, today: date) -> list[OwnSite]:
    """Four queries, however many the sites."""
    jobs = list(own_jobs(person, today))
    ids = [job.pk for job in jobs]
    planned: defaultdict[int, list[PlannedActivityDays]] = defaultdict(list)
    for row in PlannedActivityDays.objects.filter(job__in=ids).order_by("first_day", "pk"):
        planned[row.job_id].append(row)
    begun: defaultdict[int, dict[str, ActualDays]] = defaultdict(dict)
    for entry in ActualDays.objects.filter(job__in=ids):
        begun[entry.job_id][entry.key] = entry
    pictures = first_pictures(ids)
    sites = [_site(job, planned[job.pk], begun[job.pk], pictures.get(job.pk, {}), today) for job in jobs]
    return sorted(sites, key=lambda site: (site.first_day is None, site.in_days, site.job.pk))


def _site(
    job: Job, rows: list[PlannedActivityDays], begun: dict[str, ActualDays], pictures: dict[str, str], today: date
) -> OwnSite:
    here = next((row for row in rows if _is_today(row, begun.get(row.key), today)), None)
    row = here or next((row for row in rows if row.first_day > today and row.key not in begun), None)
    picture = pictures.get("thumbnail", "")
    if row is None:
        return OwnSite(job, "", None, 0, picture)
    calendar = calendar_with(firm_of().name, (*firm_of().closures, *(shut.to_core() for shut in job.closures.all())))
    return OwnSite(
        job, row.name, row.first_day, 0 if here else calendar.workdays_between(today, row.first_day), picture
    )


def _is_today(row: PlannedActivityDays, actual: ActualDays | None, today: date) -> bool:
    """Begun and not ended, or planned for today and not begun."""
    if actual is not None:
        return actual.ended_on is None
    return row.first_day <= today <= row.last_day
