"""Activities that really began and ended, on the worked example of Larkmoor Dental.

Planned by hand: start Mon 4 Jan 2027, the firm closed on 18 Jan. Setting out 4, framing 5 and 6, inspection 7, boards 8
and 11, coats 12 to 15, primer 19, trim 20, paint 21.
"""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.core.ground.declared import entry_of, write
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.refusal import EntryError
from jobs.core.ordering.job_work_up import calendar_of
from jobs.core.schedule.activities import Spread, plan_activities
from jobs.core.schedule.actual_days import ActualDays
from jobs.core.schedule.completion_risk import finishing_chance
from jobs.core.schedule.job_spec import JobSpec
from quoting.core.quotes.work_up import work_up
from tests.documents import job_file

READ = replace(job_file("larkmoor-dental"), job=replace(job_file("larkmoor-dental").job, activities=(), dates=()))
DONE, BY = work_up(READ, date(2026, 11, 25)), "Ines Quarrell"
CALENDAR = calendar_of(READ)


def january(day):
    return date(2027, 1, day)


def actual(key, began, ended=None):
    return ActualDays(key, january(began), BY, ended and january(ended), BY if ended else "")


def planned(*days, **changes):
    return plan_activities(replace(READ.job, actual_days=days, **changes), DONE.walls, READ.book.standards, CALENDAR)


def days_of(plan, key):
    times = next(activity.times for activity in plan.activities if activity.key == key)
    return times.early_start.day, times.early_finish.day


def test_without_a_word_from_site_every_day_is_as_it_was():
    assert planned().activities == DONE.plan.activities


def test_what_began_late_moves_what_follows_from_its_real_begin():
    # Framing begun on Thu 7 for Tue 5: 7 and 8; inspection Mon 11, boards 12 and 13.
    plan = planned(actual("framing", 7))
    assert [days_of(plan, key) for key in ("framing", "inspection", "boards")] == [(7, 8), (11, 11), (12, 13)]


def test_what_ended_early_lets_the_next_go_on_from_its_real_end():
    # Framing done on Tue 5 alone: inspection Wed 6, boards Thu 7 and Fri 8.
    plan = planned(actual("framing", 5, 5))
    assert [days_of(plan, key) for key in ("framing", "inspection", "boards")] == [(5, 5), (6, 6), (7, 8)]


def test_what_began_before_its_turn_stays_where_it_began():
    plan = planned(actual("boards", 5))
    assert days_of(plan, "boards") == (5, 6) and days_of(plan, "framing") == (5, 6)


def test_what_is_over_has_its_days_and_is_not_critical():
    plan = planned(actual("layout", 4, 4), actual("framing", 5, 12))
    times = {activity.key: activity.times for activity in plan.activities}
    assert (times["framing"].critical, times["framing"].total_float_workdays) == (False, 0)
    # Framing four days late: the 12th for the 6th; the end from the 21st to the 27th.
    assert times["inspection"].critical and plan.finish == january(27)


def test_a_day_off_on_which_it_began_counts_for_nothing_until_its_end_is_said():
    # Sat 9: its two planned days are Mon 11 and Tue 12; ended on that Saturday it is over.
    assert days_of(planned(actual("boards", 9)), "boards") == (9, 12)
    assert days_of(planned(actual("boards", 9, 9)), "coat-1") == (11, 11)


def test_material_of_what_began_was_wanted_that_day():
    assert planned(actual("boards", 5)).wanted_on("boards") == january(5)


def test_an_activity_that_left_the_job_is_told():
    message = [finding.sentence for finding in planned(actual("scaffold", 5)).findings]
    assert message == ['"scaffold" was begun, and the job has no such activity of work or inspection now.']


@given(st.data())
def test_nothing_that_follows_starts_before_the_real_end_of_what_it_waits_for(data):
    keys = [activity.key for activity in planned().activities if activity.kind == "work"]
    key, began = data.draw(st.sampled_from(keys)), data.draw(st.integers(1, 20))
    plan = planned(actual(key, began, data.draw(st.integers(began, 28))))
    times = {activity.key: activity.times for activity in plan.activities}
    end = times[key].early_finish
    assert all(times[link.after].early_start > end for link in plan.links if link.before == key)


@pytest.mark.parametrize("days", [[actual("framing", 7)], [actual("framing", 5, 12)], [actual("boards", 6, 7)]])
def test_with_every_length_as_planned_the_chance_ends_on_the_day_the_plan_ends(days):
    plan = planned(*days, promised_on=january(29))
    lengths = [Spread(activity.duration_workdays, activity.duration_workdays, True) for activity in plan.activities]
    sure = replace(
        plan, activities=tuple(replace(entry, spread=s) for entry, s in zip(plan.activities, lengths, strict=True))
    )
    chance = finishing_chance(sure, CALENDAR, january(4), {}, runs=1)
    assert chance.days[0.5] == plan.finish
    # Nobody can begin a day earlier what has begun.
    assert "earlier" not in {remedy.what for remedy in chance.remedies}


def test_an_end_before_its_begin_is_refused_and_names_the_entry():
    with pytest.raises(EntryError, match="is before") as refused:
        actual("framing", 7, 6)
    assert refused.value.field == "ended_on"


def test_actual_days_are_written_as_they_are_read():
    days = (actual("framing", 5, 6), actual("boards", 8))
    stated = entry_of(JobSpec, "actual_days")
    assert stated.read(Reader({"actual_days": [write(day) for day in days]})) == days
    with pytest.raises(DocumentError, match="given twice"):
        stated.read(Reader({"actual_days": [write(day) for day in days + days]}))
