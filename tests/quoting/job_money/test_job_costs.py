"""Cost, bridge and earned share gathered from the rows of jobs."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from quoting.job_money.services.job_costs import job_costs_of, money_of
from tests.factories.bills import bill_line, bill_row
from tests.factories.hours import time_entry, worker
from tests.support.hall import CAME, Hall
from tests.support.signing import sign

pytestmark = pytest.mark.django_db
D = Decimal
TODAY = date(2026, 10, 5)


@pytest.fixture
def hall():
    return Hall()


def test_a_job_nobody_accepted_has_no_cost_to_hold_against_a_contract(hall):
    assert job_costs_of([hall.job.pk], TODAY) == {}


def test_goods_that_came_and_goods_on_order_stand_in_the_cost_of_their_job(hall):
    sign(hall.job)
    costs = job_costs_of([hall.job.pk], TODAY)[hall.job.pk]
    # 558.00 + 742.50 + 458.40 + 8 x 218.00 of goods, 73.28 + 85.00 of freight.
    assert (costs.to_date, costs.received_not_billed) == (D("3661.18"), D("3661.18"))
    # 16 boards 305.60, freight 35.00, niche 352.00, painter 1,900.00; the base comes again at 0.00.
    assert costs.committed == D("2592.60")


def test_a_bill_takes_the_place_of_what_was_received(hall):
    sign(hall.job)
    line = hall.lines["TRACK"]
    bill_line(bill_row("A-771"), hall.job, "570.00", "12", order_line=line, item="TRACK")
    costs = job_costs_of([hall.job.pk], TODAY)[hall.job.pk]
    assert (costs.of("billed"), costs.received_not_billed) == (D("570.00"), D("3103.18"))


def test_what_happened_after_a_day_is_left_out_until_it(hall):
    sign(hall.job)
    line, day = hall.lines["TRACK"], CAME + timedelta(days=7)
    bill_line(bill_row("A-771", day=day, posted_month=date(2026, 10, 1)), hall.job, "570.00", "12", order_line=line)
    time_entry(worker(), hall.job, 60, day)
    amounts = [job_costs_of([hall.job.pk], TODAY, until)[hall.job.pk].to_date for until in (CAME, day)]
    # 570.00 for 558.00, and an hour at 48.00.
    assert amounts == [D("3661.18"), D("3721.18")]


def test_goods_that_stand_for_damaged_ones_are_rework(hall):
    sign(hall.job)
    rework = [part for part in job_costs_of([hall.job.pk], TODAY)[hall.job.pk].parts if part.cause == "rework"]
    assert [(part.stage, part.amount) for part in rework] == [("committed", D("35.00")), ("committed", D("0.00"))]


@pytest.mark.both_engines
def test_many_jobs_take_as_few_queries_as_one(hall):
    sign(hall.job)
    sign(hall.other)
    money_of([hall.job.pk, hall.other.pk], TODAY)

    def asked(jobs):
        with CaptureQueriesContext(connection) as result:
            money_of(jobs, TODAY)
        return len(result)

    assert asked([hall.job.pk, hall.other.pk]) == asked([hall.job.pk]) < 80
