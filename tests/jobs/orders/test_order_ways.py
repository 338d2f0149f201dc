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
    [found] = ways_of(work_of(Job.objects.get(), book_of(), moment.date(), moment.time()), moment)
    return found


def test_in_time_it_has_its_three_ways_and_needs_no_remedy():
    found = ways_on(9)
    assert [one.way for one in found.choices] == ["now", "wait", "rush"] and found.remedies == ()
    assert found.choices[0].late_workdays == 0 and found.choices[0].fit in ("fits", "may_miss", "not_known")


def test_late_it_has_at_least_three_remedies_with_days():
    found = ways_on(16)
    assert (found.choices[0].usable, found.choices[0].late_workdays) == (date(2027, 1, 29), 4)
    assert len([one for one in found.remedies if one.usable is not None]) >= 3
    rush = next(one for one in found.remedies if one.kind == "rush")
    assert rush.usable is None and rush.cost is None and rush.gaps
