"""The site of today, for whoever leads it: the wall, who is there, since when, and what the week brings."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from catalog.core.ground.workdays import WorkCalendar
from jobs.core.schedule.people import is_same_name
from jobs.jobs.models import Job
from jobs.needs.services.wall_pictures import first_pictures
from jobs.schedule.models import ActualDays, NamedPerson, PlannedActivityDays
from jobs.walls.models import Wall
from quoting.platform.people.models import Person


@dataclass(frozen=True)
class WeekLine:
    """An activity within this week, with its first and last day there."""

    name: str
    first_day: date
    last_day: date


@dataclass(frozen=True)
class SiteDay:
    """picture, narrow: the first wall as SVG, for a desk and a phone; empty while nothing is worked up. crew: who else
    is there today. day: of how many working days on site today is, 0 before anything began. week: activities of this
    week. after: the next one planned."""

    job: Job
    walls: tuple[tuple[str, str], ...]
    picture: str
    narrow: str
    crew: tuple[str, ...]
    day: int
    week: tuple[WeekLine, ...]
    after: WeekLine | None


def site_day(job: Job, person: Person, today: date, calendar: WorkCalendar) -> SiteDay:
    pictures = first_pictures([job.pk]).get(job.pk, {})
    walls = tuple(Wall.objects.filter(job=job).values_list("key", "name"))
    named = [entry.to_core() for entry in NamedPerson.objects.filter(job=job)]
    crew = [entry.name for entry in named if entry.is_on(today) and not is_same_name(entry.name, person.full_name)]
    began = ActualDays.objects.filter(job=job).order_by("began_on").values_list("began_on", flat=True).first()
    day = calendar.workdays_between(began - timedelta(days=1), today) if began and began <= today else 0
    sunday = today + timedelta(days=6 - today.weekday())
    planned = list(PlannedActivityDays.objects.filter(job=job, last_day__gte=today).order_by("first_day", "pk"))
    week = tuple(_lines(planned, today, sunday))
    after = next(
        (WeekLine(entry.name, entry.first_day, entry.last_day) for entry in planned if entry.first_day > today), None
    )
    wide, narrow = pictures.get("standing", ""), pictures.get("standing_narrow", "")
    return SiteDay(job, walls, wide, narrow, tuple(dict.fromkeys(crew)), day, week, after)


def _lines(planned: Iterable[PlannedActivityDays], today: date, sunday: date) -> Iterable[WeekLine]:
    for day in planned:
        if day.first_day <= sunday:
            yield WeekLine(day.name, max(day.first_day, today), day.last_day)
