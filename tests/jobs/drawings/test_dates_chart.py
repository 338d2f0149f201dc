from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.drawings.svg import DrawingInputError
from jobs.drawings.charts.dates_axis import Axis, axis_marks
from jobs.drawings.charts.dates_chart import ChartRow, dates_chart_svg
from tests.jobs.drawings.pictures import chart_row
from tests.jobs.drawings.reading import SVG, parsed, paths, steps, texts

TODAY = date(2026, 12, 1)


def classes(svg: str, css: str) -> int:
    return sum(1 for element in parsed(svg).iter() if element.get("class") == css)


def bar(svg: str):
    """The bar of production: the only rectangles with a title."""
    return [r for r in parsed(svg).iter(f"{SVG}rect") if r.find(f"{SVG}title") is not None]


def test_the_bar_of_production_runs_from_the_order_to_the_shipping_day():
    svg = dates_chart_svg([chart_row()], today=TODAY, title="Dates").svg
    ((x1, _, x2, _),) = [
        tuple(f for _, figures in steps(d) for f in figures) for d in paths(svg, "hidden")
    ]  # sign-off, 7 days
    (drawn,) = bar(svg)
    day_mm = (x2 - x1) / 7
    # Dental base: ordered 10 Dec 2026, shipped 14 Jan 2027, which is 35 days later.
    assert float(drawn.get("x")) == pytest.approx(x2, abs=0.01)
    assert float(drawn.get("width")) / day_mm == pytest.approx(35, abs=0.05)


def test_only_what_is_late_is_red_and_it_is_said_in_words():
    late = dates_chart_svg([chart_row(late=True)], today=date(2026, 12, 16), title="Dates").svg
    ahead = dates_chart_svg([chart_row()], today=TODAY, title="Dates").svg
    assert (classes(late, "fill-red"), classes(late, "red")) == (1, 1)
    assert (classes(ahead, "fill-red"), classes(ahead, "red")) == (0, 0)
    assert "4 working days late" in texts(late)


def test_every_kind_of_day_has_its_name_in_the_key():
    text = texts(dates_chart_svg([chart_row()], today=TODAY, title="Dates").svg)
    for name in ("decide by", "order by", "in production", "in transit", "at the dock", "needed on site"):
        assert name in text


def test_today_is_drawn_and_named():
    svg = dates_chart_svg([chart_row()], today=TODAY, title="Dates").svg
    assert len(paths(svg, "today")) == 1
    assert "Today, 1 Dec" in texts(svg)


def test_closed_days_are_shaded_for_as_long_as_they_last():
    closed = [(date(2026, 12, 21), date(2027, 1, 1))]
    svg = dates_chart_svg([chart_row()], today=TODAY, title="Dates", closed=closed).svg
    (drawn,) = bar(svg)
    shaded = next(r for r in parsed(svg).iter(f"{SVG}rect") if r.get("class") == "closed-days")
    assert float(shaded.get("width")) / float(drawn.get("width")) == pytest.approx(12 / 35, abs=0.002)


@pytest.mark.parametrize("count", [1, 2, 17, 60])
def test_one_to_sixty_rows_stand_on_the_sheet(count):
    rows = [chart_row(f"Item {i}", TODAY + timedelta(days=i)) for i in range(count)]
    picture = dates_chart_svg(rows, today=TODAY, title="Dates")
    assert picture.height_mm <= 140
    assert len(bar(picture.svg)) == count


@pytest.mark.parametrize("count", [0, 61])
def test_no_rows_and_too_many_are_refused(count):
    with pytest.raises(DrawingInputError, match=f"holds 1 to 60; {count} were given"):
        dates_chart_svg([chart_row()] * count, today=TODAY, title="Dates")


def test_days_out_of_order_are_refused_by_name():
    with pytest.raises(DrawingInputError, match="Base: the days must run decide-by, order-by"):
        ChartRow("Base", TODAY, TODAY - timedelta(days=1), TODAY, TODAY, TODAY, "late")


def test_weeks_begin_on_monday():
    _, lower = axis_marks(Axis(date(2027, 1, 1), date(2027, 2, 28), 0.0, 150.0))
    assert lower
    assert {day.weekday() for day, _ in lower} == {0}


def test_years_stand_over_months_when_weeks_have_no_room():
    upper, lower = axis_marks(Axis(date(2026, 11, 1), date(2029, 3, 1), 0.0, 150.0))
    assert [text for _, text in upper][1:] == ["2027", "2028", "2029"] or upper[-1][1] == ""
    assert {day.day for day, _ in lower} == {1}


def test_hostile_labels_stay_words():
    hostile = "</text><script>&'\"\x07"
    svg = dates_chart_svg([chart_row(hostile)], today=TODAY, title=hostile).svg
    assert not list(parsed(svg).iter(f"{SVG}script"))
    assert bar(svg)[0].find(f"{SVG}title").text == "</text><script>&'\""


gaps = st.integers(0, 400)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.integers(-900, 900), gaps, gaps, gaps, gaps), min_size=1, max_size=60))
def test_any_dates_can_be_drawn_in_order_from_left_to_right(rows):
    drawn = []
    for index, (start, *after) in enumerate(rows):
        days = [TODAY + timedelta(days=start)]
        for gap in after:
            days.append(days[-1] + timedelta(days=gap))
        drawn.append(ChartRow(f"Item {index}", *days, in_hand="in hand"))
    svg = dates_chart_svg(drawn, today=TODAY, title="Dates").svg
    starts = [float(rect.get("x")) for rect in bar(svg)]
    order = sorted(range(len(drawn)), key=lambda i: drawn[i].order_by)
    assert [starts[i] for i in order] == sorted(starts)
