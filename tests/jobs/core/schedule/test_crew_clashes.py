"""Days on which jobs together want more people than there are. Worked by hand on the calendar of January 2027."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.core.ground.workdays import Closure, WorkCalendar
from jobs.core.schedule.crew_clashes import CrewDays, crew_clashes, worked_stretches

FIRM = WorkCalendar("firm", frozenset({date(2027, 1, 18)}))


def january(first, last, job, people=2, activity="Framing"):
    return CrewDays(job, activity, date(2027, 1, first), date(2027, 1, last), people)


def days_of(clashes):
    return [(clash.first_day.day, clash.last_day.day, clash.wanted) for clash in clashes]


def test_two_jobs_with_the_same_crew_on_the_same_day_are_a_clash():
    # Feature table, row 79.
    clashes = crew_clashes([january(5, 7, "J-1"), january(7, 8, "J-2")], FIRM, 2, date(2027, 1, 4))
    assert days_of(clashes) == [(7, 7, 4)] and clashes[0].jobs == ("J-1", "J-2")


def test_enough_people_are_no_clash():
    assert crew_clashes([january(5, 7, "J-1"), january(7, 8, "J-2")], FIRM, 4, date(2027, 1, 4)) == ()


def test_days_nobody_works_neither_clash_nor_part_a_clash():
    # 16 and 17 January are a weekend, Monday 18 is closed: Friday 15 and Tuesday 19 follow each other.
    both = [january(14, 20, "J-1"), january(14, 20, "J-2")]
    assert days_of(crew_clashes(both, FIRM, 3, date(2027, 1, 4))) == [(14, 20, 4)]
    assert crew_clashes([january(16, 18, "J-1"), january(16, 18, "J-2")], FIRM, 2, date(2027, 1, 4)) == ()


def test_one_activity_after_another_of_the_same_crew_is_one_clash():
    planned = [january(5, 6, "J-1"), january(7, 8, "J-1", activity="Boards"), january(5, 8, "J-2")]
    (clash,) = crew_clashes(planned, FIRM, 3, date(2027, 1, 4))
    assert days_of([clash]) == [(5, 8, 4)] and clash.by_job == {"J-1": 2, "J-2": 2}
    assert {part.activity for part in clash.parts if part.job == "J-1"} == {"Framing", "Boards"}


def test_a_clash_that_grows_is_told_in_two():
    three = [january(5, 12, "J-1"), january(5, 12, "J-2"), january(11, 11, "J-3", 1)]
    assert days_of(crew_clashes(three, FIRM, 2, date(2027, 1, 4))) == [(5, 8, 4), (11, 11, 5), (12, 12, 4)]


def test_what_is_past_is_passed_over():
    both = [january(5, 12, "J-1"), january(5, 12, "J-2")]
    assert days_of(crew_clashes(both, FIRM, 2, date(2027, 1, 9))) == [(11, 12, 4)]


def test_a_shut_site_is_left_on_those_days():
    shut = [Closure(date(2027, 1, 6), date(2027, 1, 7)), Closure(date(2027, 1, 7), date(2027, 1, 8))]
    left = worked_stretches(date(2027, 1, 5), date(2027, 1, 12), shut)
    assert [(day.day, two.day) for day, two in left] == [(5, 5), (9, 12)]


def test_nobody_on_site_is_refused():
    with pytest.raises(ValueError, match="people on site must be 1 or more, not 0"):
        crew_clashes([], FIRM, 0, date(2027, 1, 4))


stretches = st.builds(
    lambda first, length, job, people: CrewDays(
        f"J-{job}", "Work", date(2027, 1, 1) + timedelta(first), date(2027, 1, 1) + timedelta(first + length), people
    ),
    st.integers(0, 40),
    st.integers(0, 15),
    st.integers(1, 4),
    st.integers(1, 4),
)


@given(st.lists(stretches, max_size=8), st.integers(1, 8))
def test_the_clashes_are_the_working_days_counted_one_by_one(planned, people):
    since = date(2027, 1, 10)
    clashes = crew_clashes(planned, FIRM, people, since)
    numbers = {
        day: clash.wanted
        for clash in clashes
        for day in (clash.first_day + timedelta(n) for n in range((clash.last_day - clash.first_day).days + 1))
        if FIRM.is_workday(day)
    }
    counted = {}
    for day in (since + timedelta(n) for n in range(60)):
        wanted = sum(entry.people for entry in planned if entry.first_day <= day <= entry.last_day)
        if FIRM.is_workday(day) and wanted > people:
            counted[day] = wanted
    assert numbers == counted
