"""What charts of rows along days have in common: how high a row is, its label, the axis above and the days shut."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from typing import Any

from catalog.drawings.canvas import Canvas, Place, block
from catalog.drawings.lettering import fitted, text_width
from catalog.drawings.svg import DrawingInputError, words
from jobs.drawings.charts.dates_axis import MONTHS, Axis, axis_marks

MAX_ROWS = 60
MIN_ROW_MM = 1.9
MIN_WIDTH_MM = 120.0
HEAD_MM = 9.0
Span = tuple[date, date]
_ONE_DAY = timedelta(days=1)


@dataclass(frozen=True)
class DayChart:
    """rows: each with a label. width: mm of paper from the labels to the words at the end of a row."""

    rows: tuple[Any, ...]
    today: date
    row_mm: float
    width: float

    @property
    def axis(self) -> Axis:
        raise NotImplementedError

    @property
    def css(self) -> str:
        return "dim-text" if self.row_mm >= 3.6 else "small-text"

    @cached_property
    def labels_mm(self) -> float:
        widest = max(text_width(words(row.label), self.css) for row in self.rows)
        return min(max(widest, 14.0), self.width * 0.26) + 3.0

    @property
    def low(self) -> float:
        return len(self.rows) * self.row_mm

    def start_x(self, day: date) -> float:
        return self.axis.x(day)

    def end_x(self, day: date) -> float:
        return self.axis.x(day + _ONE_DAY)


def row_height(count: int, *, tallest_mm: float, foot_mm: float, width_mm: float, height_mm: float) -> float:
    """Raises DrawingInputError for no rows, more than 60, or a sheet too small for them."""
    if not 1 <= count <= MAX_ROWS:
        raise DrawingInputError(f"rows: a chart along days holds 1 to {MAX_ROWS}; {count} were given")
    if width_mm < MIN_WIDTH_MM:
        raise DrawingInputError(f"paper: a chart along days needs at least {MIN_WIDTH_MM:g} mm; {width_mm:g} was given")
    room = (height_mm - HEAD_MM - foot_mm - 6) / count
    if room < MIN_ROW_MM:
        raise DrawingInputError(f"paper: {count} rows do not fit {height_mm:g} mm; give more height or fewer rows")
    return min(tallest_mm, room)


def short_day(day: date) -> str:
    """A day as on the chart, the same in every locale.

    >>> short_day(date(2026, 12, 3))
    '3 Dec'
    """
    return f"{day.day} {MONTHS[day.month - 1][:3]}"


def draw_ground(canvas: Canvas, chart: DayChart, closed: Sequence[Span]) -> None:
    """What the rows are drawn on: the days shut and the axis."""
    for first, last in closed:
        x0, x1 = max(chart.start_x(first), chart.axis.left), min(chart.end_x(last), chart.axis.right)
        if x1 > x0:
            canvas.rect(x0, 0.0, x1 - x0, chart.low, "closed-days")
    axis = chart.axis
    upper, lower = axis_marks(axis)
    for day, text in upper:
        x = axis.x(day)
        canvas.line((x, -HEAD_MM + 1.0), (x, chart.low), "thin" if day != axis.first else "grid", keep_clear=False)
        canvas.write_from(text, "dim-text", x + 1.0, -HEAD_MM + 2.6)
    for day, text in lower:
        x = axis.x(day)
        canvas.line((x, -1.2), (x, chart.low), "grid", keep_clear=False)
        label = block((text, "small-text"))
        if text and axis.left + label.width / 2 <= x <= axis.right - label.width / 2:
            canvas.write(label, Place((x, -2.9)))
    canvas.line((axis.left, 0.0), (axis.right, 0.0), "thin", keep_clear=False)
    canvas.line((0.0, chart.low), (chart.width, chart.low), "thin", keep_clear=False)


def draw_label(canvas: Canvas, chart: DayChart, index: int) -> float:
    """The line above a row and its label; how high the middle of the row stands."""
    y = (index + 0.5) * chart.row_mm
    if index:
        canvas.line((0.0, index * chart.row_mm), (chart.width, index * chart.row_mm), "grid", keep_clear=False)
    canvas.write_from(fitted(chart.rows[index].label, chart.css, chart.labels_mm - 3.0), chart.css, 0.0, y)
    return y
