"""The chart of a job's activities: what it draws is measured in the SVG itself."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.drawings.svg import DrawingInputError
from jobs.drawings.charts.activities_chart import ActivityRow, WaitSpan, activities_chart_svg
from tests.jobs.drawings.reading import SVG, parsed, texts

TODAY = date(2027, 1, 4)
BOARDS = ActivityRow("Hanging board", date(2027, 1, 8), date(2027, 1, 11), date(2027, 1, 13), "may slip 2 working days")
COAT = ActivityRow("Coat", date(2027, 1, 18), date(2027, 1, 18), date(2027, 1, 18), "critical", True)
HOLD = ActivityRow(
    "Word", date(2027, 1, 7), date(2027, 1, 7), date(2027, 1, 8), "may slip 1 working day", shape="moment"
)


def chart(rows, **more):
    return activities_chart_svg(rows, today=TODAY, title="Activities", **more).svg


def bars(svg):
    return [element for element in parsed(svg).iter(f"{SVG}rect") if element.find(f"{SVG}title") is not None]


def test_a_bar_is_as_long_as_the_days_of_its_activity():
    # Four calendar days against one.
    first, second = (float(bar.get("width")) for bar in bars(chart([BOARDS, COAT])))
    assert first / second == pytest.approx(4, abs=0.01)


def test_critical_is_another_shape_and_said_in_words():
    svg = chart([BOARDS, COAT])
    assert [bar.get("class") for bar in bars(svg)] == ["bar", "bar-strong"]
    assert {"critical", "may slip 2 working days"} <= set(texts(svg))


def test_a_hold_takes_no_days_and_has_no_bar():
    assert len(bars(chart([BOARDS, HOLD]))) == 1


def test_the_promised_day_today_and_a_wait_are_named():
    wait = WaitSpan(1, BOARDS.last, COAT.first, "72 h curing")
    text = set(texts(chart([BOARDS, COAT], waits=[wait], promised_on=date(2027, 1, 29))))
    assert {"Today, 4 Jan", "Promised, 29 Jan", "72 h curing"} <= text


def test_a_today_far_from_the_work_does_not_press_it_flat():
    near, far = (activities_chart_svg([BOARDS], today=day, title="A").svg for day in (TODAY, date(2020, 1, 1)))
    assert float(bars(far)[0].get("width")) >= float(bars(near)[0].get("width"))


@pytest.mark.parametrize("count", [0, 61])
def test_no_rows_and_too_many_are_refused(count):
    with pytest.raises(DrawingInputError, match=f"holds 1 to 60; {count} were given"):
        chart([BOARDS] * count)


def test_an_end_before_its_start_is_refused_by_name():
    with pytest.raises(DrawingInputError, match="Coat: ends Sun 3 Jan 2027, before it starts, Mon 4 Jan 2027"):
        ActivityRow("Coat", TODAY, TODAY - timedelta(1), TODAY, "")


@settings(max_examples=30, deadline=None)
@given(
    st.lists(st.tuples(st.integers(-800, 800), st.integers(0, 300), st.integers(0, 90)), min_size=1, max_size=60),
    st.none() | st.integers(-900, 1500),
)
def test_any_activities_can_be_drawn_from_left_to_right(drawn, promised):
    rows = [
        ActivityRow(f"A{n}", day, day + timedelta(lasts), day + timedelta(lasts + slips), "may slip")
        for n, (start, lasts, slips) in enumerate(drawn)
        for day in [TODAY + timedelta(start)]
    ]
    svg = chart(rows, promised_on=None if promised is None else TODAY + timedelta(promised))
    starts = [float(bar.get("x")) for bar in bars(svg)]
    assert [starts[n] for n in sorted(range(len(rows)), key=lambda n: rows[n].first)] == sorted(starts)
