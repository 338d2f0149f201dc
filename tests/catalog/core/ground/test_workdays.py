"""Working days, against numpy's busday functions."""

from __future__ import annotations

import random
from datetime import date, datetime, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.core.ground.workdays import (
    CalendarError,
    Closure,
    WorkCalendar,
    calendar_with,
    closed_days_of,
    combine,
    workdays_from,
)

FIRM = WorkCalendar("firm")
DAYS = st.dates(date(2024, 1, 1), date(2032, 12, 31))
CALENDARS = st.builds(
    WorkCalendar,
    st.just("drawn"),
    st.frozensets(DAYS, max_size=50),
    st.frozensets(st.integers(0, 6), max_size=6),
)


def test_counts_agree_with_numpy_on_3000_random_cases():
    # numpy.busday_offset and numpy.busday_count; a day off is rolled to the side counting starts from.
    draw = random.Random(20270125)
    for _ in range(3000):
        first = date(2024, 1, 1) + timedelta(days=draw.randrange(3000))
        second = first + timedelta(days=draw.randrange(-200, 200))
        closed = {first + timedelta(days=draw.randrange(-150, 150)) for _ in range(draw.randrange(30))}
        weekend = frozenset(draw.sample(range(7), draw.choice([0, 1, 2, 2, 2, 3])))
        calendar = WorkCalendar("random", frozenset(closed), weekend)
        rules = {"weekmask": [day not in weekend for day in range(7)], "holidays": sorted(closed)}
        count = draw.randrange(1, 60)
        assert calendar.back(first, count) == np.busday_offset(first, -count, roll="forward", **rules)
        assert calendar.forward(first, count) == np.busday_offset(first, count, roll="backward", **rules)
        assert calendar.back(first, 0) == np.busday_offset(first, 0, roll="backward", **rules)
        assert calendar.forward(first, 0) == np.busday_offset(first, 0, roll="forward", **rules)
        early, late = sorted([first, second])
        counted = int(np.busday_count(early + timedelta(days=1), late + timedelta(days=1), **rules))
        assert calendar.workdays_between(first, second) == (counted if second >= first else -counted)
        assert calendar.is_workday(first) == bool(np.is_busday(first, **rules))


@settings(deadline=None)
@given(CALENDARS, DAYS, st.integers(1, 40))
def test_going_forward_and_back_returns_to_a_working_day(calendar, day, count):
    start = calendar.on_or_after(day)
    assert calendar.back(calendar.forward(start, count), count) == start
    assert calendar.workdays_between(start, calendar.forward(start, count)) == count


@settings(deadline=None)
@given(CALENDARS, DAYS, DAYS)
def test_the_count_between_two_days_changes_sign_with_them(calendar, entry, two):
    assert calendar.workdays_between(entry, two) == -calendar.workdays_between(two, entry)


@settings(deadline=None)
@given(CALENDARS, DAYS, st.integers(0, 20), st.integers(0, 20))
def test_counting_further_back_never_comes_later(calendar, day, entry, two):
    few, many = sorted([entry, two])
    assert calendar.back(day, many) <= calendar.back(day, few) <= day


@settings(deadline=None)
@given(CALENDARS, CALENDARS, DAYS)
def test_two_calendars_together_work_only_when_both_do(entry, two, day):
    if len(entry.weekend | two.weekend) == 7:
        with pytest.raises(CalendarError, match="no weekday is left"):
            combine(entry, two)
    else:
        assert combine(entry, two).is_workday(day) == (entry.is_workday(day) and two.is_workday(day))


def test_the_summer_closure_of_two_weeks_is_twelve_days():
    shutdown = Closure(date(2027, 7, 19), date(2027, 7, 30), "summer")
    assert len(closed_days_of([shutdown, shutdown])) == 12


def test_three_business_days_counting_saturday_after_friday_28_may_end_on_wednesday():
    # Childcare example; 31 May 2027 is a holiday.
    county = calendar_with("county", [Closure(date(2027, 5, 31), date(2027, 5, 31))], works_saturday=True)
    assert county.forward(date(2027, 5, 28), 3) == date(2027, 6, 2)


def test_working_days_are_walked_in_order():
    days = workdays_from(FIRM, date(2027, 1, 1))
    assert [next(days).day for _ in range(3)] == [1, 4, 5]


@pytest.mark.parametrize("count", [-1, 20_001, 1.5, True, "3"])
def test_a_count_that_is_not_a_whole_number_of_days_is_refused(count):
    for step in (FIRM.back, FIRM.forward):
        with pytest.raises(CalendarError, match="whole number from 0 to 20,000"):
            step(date(2027, 1, 4), count)


def test_a_moment_is_not_a_day():
    for use in (FIRM.is_workday, FIRM.on_or_before, lambda day: FIRM.workdays_between(day, day)):
        with pytest.raises(CalendarError, match="without a time"):
            use(datetime(2027, 1, 4))  # noqa: DTZ001 - what is under test


@pytest.mark.parametrize(
    ("make", "reason"),
    [
        (lambda: WorkCalendar(" "), "needs a name"),
        (lambda: WorkCalendar("x", weekend=frozenset(range(7))), "x: no weekday is left"),
        (lambda: WorkCalendar("x", weekend=frozenset({7})), r"from 0 \(Monday\) to 6"),
        (lambda: WorkCalendar("x", frozenset({"2027-01-01"})), "without a time, not '2027-01-01'"),
        (lambda: Closure(date(2027, 1, 2), date(2027, 1, 1)), "Fri 1 Jan 2027 is before Sat 2 Jan 2027"),
        (lambda: Closure(date(2027, 1, 1), date(2037, 1, 1)), "at most 1100 days"),
    ],
)
def test_a_calendar_that_cannot_be_is_refused(make, reason):
    with pytest.raises(CalendarError, match=reason):
        make()


def test_a_calendar_shut_for_years_is_refused_by_name_instead_of_searched_for_ever():
    shut = WorkCalendar("mill", frozenset(date(2027, 1, 1) + timedelta(days=n) for n in range(1300)))
    with pytest.raises(CalendarError, match="mill: no working day within 1100 days"):
        shut.forward(date(2027, 1, 1), 1)


def test_a_count_past_the_last_year_is_refused():
    with pytest.raises(CalendarError, match="years 1 to 9999"):
        FIRM.forward(date(9999, 12, 30), 10)
