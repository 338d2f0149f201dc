"""Two people check in one delivery at the same moment: it is kept once, and the other is told. With the control."""

import threading
from functools import partial

import pytest

from catalog.core.ground.refusal import Refused
from jobs.deliveries.models import Delivery, ReceiptLine
from jobs.deliveries.services import receiving
from jobs.deliveries.services.receiving import check_in
from jobs.orders.models import Order, OrderLine
from tests.support.childcare import NOW, SIGNED, delivery_document, trim_on_order
from tests.support.racing import ROUNDS, at_once

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.faults, pytest.mark.postgresql]


@pytest.fixture
def line(db):
    return trim_on_order()


def another(line, turn):
    """The order once more for each round, as placed as the first."""
    order, copy = Order.objects.get(pk=line.order_id), OrderLine.objects.get(pk=line.pk)
    order.pk, order._state.adding, order.number, order.request_key = None, True, f"R-{turn}", f"round {turn}"
    order.save()
    copy.pk, copy._state.adding, copy.order = None, True, order
    copy.save()
    return order


def from_phone(order, key):
    return check_in(order, delivery_document(request_key=key), SIGNED, now=NOW)


def gave(order, *keys):
    return at_once(*(partial(from_phone, order, key) for key in keys))


def test_of_two_phones_one_checks_in_and_the_other_is_told(line):
    for turn in range(ROUNDS):
        order = another(line, turn)
        test = gave(order, f"a{turn}", f"b{turn}")
        refused = [isinstance(entry, Refused) for entry in test]
        assert sorted(refused) == [False, True], test
        assert Delivery.objects.filter(order=order).count() == 1


def test_one_phone_that_sends_twice_at_once_is_kept_once(line):
    for turn in range(ROUNDS):
        order = another(line, turn)
        result = gave(order, f"same{turn}", f"same{turn}")
        assert sorted(is_new for _, is_new in result) == [False, True], result
        assert ReceiptLine.objects.filter(delivery__order=order).count() == 1


def test_without_the_order_held_both_are_kept(line, monkeypatch):
    """The control: look, then write, with nobody waiting for anybody."""
    meeting = threading.Barrier(2)

    def careless(order_id):
        return Order.objects.select_related("supplier").get(pk=order_id)

    def seen_together(order, seen, look=receiving._refuse_unseen):
        look(order, seen)
        meeting.wait(20)

    monkeypatch.setattr(receiving, "held_order", careless)
    monkeypatch.setattr(receiving, "_refuse_unseen", seen_together)
    order = another(line, "control")
    assert [is_new for _, is_new in gave(order, "a", "b")] == [True, True]
    assert Delivery.objects.filter(order=order).count() == 2
