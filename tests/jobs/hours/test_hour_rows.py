"""Hours of jobs as plain rows, and what the database itself refuses."""

from datetime import UTC, date, datetime
from decimal import Decimal

import pytest
from django.db import IntegrityError, connection, transaction
from django.test.utils import CaptureQueriesContext

from jobs.hours.services import steps
from jobs.hours.services.hour_rows import hour_rows_of, hours_left_of
from tests.factories.hours import hours_left, time_entry, worker

pytestmark = pytest.mark.both_engines
MAY, JUNE = date(2026, 5, 1), date(2026, 6, 1)


def test_a_row_has_its_step_rate_and_tag_and_voided_ones_are_left_out(small_job):
    sam = worker()
    time_entry(sam, small_job, 90, step="boards", tag="rework")
    gone = datetime(2026, 10, 2, tzinfo=UTC)
    time_entry(sam, small_job, 60, voided_at=gone, voided_by_name="L. Lead", void_reason="Another job")
    (row,) = hour_rows_of([small_job.pk])[small_job.pk]
    assert (row.worker, row.step, row.minutes, row.tag, row.cost) == ("Sam Orrin", "boards", 90, "rework", 72)


def test_what_counts_in_a_later_month_is_not_among_the_rows_of_the_earlier(small_job):
    sam = worker()
    time_entry(sam, small_job, 60, MAY)
    time_entry(sam, small_job, 30, date(2026, 5, 28), posted_month=JUNE)
    numbers = [
        sum(row.minutes for row in hour_rows_of([small_job.pk], until)[small_job.pk])
        for until in (date(2026, 5, 31), date(2026, 6, 30), None)
    ]
    assert numbers == [60, 90, 90]


def test_the_newest_of_a_step_is_what_is_left(small_job):
    hours_left(small_job, "boards", 600, MAY)
    hours_left(small_job, "boards", 120, JUNE)
    hours_left(small_job, "framing", 0, MAY, is_done=True)
    pairs = {left.step: (left.minutes, left.is_done) for left in hours_left_of([small_job.pk])[small_job.pk]}
    assert pairs == {"boards": (120, False), "framing": (0, True)}
    assert hours_left_of([small_job.pk], date(2026, 5, 31))[small_job.pk][0].minutes == 600


def test_rows_of_many_jobs_take_two_queries(small_job):
    time_entry(worker(), small_job, 60)
    with CaptureQueriesContext(connection) as wanted:
        hour_rows_of([small_job.pk, small_job.pk + 1])
        hours_left_of([small_job.pk, small_job.pk + 1])
    assert len(wanted) == 2


@pytest.mark.parametrize(
    "wrong",
    [
        {"minutes": 1441},
        {"minutes": -60},
        {"typed_minutes": 0},
        {"rate": Decimal("-0.01")},
        {"tag": "note 0"},
        {"elsewhere": "Yard"},
        {"posted_month": date(2026, 10, 2)},
        {"void_reason": "Wrong"},
    ],
)
def test_the_database_keeps_no_such_hours(small_job, wrong):
    figures = {"minutes": 60, **wrong}
    with pytest.raises(IntegrityError), transaction.atomic():
        time_entry(worker(), small_job, figures.pop("minutes"), **figures)


def test_an_entry_is_taken_back_once(small_job):
    sam = worker()
    wrong = time_entry(sam, small_job, 60)
    time_entry(sam, small_job, -60, reverses=wrong)
    with pytest.raises(IntegrityError), transaction.atomic():
        time_entry(sam, small_job, -60, reverses=wrong)


def test_two_workers_have_no_one_name(db):
    worker("Sam Orrin")
    with pytest.raises(IntegrityError), transaction.atomic():
        worker("sam orrin")


def test_hours_that_were_agreed_stand_before_those_planned_now(job, monkeypatch):
    agreed = [steps.Step("framing", "Framing", 600), steps.Step("niche", "Niche", 360)]
    monkeypatch.setattr(steps, "more_steps", [lambda job: agreed])
    result = steps.steps_of(job, date(2026, 10, 5))
    assert (result["framing"].name, result["framing"].planned) == ("Track and studs", 600)
    assert (list(result)[-1], result["niche"].planned) == ("niche", 360)
