"""Two who begin one activity at the same moment: it began once, and neither meets an error. With the job not held, one
of them does: the control."""

import threading

import pytest
from django.db import IntegrityError

from jobs.schedule.models import ActualDays
from jobs.schedule.services import actual_days
from quoting.platform.people.signatures import Signature
from tests.stored import stored_job
from tests.support.desk import DAY
from tests.support.racing import ROUNDS, at_once

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.faults, pytest.mark.postgresql]


@pytest.fixture
def begin(db):
    job, signature = stored_job("larkmoor-dental"), Signature("Ines Quarrell", DAY.date())
    return lambda: actual_days.begin_activity(job, "framing", signature)


def test_two_begins_at_the_same_second_are_one(begin):
    for _ in range(ROUNDS):
        gave = at_once(begin, begin)
        assert sorted(is_new for _, is_new in gave) == [False, True]
        ActualDays.objects.all().delete()


def test_without_the_job_held_one_of_them_meets_an_error(begin, monkeypatch):
    meeting = threading.Barrier(2)

    def not_held(job, key):
        row = ActualDays.objects.filter(job=job, key=key).first()
        meeting.wait(20)
        return job, row

    monkeypatch.setattr(actual_days, "_held", not_held)
    gave = at_once(begin, begin)
    assert sum(isinstance(entry, IntegrityError) for entry in gave) == 1
