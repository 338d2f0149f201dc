"""The last stick asked for by two jobs at the same moment: one gets it. With its row not held, both do: the control."""

import threading

import pytest

from catalog.core.ground.refusal import Refused
from jobs.jobs.models import Job
from jobs.stock.models import Stock
from jobs.stock.services import stock
from jobs.whole_jobs.services.job_entries import import_job
from tests.stored import stored_job
from tests.support.desk import DAY
from tests.support.racing import ROUNDS, at_once

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.faults, pytest.mark.postgresql]


@pytest.fixture
def jobs(db):
    first = stored_job("larkmoor-dental")
    return [first, import_job({"client": {"name": "C"}, "job": {"key": "J-B", "title": "B"}}, now=DAY)]


def both_ask(jobs):
    stud = jobs[0].walls.get().stud
    row = stock.enter_stock({"material": stud.code, "length": "8 ft", "count": 1})
    asks = [lambda job=job: stock.set_aside(row.pk, Job.objects.get(pk=job.pk), 1, by="I. Quarrell") for job in jobs]
    return at_once(*asks)


def test_the_last_stick_is_set_aside_for_one_job(jobs):
    for _ in range(ROUNDS):
        gave = both_ask(jobs)
        assert sorted(type(entry).__name__ for entry in gave) == ["Refused", "Stock"]
        assert sum(row.count for row in Stock.objects.all()) == 1
        Stock.objects.all().delete()


def test_without_its_row_held_both_get_it(jobs, monkeypatch):
    meeting = threading.Barrier(2)

    def not_held(stock_id):
        row = Stock.objects.get(pk=stock_id)
        meeting.wait(20)
        return row

    monkeypatch.setattr(stock, "held_stock", not_held)
    gave = both_ask(jobs)
    assert not any(isinstance(entry, Refused) for entry in gave)
    assert sum(row.count for row in Stock.objects.all()) == 2
