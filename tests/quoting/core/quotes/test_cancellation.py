"""Windows of cancellation. Worked dates: the childcare example of the worked examples; counting of business days
against numpy's busday functions, which know nothing of ours."""

from datetime import UTC, date, datetime, timedelta

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.core.quotes.cancellation import CancellationError, CancellationRule, is_open, last_day_to_cancel

SIGNED = date(2027, 5, 28)
HOLIDAY = date(2027, 5, 31)
WEEKS = {"business": "1111100", "business_and_saturday": "1111110"}
days = st.dates(date(2020, 1, 1), date(2040, 1, 1))


@pytest.mark.parametrize(
    ("count", "counting", "last"),
    [
        (3, "business_and_saturday", date(2027, 6, 2)),
        (10, "calendar", date(2027, 6, 7)),
        (14, "calendar", date(2027, 6, 11)),
        # By hand: Tue 1, Wed 2, Thu 3 June.
        (3, "business", date(2027, 6, 3)),
    ],
)
def test_the_worked_dates_of_the_childcare_job(count, counting, last):
    assert last_day_to_cancel(SIGNED, CancellationRule(count, counting), [HOLIDAY]) == last


def test_without_the_holiday_the_business_days_end_a_day_earlier():
    """The control: it is the holiday that moved the first of the worked dates."""
    assert last_day_to_cancel(SIGNED, CancellationRule(3, "business_and_saturday")) == date(2027, 6, 1)


@given(days, st.integers(1, 60), st.sampled_from(sorted(WEEKS)), st.lists(st.integers(0, 90), max_size=12))
def test_business_days_are_those_of_numpy(signed, count, counting, offs):
    holidays = [signed + timedelta(days=off) for off in offs]
    # numpy counts on from a working day; the day of signing, worked or not, is never counted.
    expected = numpy.busday_offset(signed, count, roll="preceding", weekmask=WEEKS[counting], holidays=holidays)
    assert last_day_to_cancel(signed, CancellationRule(count, counting), holidays) == expected.astype(date)


@given(days, st.integers(1, 90))
def test_calendar_days_are_added(signed, count):
    assert (last_day_to_cancel(signed, CancellationRule(count, "calendar")) - signed).days == count


@pytest.mark.parametrize("count", [0, -1, 91, True, 2.5, "3"])
def test_a_number_of_days_that_cannot_be_is_refused(count):
    with pytest.raises(CancellationError, match="from 1 to 90"):
        CancellationRule(count, "calendar")


def test_a_counting_nobody_knows_is_refused():
    with pytest.raises(CancellationError, match="business_and_saturday"):
        CancellationRule(3, "sunday")


def test_a_moment_is_no_day():
    with pytest.raises(CancellationError, match="without a time"):
        last_day_to_cancel(datetime(2027, 5, 28, 9, tzinfo=UTC), CancellationRule(3, "business"))


def test_the_window_is_open_to_the_end_of_its_last_day():
    assert [is_open(date(2027, 6, 2), date(2027, 6, day)) for day in (1, 2, 3)] == [True, True, False]
    assert not is_open(None, SIGNED)
