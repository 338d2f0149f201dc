"""The owner's Today beside open jobs: a month to be closed, and closed jobs that have still to pay.

October 2026 begins on a Thursday: its third working day is Mon 5 Oct.
"""

from datetime import UTC, date, datetime
from decimal import Decimal as D

import pytest
from django.urls import reverse

from catalog.models import Closure
from jobs.jobs.services.open_jobs import close_job
from quoting.payment_requests.services.payments_received import enter_payment
from tests.factories.bills import bill_row
from tests.factories.hours import time_entry, worker
from tests.support.asked import OWNER, asked, hall
from tests.support.desk import as_, queries_of
from tests.support.months import close
from tests.support.worked import NOW, small_job

__all__ = ["as_"]
pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]


def rows_of(client):
    context = client.get(reverse("today")).context
    return {row.todo.text: row for row in (*context["near"], *context["soon"])}


def on(frozen_clock, day):
    frozen_clock.move_to(datetime(2026, 10, day, 12, tzinfo=UTC))


@pytest.fixture
def september(frozen_clock):
    """Hours of one worker on the 1st alone, who leaves on the 3rd; and a draft."""
    on(frozen_clock, 5)
    job, who = small_job(), worker(first_day=date(2026, 9, 1), last_day=date(2026, 9, 3))
    time_entry(who, job, 60, date(2026, 9, 1))
    bill_row("D-1", entered_at=None, entered_by_name="", posted_month=None, day=date(2026, 9, 9), total=D("31.00"))
    return job


def test_the_owner_closes_a_month_from_the_third_working_day_of_the_next(as_, september, frozen_clock):
    owner = as_("owner")
    row = rows_of(owner)["Close September"]
    # Wed 2 and Thu 3 Sep without hours, and the draft.
    assert (row.url, row.why) == ("/month/2026-09/", "3 entries of hours or bills are missing.")
    assert (row.todo.in_hand, row.todo.do) == (0, "Open the month")
    on(frozen_clock, 2)
    assert "Close September" not in rows_of(owner)


def test_a_month_not_closed_on_its_day_is_late_and_gone_once_closed(as_, september, frozen_clock):
    on(frozen_clock, 7)
    owner = as_("owner")
    assert rows_of(owner)["Close September"].todo.in_hand == -2
    close("2026-09")
    assert not any(text.startswith("Close") for text in rows_of(owner))


def test_a_day_the_firm_is_shut_is_no_working_day_though_no_job_is_open(as_, september, frozen_clock):
    Closure.objects.create(first_day=date(2026, 10, 1), last_day=date(2026, 10, 1), reason="Shut")
    close_job(september, date(2026, 10, 1))
    owner = as_("owner")
    # Fri 2, Mon 5 and Tue 6 Oct.
    assert "Close September" not in rows_of(owner)
    on(frozen_clock, 6)
    assert rows_of(owner)["Close September"].todo.in_hand == 0


def test_nobody_else_is_asked_to_close_a_month(as_, september):
    for role in ("office", "estimator"):
        assert "Close September" not in rows_of(as_(role))


def test_a_month_to_close_takes_three_queries_more_than_none(as_, september):
    owner = as_("owner")
    due = queries_of(owner, reverse("today"))
    close("2026-09")
    # Of hours and drafts, and of the first month while none is closed.
    assert due - queries_of(owner, reverse("today")) <= 3


@pytest.fixture
def owed(frozen_clock):
    """Deposit of 5,325.90 asked for on Wed 25 Nov, due on Wed 9 Dec; the job is closed."""
    frozen_clock.move_to(NOW)
    job = hall()
    asked(job, "deposit")
    close_job(job, OWNER.on)
    frozen_clock.move_to(NOW.replace(month=12, day=11))
    return job


def pay(job, amount):
    enter_payment(job, {"request_key": amount, "amount": amount, "received_on": "2026-11-25"}, OWNER, now=NOW)


COLLECT = "Collect request 1: Deposit"


def test_what_a_closed_job_has_still_to_pay_stands_with_the_days_it_is_overdue(as_, owed):
    for role in ("owner", "office"):
        row = rows_of(as_(role))[COLLECT]
        # Thu 10 and Fri 11 Dec.
        assert (row.todo.in_hand, row.todo.amount) == (-2, D("5325.90"))
        assert row.url == reverse("since_signed", args=[owed.pk])
    assert COLLECT not in rows_of(as_("estimator"))


def test_what_is_paid_in_part_is_collected_for_the_rest_and_no_more_once_paid(as_, owed):
    owner = as_("owner")
    pay(owed, "5000.00")
    assert rows_of(owner)[COLLECT].todo.amount == D("325.90")
    pay(owed, "325.90")
    assert COLLECT not in rows_of(owner)


def test_more_closed_jobs_with_open_requests_take_no_more_queries(as_, owed):
    owner = as_("owner")
    few = queries_of(owner, reverse("today"))
    other = hall("J-0200")
    asked(other, "deposit")
    close_job(other, OWNER.on)
    assert queries_of(owner, reverse("today")) <= few
