"""The time line of an order-by paper: one row an item, from the day to decide to the day it is needed.

Every kind of day has its own shape, so that the chart reads in black and white; what is late is red as well.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

from catalog.core.ground.day_words import day_words
from catalog.drawings.canvas import Canvas, Place, block
from catalog.drawings.lettering import fitted, text_width
from catalog.drawings.svg import DrawingInputError, Picture, Point, element, escaped, words
from jobs.drawings.charts.dates_axis import Axis
from jobs.drawings.charts.day_chart import DayChart, Span, draw_ground, draw_label, row_height, short_day

MAX_ROW_MM = 8.0
FOOT_MM = 9.0


@dataclass(frozen=True)
class ChartRow:
    """One item. The days run decide_by to need_by; in_hand: its days in hand, in words."""

    label: str
    decide_by: date
    order_by: date
    ship: date
    dock: date
    need_by: date
    in_hand: str
    late: bool = False

    def __post_init__(self) -> None:
        days = (self.decide_by, self.order_by, self.ship, self.dock, self.need_by)
        if list(days) != sorted(days):
            given = ", ".join(day_words(day) for day in days)
            raise DrawingInputError(
                f"{words(self.label, 60)}: the days must run decide-by, order-by, ship, dock, need-by; {given} do not"
            )

    @property
    def days(self) -> tuple[date, ...]:
        return (self.decide_by, self.order_by, self.ship, self.dock, self.need_by)


def dates_chart_svg(
    rows: Sequence[ChartRow],
    *,
    today: date,
    title: str,
    closed: Sequence[Span] = (),
    width_mm: float = 243.0,
    max_height_mm: float = 140.0,
) -> Picture:
    """The chart in the order of the rows given. closed: first and last days shut, shaded.

    Raises DrawingInputError for no rows, more than 60, or a sheet too small for them.
    """
    paper = {"foot_mm": FOOT_MM, "width_mm": width_mm, "height_mm": max_height_mm}
    chart = _Chart(tuple(rows), today, row_height(len(rows), tallest_mm=MAX_ROW_MM, **paper), width_mm - 4)
    canvas = Canvas()
    draw_ground(canvas, chart, closed)
    _draw_today(canvas, chart)
    for index, row in enumerate(chart.rows):
        _draw_row(canvas, chart, row, index)
    _draw_key(canvas, chart)
    return canvas.finished(title=title, desc=_described(rows, today), scale=None, width_mm=width_mm)


def _described(rows: Sequence[ChartRow], today: date) -> str:
    sentences = [f"Time line as of {day_words(today)}."]
    for row in rows:
        named = ("decide by", "order by", "ships", "at the dock", "needed")
        days = ", ".join(f"{name} {day_words(day)}" for name, day in zip(named, row.days, strict=True))
        sentences.append(f"{words(row.label, 60)}: {days}; {row.in_hand}.")
    return " ".join(sentences)


@dataclass(frozen=True)
class _Chart(DayChart):
    rows: tuple[ChartRow, ...]

    @cached_property
    def hand_mm(self) -> float:
        # Late words are set in the red class, which is wider.
        css = {True: "red-text" if self.row_mm >= 3.6 else "small-text", False: self.css}
        widest = max(text_width(words(row.in_hand), css[row.late]) for row in self.rows)
        return min(max(widest, 14.0), self.width * 0.2) + 3.0

    @cached_property
    def axis(self) -> Axis:
        first = min(self.today, *(row.decide_by for row in self.rows))
        last = max(self.today, *(row.need_by for row in self.rows))
        pad = timedelta(days=max(2, (last - first).days // 30))
        return Axis(first - pad, last + pad, self.labels_mm, self.width - self.hand_mm)


def _draw_row(canvas: Canvas, chart: _Chart, row: ChartRow, index: int) -> None:
    axis, y = chart.axis, draw_label(canvas, chart, index)
    label = element("title", {}, escaped(words(row.label)))
    decide, order, ship, dock, need = (axis.x(day) + axis.day_mm / 2 for day in row.days)
    thick = min(1.8, chart.row_mm * 0.36)
    canvas.line((decide, y), (order, y), "hidden", keep_clear=False)
    bar: dict[str, str | float] = {
        "x": order,
        "y": y - thick / 2,
        "width": max(ship - order, 0.0),
        "height": thick,
        "class": "bar",
    }
    canvas.shapes.append(element("rect", bar, label))
    canvas.rect(ship, y - thick / 4, max(dock - ship, 0.0), thick / 2, "bar-strong")
    canvas.line((dock, y), (need, y), "thin", keep_clear=False)
    size = min(1.5, chart.row_mm * 0.36)
    _decide_mark(canvas, (decide, y), size * 0.8, row.late)
    _order_mark(canvas, (order, y), size, row.late)
    _dock_mark(canvas, (dock, y), size * 0.75)
    _need_mark(canvas, (need, y), size)
    css = "red-text" if row.late and chart.row_mm >= 3.6 else chart.css
    canvas.write_from(fitted(row.in_hand, css, chart.hand_mm - 3.0), css, axis.right + 3.0, y)
    if chart.row_mm >= 6.0:
        for at, day in ((order, row.order_by), (need, row.need_by)):
            text = block((short_day(day), "small-text"))
            aside = text.width / 2 + 0.8
            places = [Place((at + dx, y - 2.6)) for dx in (0.0, aside, -aside)] + [Place((at, y + 2.6))]
            canvas.put(text, places, most=0)


def _decide_mark(canvas: Canvas, at: Point, size: float, late: bool) -> None:
    canvas.circle(at, size, "opening-edge")
    if late:
        canvas.shapes.append(element("circle", {"cx": at[0], "cy": at[1], "r": size, "class": "red"}))


def _order_mark(canvas: Canvas, at: Point, size: float, late: bool) -> None:
    x, y = at
    canvas.polygon([(x, y - size), (x + size, y), (x, y + size), (x - size, y)], "fill-red" if late else "milestone")


def _dock_mark(canvas: Canvas, at: Point, half: float) -> None:
    canvas.rect(at[0] - half, at[1] - half, 2 * half, 2 * half, "opening-edge")


def _need_mark(canvas: Canvas, at: Point, size: float) -> None:
    x, y = at
    canvas.polygon([(x - size, y - size * 0.8), (x + size, y - size * 0.8), (x, y + size)], "milestone")


def _draw_today(canvas: Canvas, chart: _Chart) -> None:
    x = chart.axis.x(chart.today) + chart.axis.day_mm / 2
    canvas.line((x, -1.2), (x, chart.low + 1.2), "today")
    label = block((f"Today, {short_day(chart.today)}", "red-text"))
    least, most = chart.axis.left + label.width / 2, chart.axis.right - label.width / 2
    canvas.write(label, Place((min(max(x, least), most), chart.low + 2.8)))


def _draw_key(canvas: Canvas, chart: _Chart) -> None:
    """What the marks mean, in the order they come in a row."""
    y, x = chart.low + 7.2, 0.0
    marks = ("decide by", "order by", "in production", "in transit", "at the dock", "needed on site", "closed")
    for name in marks:
        end = _draw_key_mark(canvas, name, x + 1.5, y)
        x = canvas.write_from(name, "small-text", end + 1.4, y) + 4.0


def _draw_key_mark(canvas: Canvas, name: str, x: float, y: float) -> float:
    match name:
        case "decide by":
            _decide_mark(canvas, (x, y), 1.0, False)
        case "order by":
            _order_mark(canvas, (x, y), 1.3, False)
        case "at the dock":
            _dock_mark(canvas, (x, y), 1.0)
        case "needed on site":
            _need_mark(canvas, (x, y), 1.3)
        case _:
            css, high = {
                "in production": ("bar", 1.6),
                "in transit": ("bar-strong", 0.8),
                "closed": ("closed-days", 2.2),
            }[name]
            canvas.rect(x - 1.2, y - high / 2, 5.0, high, css)
            return x + 3.8
    return x + 1.3
