"""Closing against writing: each row is in the month's snapshot or in the next month. Threads on PostgreSQL; the control
is the same with the lock and the triggers taken away."""

import threading
from datetime import date
from functools import partial

import pytest
from django.db import IntegrityError, connection

from catalog.core.ground.refusal import Refused
from jobs.bills.services.entering import enter_bill
from quoting.core.money.month import next_month
from quoting.month.models import OverheadActual
from quoting.month.services.closing import last_closed
from quoting.month.services.snapshots import snapshot_of
from quoting.platform import posting
from quoting.platform.immutable_tables import thaw
from tests.support.months import OWNER, close, overhead
from tests.support.racing import ROUNDS, at_once, emptied
from tests.support.worked import NOW, small_job

__all__ = ["emptied"]
pytestmark = [
    pytest.mark.django_db(transaction=True),
    pytest.mark.faults,
    pytest.mark.postgresql,
    pytest.mark.usefixtures("emptied"),
]
MONTHS = [date(2000 + turn // 12, turn % 12 + 1, 1) for turn in range(240)]


@pytest.fixture(autouse=True)
def firm(db):
    return small_job()


def is_in(closed, row):
    return str(row.pk) in snapshot_of(closed)["rows"]["quoting_overheadactual"]


def test_a_row_is_in_the_snapshot_or_in_the_next_month():
    overhead("2000-01-02")
    for month in MONTHS[:ROUNDS]:
        writers = [partial(overhead, f"{month:%Y-%m}-14", key=f"{month} {writer}") for writer in range(3)]
        closed, *rows = at_once(partial(close, f"{month:%Y-%m}"), *writers)
        for row in rows:
            assert row.posted_month == (month if is_in(closed, row) else next_month(month))


def bill(month, writer):
    amount = {"category": "other", "what": "Goods", "amount": "5.00", "job": "J-0100"}
    about = {"request_key": f"bill {month} {writer}", "shop": "Shop", "number": f"{month} {writer}", "total": "5.00"}
    return enter_bill({**about, "day": f"{month:%Y-%m}-14", "lines": [amount]}, OWNER, now=NOW)[0]


def test_a_bill_is_in_the_snapshot_or_in_the_next_month():
    overhead("2000-01-02")
    for month in MONTHS[:ROUNDS]:
        closed, *rows = at_once(
            partial(close, f"{month:%Y-%m}"), *[partial(bill, month, number) for number in range(3)]
        )
        stored = snapshot_of(closed)["rows"]["jobs_bill"]
        assert [row.posted_month for row in rows] == [
            month if str(row.pk) in stored else next_month(month) for row in rows
        ]


def test_of_two_who_close_a_month_one_is_told():
    overhead("2000-01-02")
    for month in MONTHS[:ROUNDS]:
        gave = at_once(*[partial(close, f"{month:%Y-%m}")] * 2)
        assert sorted(type(entry).__name__ for entry in gave) == ["ClosedMonth", "Refused"]
        assert isinstance(next(exception for exception in gave if isinstance(exception, Exception)), Refused)


def late(monkeypatch):
    """The month is looked up, then closed by another, then the row is written: what each gave."""
    looked, closed = threading.Event(), threading.Event()

    def careless():
        day = last_closed()
        looked.set()
        closed.wait(20)
        return day and next_month(day)

    def closing():
        looked.wait(20)
        try:
            return close("2000-01")
        finally:
            closed.set()

    monkeypatch.setattr(posting, "_readers", [careless])
    return at_once(closing, partial(overhead, "2000-01-14", key="late"))


def test_without_the_lock_the_triggers_refuse_the_row(monkeypatch):
    overhead("2000-01-02")
    _, gave = late(monkeypatch)
    assert isinstance(gave, IntegrityError) and "its month is closed" in str(gave)


def test_without_both_a_row_of_the_closed_month_is_in_no_snapshot(monkeypatch):
    overhead("2000-01-02")
    thaw(connection)
    closed, row = late(monkeypatch)
    assert OverheadActual.objects.get(pk=row.pk).posted_month == closed.month
    assert not is_in(closed, row), "the control: the race is real"
