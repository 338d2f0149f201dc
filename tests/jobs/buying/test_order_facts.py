"""What to ask suppliers next, from rows. A working day or two by hand: placed on Tuesday 24 November 2026."""

from datetime import date

import pytest

from catalog.core.ground.workdays import WorkCalendar
from catalog.models import Material
from jobs.buying.services.expediting_facts import to_ask
from jobs.deliveries.models import Confirmation, Delivery, ReceiptLine
from jobs.orders.models import OrderLine, Promise
from tests.factories.orders import BY, DAY, NOON, placed_order

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
SHOP = WorkCalendar("shop")


@pytest.fixture
def line(small_job):
    material = Material.objects.exclude(supplier=None).first()
    return placed_order(small_job, material, material.supplier)


def kinds(day):
    return [chase.kind for chase in to_ask(day, SHOP).chases]


def entered(**more):
    return {"entered_at": NOON, "entered_by_name": BY} | more


def test_an_order_not_confirmed_is_asked_after_from_the_second_working_day(line):
    assert kinds(date(2026, 11, 25)) == []
    [chase] = to_ask(date(2026, 11, 26), SHOP).chases
    assert (chase.kind, chase.since, chase.who) == ("confirm", date(2026, 11, 26), "the office")


def test_a_confirmed_order_is_asked_after_by_the_day_it_was_promised(line):
    Confirmation.objects.create(order=line.order, request_key="c", received_on=DAY, **entered())
    Promise.objects.create(line=line, promised_on=date(2026, 12, 8), told_on=DAY, **entered())
    OrderLine.objects.filter(pk=line.pk).update(promised_on=date(2026, 12, 8))
    assert kinds(date(2026, 11, 27)) == []
    assert kinds(date(2026, 12, 3)) == ["ship_check"]
    assert kinds(date(2026, 12, 9)) == ["promise_passed"]


def test_what_came_damaged_is_claimed_although_the_order_is_complete(line):
    came = Delivery.objects.create(order=line.order, request_key="d", received_on=DAY, **entered())
    receipt = {"good": 9, "damaged": 1, "actual_workdays": 5, "claim_by": date(2026, 12, 1)}
    row = ReceiptLine.objects.create(delivery=came, line=line, **receipt)
    [chase] = to_ask(date(2026, 11, 30), SHOP).chases
    assert chase.kind == "claim" and "1 damaged" in chase.action and "Tue 1 Dec 2026" in chase.action
    ReceiptLine.objects.filter(pk=row.pk).update(claimed_on=date(2026, 11, 30), claimed_by_name=BY)
    assert kinds(date(2026, 11, 30)) == []


def test_an_order_confirmed_before_it_was_placed_is_named_and_silences_no_other(line):
    other = placed_order(line.job, line.material, line.order.supplier)
    Confirmation.objects.create(order=line.order, request_key="c", received_on=date(2026, 11, 2), **entered())
    ask = to_ask(date(2026, 11, 26), SHOP)
    assert [chase.order for chase in ask.chases] == [other.order.number]
    assert line.order.number in ask.bad[0]
