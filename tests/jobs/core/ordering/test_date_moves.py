"""What moves when a job's days become others.

Source of the days: the worked example of Larkmoor Dental. Need-by Mon 25 Jan 2027; the firm closed 25 and 28 Dec, 1 Jan
and 18 Jan; the mill shut from 21 Dec to 1 Jan; the base ordered by Thu 10 Dec, decided by Thu 3 Dec.
"""

from dataclasses import replace
from datetime import date
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.core.ground.workdays import Closure
from jobs.core.ordering.date_moves import dates_with, moves_between
from jobs.core.schedule.job_spec import ActivityChange, ItemDates
from quoting.core.quotes.work_up import work_up
from tests.documents import job_file

BASE = "BASE-514-FLEX"
TODAY = date(2026, 11, 25)


@cache
def worked_up():
    return work_up(job_file("larkmoor-dental"), TODAY)


@pytest.fixture
def done():
    return worked_up()


def moves(done, **changes):
    job = done.read.job
    return moves_between(dates_with(done, job), dates_with(done, replace(job, **changes)))


def item(results, code):
    return next(entry for entry in results.items if entry.after.material == code)


def test_the_same_days_again_move_nothing(done):
    same = moves(done)
    assert same.nothing_moves and same.stay == len(done.needs)


def test_dated_anew_the_job_has_the_days_it_was_worked_up_with(done):
    assert dates_with(done, done.read.job).needs == done.needs


def test_a_site_shut_on_cushion_days_orders_the_base_no_earlier(done):
    # The cushion, 20 to 22 Jan, is counted on the firm's calendar (trade rules on dates): the dock is the firm's.
    results = moves(done, closures=(Closure(date(2027, 1, 20), date(2027, 1, 21)),))
    assert BASE not in {entry.after.material for entry in results.items}


def test_a_shut_site_moves_what_the_work_after_it_needs(done):
    # Primer goes on from Tue 19 Jan; with the site shut on that day and the next, from Thu 21 Jan.
    results = moves(done, closures=(Closure(date(2027, 1, 19), date(2027, 1, 20)),))
    primer = item(results, "PRIMER-PVA")
    assert (primer.before.need_by, primer.after.need_by) == (date(2027, 1, 19), date(2027, 1, 21))


def test_trim_held_back_by_a_shut_site_ends_the_job_later(done):
    # Trim is held until 25 Jan, takes a day and paint the next; with the week of 25 Jan shut, 1 and 2 Feb.
    results = moves(done, closures=(Closure(date(2027, 1, 25), date(2027, 1, 29)),))
    assert (results.finish_before, results.finish_after) == (date(2027, 1, 26), date(2027, 2, 2))
    assert {activity.name for activity in results.activities} == {"Trim", "Paint"}


def test_an_agreed_day_moves_its_item_and_no_other(done):
    results = moves(done, dates=(*done.read.job.dates, ItemDates(BASE, date(2027, 1, 22))))
    assert [entry.after.material for entry in results.items] == [BASE]
    assert results.items[0].after.need_by == date(2027, 1, 22) and not results.activities


def test_of_the_day_agreed_and_the_day_on_the_wall_the_earlier_counts(done):
    assert moves(done, dates=(*done.read.job.dates, ItemDates(BASE, date(2027, 1, 26)))).nothing_moves


def test_an_item_agreed_for_after_its_use_is_said(done):
    # Board is hung from 8 Jan on.
    results = moves(done, dates=(ItemDates("GB-14", date(2027, 2, 26)),))
    assert [finding.key for finding in results.findings] == ["needs/GB-14/after-use"]


def test_an_activity_left_out_has_no_days_then(done):
    results = moves(done, activities=(*done.read.job.activities, ActivityChange("inspection", left_out=True)))
    assert [(activity.name, activity.after) for activity in results.activities if activity.after is None] == [
        ("Services and inspection", None)
    ]
    back = moves_between(
        dates_with(done, replace(done.read.job, activities=(ActivityChange("trim", left_out=True),))),
        dates_with(done, done.read.job),
    )
    assert [activity.before for activity in back.activities if activity.name == "Trim"] == [None]


def test_without_a_first_day_on_site_what_the_activities_set_has_no_days(done):
    results = moves(done, start_on=None)
    assert results.finish_after is None and item(results, "NAIL-BEAD").after.dates is None


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 30), st.integers(0, 12))
def test_more_cushion_never_orders_later(cushion, more):
    """A property of the back-pass: a day nearer to now is needed for every day of cushion."""
    worked = worked_up()

    def order_by(days):
        job = replace(worked.read.job, dates=(ItemDates(BASE, date(2027, 6, 1), days),))
        return next(need for need in dates_with(worked, job).needs if need.material == BASE).dates.order_by

    assert order_by(cushion + more) <= order_by(cushion)


def test_a_start_that_moves_names_the_items_whose_agreed_days_stay(done):
    results = moves(done, start_on=date(2027, 1, 11))
    # Track agreed for Mon 4 Jan, wanted for the framing of Tue 5 Jan, which moves to Tue 12 Jan.
    track = next(entry for entry in results.agreed if entry.need.material == "TRACK-358")
    assert (track.need.need_by, track.used_before, track.used_after) == (
        date(2027, 1, 4),
        date(2027, 1, 5),
        date(2027, 1, 12),
    )
    # Setting out 11, framing 12 and 13, inspection 14, boards 15 and 19, coats 20 to 25, primer 26: trim 27 Jan, held
    # until 25 Jan as it was, and its base agreed for that day.
    assert {entry.need.material for entry in results.agreed} == {"TRACK-358", "GB-14", BASE}
    # The control: without an agreed day an item moves with its activity.
    assert "TRACK-358" in {entry.after.material for entry in moves_of_unagreed(done).items}
    assert not moves(done).agreed


def moves_of_unagreed(done):
    free = replace(done.read.job, dates=())
    return moves_between(dates_with(done, free), dates_with(done, replace(free, start_on=date(2027, 1, 11))))
