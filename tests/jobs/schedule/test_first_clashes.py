"""What Today says first of clashes is what the page of them says first, whatever is planned."""

import random
from datetime import date, timedelta

import pytest

from catalog.services.book import firm_of
from jobs.jobs.models import Job
from jobs.schedule.models import NamedPerson, PlannedActivityDays
from jobs.schedule.services import first_clashes
from jobs.schedule.services.first_clashes import first_crew_clash, first_named_twice
from jobs.schedule.services.planned_days import crew_days_ahead
from tests.stored import stored_job, stored_jobs

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
TODAY, DAYS = date(2026, 11, 25), 42
NAMES = ("Teodor Brask", "teodor  brask", "Ines Quarrell", "Ode Farr")


def planned(seed):
    chance = random.Random(seed)

    def stretch():
        first = TODAY + timedelta(days=chance.randrange(-9, DAYS))
        return {"first_day": first, "last_day": first + timedelta(days=chance.randrange(9))}

    for job in Job.objects.all():
        for number in range(chance.randrange(4)):
            key = f"activity-{number}"
            PlannedActivityDays.objects.create(job=job, key=key, name=key, people=chance.randrange(1, 3), **stretch())
        for name in chance.sample(NAMES, chance.randrange(4)):
            NamedPerson.objects.create(job=job, name=name, **(stretch() if chance.random() < 0.5 else {}))


def said():
    until, firm = TODAY + timedelta(days=DAYS), firm_of().calendar
    crew, named = first_crew_clash(TODAY, until, firm), first_named_twice(TODAY, until, firm)
    return crew and (crew.first_day, crew.wanted), named and (named.first_day, named.jobs)


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("at_once", [1, 300])
def test_today_says_first_what_the_page_of_clashes_says_first(frozen_clock, monkeypatch, seed, at_once):
    stored_jobs()
    planned(seed)
    monkeypatch.setattr(first_clashes, "AT_ONCE", at_once)
    ahead = crew_days_ahead(TODAY, DAYS)
    crew, named = next(iter(ahead.clashes), None), next(iter(ahead.named), None)
    assert said() == (crew and (crew.first_day, crew.wanted), named and (named.first_day, len(named.jobs)))


def test_who_is_named_to_one_job_alone_is_not_asked_for_day_by_day(frozen_clock, django_assert_num_queries):
    job = stored_job("larkmoor-dental")
    NamedPerson.objects.create(job=job, name="Teodor Brask", part="lead")
    firm = firm_of().calendar
    with django_assert_num_queries(1):
        assert first_named_twice(TODAY, TODAY + timedelta(days=DAYS), firm) is None
