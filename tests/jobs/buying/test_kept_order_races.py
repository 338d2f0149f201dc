"""Two jobs on one order, and a fact of each written at once: the order's row has both. With the row not held, one is
lost: the control."""

import threading
from datetime import UTC, date, datetime

import pytest

from catalog.models import Material
from jobs.buying.models import KeptOrder
from jobs.buying.services import kept_orders
from jobs.buying.services.kept_orders import orders_astray
from jobs.deliveries.services.promises import add_promise
from jobs.jobs.models import Job
from jobs.jobs.services.open_jobs import close_job, reopen_job
from jobs.orders.models import OrderLine, Promise
from quoting.platform.people.signatures import Signature
from tests.factories.orders import BY, DAY, MARK, NOON, placed_order
from tests.stored import stored_job
from tests.support.racing import ROUNDS, at_once
from tests.support.racing import emptied as emptied

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.faults, pytest.mark.postgresql]
NOW = datetime(2026, 11, 25, 15, tzinfo=UTC)
SIGNED = Signature("I. Quarrell", date(2026, 11, 25))
LATE = date(2027, 1, 28)


@pytest.fixture
def lines(emptied, frozen_clock):
    """The second line is promised after the day its job needs it."""
    frozen_clock.move_to(NOW)
    first, second = stored_job("larkmoor-dental"), stored_job("ashgrove-library")
    material = Material.objects.exclude(supplier=None).first()
    line = placed_order(first, material, material.supplier)
    more = {"what": material.name, "quantity": 9, "unit": "pieces", "statement_mark": MARK}
    days = {"need_by": date(2026, 12, 1), "promised_on": LATE}
    other = OrderLine.objects.create(order=line.order, place=2, job=second, material=material, **more, **days)
    Promise.objects.create(line=other, promised_on=LATE, told_on=DAY, entered_at=NOON, entered_by_name=BY)
    return line, other


def both_write(lines, turn):
    """The office enters a day for one line while the other line's job is closed."""
    line, other = lines
    day = {"promised_on": f"2027-01-{11 + turn}", "reason": "full", "told_on": "2026-11-25"}
    job = Job.objects.get(pk=other.job_id)
    steps = [lambda: add_promise(line, day, SIGNED, now=NOW), lambda: close_job(job, SIGNED.on)]
    assert not [exception for exception in at_once(*steps) if isinstance(exception, Exception)]


def test_the_row_has_both(lines):
    for turn in range(min(ROUNDS, 17)):
        both_write(lines, turn)
        assert orders_astray() == []
        reopen_job(Job.objects.get(pk=lines[1].job_id))
        assert orders_astray() == []


def test_without_the_row_held_one_is_lost(lines, monkeypatch):
    kept_orders.keep_orders([lines[0].order_id])
    meeting, read = threading.Barrier(2), kept_orders.known_orders

    def read_together(order_ids):
        orders = read(order_ids)
        meeting.wait(20)
        return orders

    monkeypatch.setattr(kept_orders, "_held", lambda order_ids: list(KeptOrder.objects.filter(pk__in=order_ids)))
    monkeypatch.setattr(kept_orders, "known_orders", read_together)
    both_write(lines, 0)
    monkeypatch.undo()
    assert orders_astray() != []
