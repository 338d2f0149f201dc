"""When to order and what helps, on the base of the dental screen. Ordered on 16 December it is usable on 29 January, 4
working days late; on 9 December it is in time (worked examples)."""

from datetime import UTC, date, datetime

import pytest

from catalog.services.book import book_of
from jobs.jobs.models import Job
from jobs.orders.services.ways import ways_of
from jobs.work_up.services.job_work_up import work_of
from tests.stored import stored_job

pytestmark = pytest.mark.django_db


def ways_on(day: int):
    stored_job("larkmoor-dental") if not Job.objects.exists() else None
    moment = datetime(2026, 12, day, 10, 0, tzinfo=UTC)
    [way] = ways_of(work_of(Job.objects.get(), book_of(), moment.date(), moment.time()), moment)
    return way


def test_in_time_it_has_its_three_ways_and_needs_no_remedy():
    test = ways_on(9)
    assert [choice.way for choice in test.choices] == ["now", "wait", "rush"] and test.remedies == ()
    assert test.choices[0].late_workdays == 0 and test.choices[0].fit in ("fits", "may_miss", "not_known")


def test_late_it_has_at_least_three_remedies_with_days():
    days = ways_on(16)
    assert (days.choices[0].usable, days.choices[0].late_workdays) == (date(2027, 1, 29), 4)
    assert len([remedy for remedy in days.remedies if remedy.usable is not None]) >= 3
    rush = next(remedy for remedy in days.remedies if remedy.kind == "rush")
    assert rush.usable is None and rush.cost is None and rush.gaps
