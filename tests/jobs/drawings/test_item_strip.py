from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.drawings.svg import DrawingInputError
from jobs.drawings.charts.on_screen import Closure
from jobs.drawings.item_strip import ItemDays, StripAxis, item_strip_svg, strip_axis_svg
from tests.jobs.drawings.reading import SVG, parsed
from tests.jobs.drawings.screens import is_clear, said, strokes, title

# 238 px from edge to edge over 70 days: 3.4 px a day.
AXIS = StripAxis(date(2026, 11, 30), date(2027, 2, 8))
BASE = ItemDays(date(2026, 12, 10), date(2027, 1, 20), date(2027, 1, 25))


def test_it_runs_from_order_by_over_the_dock_to_the_site():
    svg = item_strip_svg(BASE, AXIS)
    # 10 Dec is day 10 of the axis, 25 Jan day 56, 20 Jan day 51.
    assert strokes(svg, "ink")[0][::2] == pytest.approx([6 + 10 * 3.4, 6 + 56 * 3.4])
    assert float(parsed(svg).find(f"{SVG}circle").get("cx")) == pytest.approx(6 + 51 * 3.4)
    assert title(svg) == "Order by Thu 10 Dec 2026, at our dock Wed 20 Jan 2027, on site by Mon 25 Jan 2027."


def test_what_is_late_is_red_and_begins_at_the_edge():
    late = ItemDays(date(2026, 11, 13), date(2026, 12, 14), date(2026, 12, 14), late=True)
    svg = item_strip_svg(late, AXIS)
    assert strokes(svg, "late-line")[0][0] == 6 and strokes(svg, "ink") == []
    assert title(svg).startswith("Late: order by Fri 13 Nov 2026")


def test_a_closure_on_its_way_is_hatched_and_named():
    shut = Closure(date(2026, 12, 21), date(2027, 1, 1), "Hennock shut 21 Dec to 1 Jan")
    svg = item_strip_svg(BASE, AXIS, [shut])
    xs = strokes(svg, "hatch")[0][::2]
    assert min(xs) >= 6 + 21 * 3.4 and max(xs) <= 6 + 33 * 3.4
    assert title(svg).endswith("Hennock shut 21 Dec to 1 Jan.")


def test_the_head_of_the_column_names_today_and_every_second_monday():
    assert said(strip_axis_svg(AXIS, date(2026, 11, 30))) == ["Today", "14 Dec", "28", "11 Jan", "25", "8 Feb"]


def test_an_axis_ends_after_it_starts():
    with pytest.raises(DrawingInputError, match="end:"):
        StripAxis(date(2026, 11, 30), date(2026, 11, 30))


@given(st.integers(7, 400), st.integers(0, 60))
def test_names_above_the_strips_never_meet(days, passed):
    start = date(2026, 11, 30)
    axis = StripAxis(start, date.fromordinal(start.toordinal() + days))
    assert is_clear(strip_axis_svg(axis, date.fromordinal(start.toordinal() + passed)))
