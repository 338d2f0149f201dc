"""Two orders for one item at the same moment: one is made, the other is told. With the rows of the jobs not held, both
are made: the control."""

import threading

import pytest

from catalog.core.ground.refusal import Refused
from catalog.models import Supplier
from jobs.jobs.models import Job
from jobs.orders.models import Order
from jobs.orders.services import drafting
from tests.jobs.orders.test_orders import BASE, BY, MOMENT
from tests.stored import stored_job
from tests.support.racing import ROUNDS, at_once

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.faults, pytest.mark.postgresql]


@pytest.fixture
def drafted(db):
    job = stored_job("larkmoor-dental")
    mill = Supplier.objects.get(code="HENNOCK")

    def draft(key):
        return lambda: drafting.draft_order(mill, [(job.pk, BASE)], request_key=key, moment=MOMENT, **BY)

    return draft


def test_two_orders_at_the_same_second_do_not_double(drafted):
    for turn in range(ROUNDS):
        gave = at_once(drafted(f"{turn} a"), drafted(f"{turn} b"))
        assert sorted(type(entry).__name__ for entry in gave) == ["Order", "Refused"]
        Order.objects.all().delete()


def test_the_same_request_at_the_same_second_is_one_order(drafted):
    first, second = at_once(drafted("one"), drafted("one"))
    assert first == second and Order.objects.count() == 1


def test_without_the_jobs_held_both_are_made(drafted, monkeypatch):
    meeting = threading.Barrier(2)

    def not_held(job_ids):
        return list(Job.objects.filter(pk__in=list(job_ids)))

    looked = drafting._left_of_all

    def looked_together(*items):
        left = looked(*items)
        meeting.wait(20)
        return left

    monkeypatch.setattr(drafting, "_held_jobs", not_held)
    monkeypatch.setattr(drafting, "_left_of_all", looked_together)
    gave = at_once(drafted("a"), drafted("b"))
    assert not any(isinstance(entry, Refused) for entry in gave) and Order.objects.count() == 2
