"""The first days on which more people are wanted than there are, and the first person wanted twice, for Today.

Of all days of all jobs no more is read than says that; the page of clashes reads them all (`planned_days.py`).
"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from itertools import count

from django.db.models import Count, Q, QuerySet, Sum

from catalog.core.ground.workdays import WorkCalendar
from catalog.services.book import standards_of
from jobs.core.schedule import people
from jobs.core.schedule.crew_clashes import CrewClash, CrewDays, crew_clashes
from jobs.core.schedule.people import NamedDays, folded_name, name_clashes
from jobs.schedule.models import NamedPerson, PlannedActivityDays

AT_ONCE = 300


@dataclass(frozen=True)
class NamedTwice:
    """Somebody wanted by so many jobs at once, from that day."""

    name: str
    first_day: date
    jobs: int


def first_crew_clash(today: date, until: date, firm: WorkCalendar) -> CrewClash | None:
    """Of activities that begin by then; without its parts. The database adds up who is wanted on the same days."""
    fact = standards_of().fact("people_on_site")
    if fact is None:
        return None
    rows = PlannedActivityDays.objects.filter(job__closed_on=None, last_day__gte=today, first_day__lte=until)
    wanted = rows.order_by().values_list("first_day", "last_day").annotate(Sum("people"))
    return next(iter(crew_clashes([CrewDays("", "", *entry) for entry in wanted], firm, int(fact.value), today)), None)


def first_named_twice(today: date, until: date, firm: WorkCalendar) -> NamedTwice | None:
    """Whoever of them comes first by name."""
    named = NamedPerson.objects.filter(job__closed_on=None)
    jobs, spelled = defaultdict[str, int](int), defaultdict[str, list[str]](list)
    for name, of_jobs in named.order_by().values_list("name").annotate(Count("job", distinct=True)):
        jobs[folded_name(name)] += of_jobs
        spelled[folded_name(name)].append(name)
    of_several = [name for text, of_jobs in jobs.items() if of_jobs > 1 for name in spelled[text]]
    if not of_several:
        return None
    named = named.filter(name__in=of_several)
    day = _first_day(_working(named, today, until), today, firm)
    return None if day is None else _who(named, day)


def _working(named: QuerySet[NamedPerson], first: date, last: date) -> QuerySet[NamedPerson]:
    """With each stretch of planned days of their jobs that lies within these days or reaches into them."""
    # Both of one stretch: asked one after the other they would be of any two.
    return named.filter(job__planned_days__last_day__gte=first, job__planned_days__first_day__lte=last)


def _first_day(wanted: QuerySet[NamedPerson], today: date, firm: WorkCalendar) -> date | None:
    """Some at a time, by their first day: what begins later clashes no earlier."""
    worked = ("job__planned_days__first_day", "job__planned_days__last_day")
    rows = wanted.order_by(worked[0], "job__planned_days__pk", "pk")
    columns, days = rows.values_list("name", "first_day", "last_day", "job__key", *worked), list[NamedDays]()
    for start in count(step=AT_ONCE):
        some = list(columns[start : start + AT_ONCE])
        days += [day for row in some for day in _named_days(*row)]
        clash = next(iter(name_clashes(days, firm, today)), None)
        if len(some) < AT_ONCE or (clash and clash.first_day <= firm.on_or_after(max(some[-1][4], today))):
            break
    return clash.first_day if clash else None


def _named_days(
    name: str, first: date | None, last: date | None, job: str, worked_from: date, worked_to: date
) -> Iterable[NamedDays]:
    return people.named_days(job, [people.NamedPerson(name, "crew", first, last)], [(worked_from, worked_to)])


def _who(named: QuerySet[NamedPerson], day: date) -> NamedTwice | None:
    there = named.filter(Q(first_day=None) | Q(first_day__lte=day), Q(last_day=None) | Q(last_day__gte=day))
    rows = _working(there, day, day).order_by().values_list("name", "job").distinct()
    jobs, names = defaultdict[str, set[int]](set), dict[str, str]()
    for name, job in rows:
        jobs[folded_name(name)].add(job)
        names[folded_name(name)] = name
    pairs = sorted((names[text], len(ids)) for text, ids in jobs.items() if len(ids) > 1)
    return NamedTwice(pairs[0][0], day, pairs[0][1]) if pairs else None
