"""Today on site, as its template shows it: no money and no supplier in here."""

from dataclasses import dataclass
from datetime import date
from typing import Any
from urllib.parse import quote, urlencode

from django.urls import reverse

from catalog.core.ground.day_words import day_words as kept_words
from jobs.core.ordering.next_steps import NextStep
from jobs.core.ordering.order_by import days_in_hand
from jobs.dates.services.item_schedule import OpenJobItems
from jobs.finish.models import FinishItem
from jobs.hours.services.entered_days import missing_of_late
from jobs.hours.services.workers import workers_for
from jobs.jobs.models import Job
from jobs.walls.models import Wall
from quoting.platform.people.models import Person
from quoting.platform.screen_days import day_words
from quoting.service.services.own_day import OwnDay, own_day
from quoting.service.services.site_day import SiteDay, WeekLine, site_day

MAX_STEPS = 2
MAX_COMING, MAX_WEEK, MAX_WALLS, MAX_MISSING = 3, 4, 4, 2
_DO = {"field_check": "Start the field check", "dimension": "Start the field check", "template": "Enter the template"}


@dataclass(frozen=True)
class OwnStep:
    """wall: its name. in_hand: working days to the first order that waits for it, None where nobody knows."""

    job: Job
    step: NextStep
    wall: str
    url: str
    do: str
    in_hand: int | None

    @property
    def days(self) -> int | None:
        return None if self.in_hand is None else abs(self.in_hand)

    @property
    def is_late(self) -> bool:
        return self.in_hand is not None and self.in_hand < 0


def site_context(person: Person, read: OpenJobItems) -> dict[str, Any]:
    day = own_day(person, read)
    today, calendar = read.desk.today, read.desk.calendar
    first = day.activities[0] if day.activities else None
    site = site_day(first.job, person, today, calendar) if first else None
    steps = own_steps(day, read)
    return {
        "own": day,
        "first": first,
        "also": day.activities[1:],
        "next": min(day.coming, key=lambda activity: (not activity.signed, activity.first_day), default=None),
        "site": site,
        "map": f"geo:0,0?{urlencode({'q': site.job.site_address}, quote_via=quote)}" if site else "",
        "walls": site.walls[:MAX_WALLS] if site else (),
        "week": [(_days(line, today), line.name) for line in site.week[:MAX_WEEK]] if site else [],
        "own_steps": steps,
        "near_steps": steps[:MAX_STEPS],
        "more_steps": max(0, len(steps) - MAX_STEPS),
        "coming_here": day.deliveries[:MAX_COMING],
        "more_coming": max(0, len(day.deliveries) - MAX_COMING),
        "crew": _crew(site),
        "to_mend": FinishItem.objects.filter(job__in=day.jobs, mended_on=None, due__isnull=False).order_by("due", "pk"),
        "hours_missing": _missing(person, read),
    }


def _missing(person: Person, read: OpenJobItems) -> list[tuple[date, list[str]]]:
    """Days whose hours nobody entered, with the first names of whom."""
    among = workers_for(person).select_related("person")
    found = missing_of_late(person, read.desk.today, among, read.desk.calendar)
    return [(day, [worker.name.split()[0] for worker in workers]) for day, workers in found.items()][-MAX_MISSING:]


def own_steps(day: OwnDay, read: OpenJobItems) -> list[OwnStep]:
    walls = Wall.objects.filter(job__in={job for job, _ in day.steps}).values_list("job", "key", "name")
    named = {(job, key): name for job, key, name in walls}
    today, calendar = read.desk.today, read.desk.calendar
    return [
        OwnStep(
            job,
            step,
            named.get((job.pk, step.wall), ""),
            step_url(step),
            _DO.get(step.kind, "Open"),
            None if step.by is None else days_in_hand(today, step.by, calendar),
        )
        for job, step in day.steps
    ]


def step_url(step: NextStep) -> str:
    """Where it is done: a wall's field check, the register of templates, or the item that waits."""
    if step.kind == "template":
        return f"{reverse('templates', args=[step.job])}?{urlencode({'for': f'{step.wall}|{step.run}'})}#enter"
    if step.wall:
        return reverse("field_check", args=[step.job, step.wall])
    return reverse("job_order_dates", args=[step.job])


def _crew(site: SiteDay | None) -> str:
    return " and ".join(name.split()[0] for name in site.crew[:2]) if site else ""


def _days(line: WeekLine, today: date) -> str:
    """Mon to Thu; a day of another week with its date."""
    first, last = kept_words(line.first_day).split()[0], day_words(line.last_day)
    if (line.last_day - today).days <= 6 - today.weekday():
        last = last.split()[0]
    return first if line.first_day == line.last_day else f"{first} to {last}"
