"""Two who enter the same item at the same moment: it is one, and neither meets an error. With the job not held, one of
them does: the control."""

import threading

import pytest
from django.db import IntegrityError

from jobs.finish.models import FinishItem
from jobs.finish.services import finish_list
from quoting.platform.people.signatures import Signature
from tests.stored import stored_job
from tests.support.desk import DAY
from tests.support.racing import ROUNDS, at_once

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.faults, pytest.mark.postgresql]


@pytest.fixture
def add(make_person):
    job, signature = stored_job("larkmoor-dental"), Signature("Ines Quarrell", DAY.date())
    make_person("estimator", "mender")
    entry = {"request_key": "one", "what": "Dent", "who": "mender", "due": DAY.date().isoformat()}
    return lambda: finish_list.add_item(job, entry, signature, now=DAY)


def test_two_who_enter_it_at_the_same_second_make_one(add):
    for _ in range(ROUNDS):
        gave = at_once(add, add)
        assert sorted(is_new for _, is_new in gave) == [False, True]
        FinishItem.objects.all().delete()


def test_without_the_job_held_one_of_them_meets_an_error(add, monkeypatch):
    meeting = threading.Barrier(2)

    def made_together(*args, **columns):
        meeting.wait(20)
        return made(*args, **columns)

    made = finish_list._made
    monkeypatch.setattr(finish_list, "_held", lambda job: job)
    monkeypatch.setattr(finish_list, "_made", made_together)
    gave = at_once(add, add)
    assert sum(isinstance(entry, IntegrityError) for entry in gave) == 1
