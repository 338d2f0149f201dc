"""The activities of a job along its days: one row an activity, what it waits for, and how far it may slip.

Shapes and words carry the meaning, so that the chart reads in black and white: a full bar is critical, an open one is
not, and the last column says so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from typing import Literal

from catalog.core.ground.day_words import day_words
from catalog.drawings.canvas import Canvas, Place, block
from catalog.drawings.lettering import fitted, text_width
from catalog.drawings.svg import DrawingInputError, Picture, element, escaped, words
from jobs.drawings.charts.dates_axis import Axis
from jobs.drawings.charts.day_chart import DayChart, Span, draw_ground, draw_label, row_height, short_day

MAX_ROW_MM = 7.0
FOOT_MM = 13.0
Shape = Literal["days", "moment"]


@dataclass(frozen=True)
class ActivityRow:
    """One activity: its first and last day, and the last day it may end on without moving the end.

    shape: "moment" for a hold or material on site, which takes no days. slack: its float in words.
    """

    label: str
    first: date
    last: date
    late_last: date
    slack: str
    critical: bool = False
    shape: Shape = "days"

    def __post_init__(self) -> None:
        if self.last < self.first:
            raise DrawingInputError(
                f"{words(self.label, 60)}: ends {day_words(self.last)}, before it starts, {day_words(self.first)}"
            )


@dataclass(frozen=True)
class WaitSpan:
    """Time nobody works, between the end of one activity and the start of the row given by its place."""

    row: int
    after: date
    before: date
    what: str


def activities_chart_svg(
    rows: Sequence[ActivityRow],
    *,
    today: date,
    title: str,
    waits: Sequence[WaitSpan] = (),
    closed: Sequence[Span] = (),
    promised_on: date | None = None,
    width_mm: float = 243.0,
    max_height_mm: float = 140.0,
) -> Picture:
    """The chart in the order of the rows given. closed: first and last days shut, shaded.

    Raises DrawingInputError for no rows, more than 60, or a sheet too small for them.
    """
    paper = {"foot_mm": FOOT_MM, "width_mm": width_mm, "height_mm": max_height_mm}
    row_mm = row_height(len(rows), tallest_mm=MAX_ROW_MM, **paper)
    chart = _Chart(tuple(rows), today, row_mm, width_mm - 4, promised_on)
    canvas = Canvas()
    draw_ground(canvas, chart, closed)
    for index, row in enumerate(chart.rows):
        _draw_row(canvas, chart, row, index)
    for wait in waits:
        _draw_wait(canvas, chart, wait)
    _draw_days(canvas, chart)
    _draw_key(canvas, chart, bool(waits))
    desc = _described(rows, waits, today, promised_on)
    return canvas.finished(title=title, desc=desc, scale=None, width_mm=width_mm)


def _described(rows: Sequence[ActivityRow], waits: Sequence[WaitSpan], today: date, promised_on: date | None) -> str:
    sentences = [f"Activities as of {day_words(today)}."]
    if promised_on:
        sentences.append(f"Promised to be done by {day_words(promised_on)}.")
    for place, row in enumerate(rows):
        waited = "; ".join(f"waits {wait.what}" for wait in waits if wait.row == place)
        days = day_words(row.first) if row.first == row.last else f"{day_words(row.first)} to {day_words(row.last)}"
        sentences.append(f"{words(row.label, 60)}: {days}; {row.slack}{'; ' + waited if waited else ''}.")
    return " ".join(sentences)


@dataclass(frozen=True)
class _Chart(DayChart):
    rows: tuple[ActivityRow, ...]
    promised_on: date | None

    @cached_property
    def slack_mm(self) -> float:
        widest = max(text_width(words(row.slack), self.css) for row in self.rows)
        return min(max(widest, 14.0), self.width * 0.2) + 3.0

    @cached_property
    def axis(self) -> Axis:
        first = min(row.first for row in self.rows)
        last = max(*(max(row.last, row.late_last) for row in self.rows), self.promised_on or date.min)
        # A day long before or after the work is said beside the chart and not drawn to: it would press the bars flat.
        near = max((last - first).days, 14)
        if first - timedelta(days=near) <= self.today <= last + timedelta(days=near):
            first, last = min(first, self.today), max(last, self.today)
        pad = timedelta(days=max(1, (last - first).days // 40))
        return Axis(first - pad, last + pad, self.labels_mm, self.width - self.slack_mm)


def _draw_row(canvas: Canvas, chart: _Chart, row: ActivityRow, index: int) -> None:
    y = draw_label(canvas, chart, index)
    x0, x1 = chart.start_x(row.first), chart.end_x(row.last)
    if row.late_last > row.last:
        until = min(chart.end_x(row.late_last), chart.axis.right)
        canvas.line((x1, y), (until, y), "hidden", keep_clear=False)
        canvas.line((until, y - chart.row_mm * 0.2), (until, y + chart.row_mm * 0.2), "thin", keep_clear=False)
    if row.shape == "moment":
        _draw_moment(canvas, x0, y, min(1.5, chart.row_mm * 0.32), row.critical)
    else:
        half = min(1.7, chart.row_mm * 0.28)
        bar: dict[str, str | float] = {
            "x": x0,
            "y": y - half,
            "width": x1 - x0,
            "height": 2 * half,
            "class": "bar-strong" if row.critical else "bar",
        }
        canvas.shapes.append(element("rect", bar, element("title", {}, escaped(words(row.label)))))
    canvas.write_from(fitted(row.slack, chart.css, chart.slack_mm - 3.0), chart.css, chart.axis.right + 3.0, y)


def _draw_moment(canvas: Canvas, x: float, y: float, size: float, critical: bool) -> None:
    corners = [(x, y - size), (x + size, y), (x, y + size), (x - size, y)]
    canvas.polygon(corners, "milestone" if critical else "opening-edge")


def _draw_wait(canvas: Canvas, chart: _Chart, wait: WaitSpan) -> None:
    """Three marks in the row of what waits, where there is a day or more to show."""
    x0, x1, y = chart.end_x(wait.after), chart.start_x(wait.before), (wait.row + 0.5) * chart.row_mm
    if x1 - x0 < chart.axis.day_mm * 0.9 or not 0 <= wait.row < len(chart.rows):
        return
    high = min(0.9, chart.row_mm * 0.16)
    canvas.line((x0, y), (x1, y), "dim", keep_clear=False)
    for x in (x0, x1):
        canvas.line((x, y - high), (x, y + high), "dim", keep_clear=False)
    label = block((wait.what, "small-text"))
    if label.lines and label.width + 1.0 <= x1 - x0 and chart.row_mm >= 4.5:
        canvas.write(label, Place(((x0 + x1) / 2, y - label.height * 0.85)))


def _draw_days(canvas: Canvas, chart: _Chart) -> None:
    """Today and the promised day, each with its name under the rows; near each other one stands lower."""
    drawn: list[tuple[float, float]] = []
    marks = [(chart.today, f"Today, {short_day(chart.today)}", "today", "red-text", 0.5)]
    if chart.promised_on is not None:
        sentence = f"Promised, {short_day(chart.promised_on)}"
        marks.append((chart.promised_on, sentence, "promised", "small-text", 1.0))
    for day, text, line, css, part in marks:
        if not chart.axis.first <= day <= chart.axis.last:
            continue
        x = chart.axis.x(day) + chart.axis.day_mm * part
        if line == "promised":
            canvas.rect(x - 0.3, -1.2, 0.6, chart.low + 2.4, "bar-strong")
        else:
            canvas.line((x, -1.2), (x, chart.low + 1.2), line, keep_clear=False)
        label = block((text, css))
        least, most = chart.axis.left + label.width / 2, chart.axis.right - label.width / 2
        at = min(max(x, least), most)
        crowded = any(abs(at - other) < (label.width + wide) / 2 + 1 for other, wide in drawn)
        canvas.write(label, Place((at, chart.low + (6.2 if crowded else 2.8))))
        drawn.append((at, label.width))


def _draw_key(canvas: Canvas, chart: _Chart, waits: bool) -> None:
    y, x = chart.low + 11.0, 0.0
    names = ["critical: slipping it moves the end", "not critical", "may slip so far"]
    names += ["wait"] if waits else []
    names += ["hold or material on site"] if any(row.shape == "moment" for row in chart.rows) else []
    for name in (*names, "closed"):
        end = _draw_key_mark(canvas, name, x, y)
        x = canvas.write_from(name, "small-text", end + 1.4, y) + 4.0


def _draw_key_mark(canvas: Canvas, name: str, x: float, y: float) -> float:
    match name:
        case "not critical":
            canvas.rect(x, y - 0.9, 6.0, 1.8, "bar")
        case "may slip so far":
            canvas.line((x, y), (x + 6.0, y), "hidden", keep_clear=False)
            canvas.line((x + 6.0, y - 0.9), (x + 6.0, y + 0.9), "thin", keep_clear=False)
        case "wait":
            canvas.line((x, y), (x + 6.0, y), "dim", keep_clear=False)
            for edge in (x, x + 6.0):
                canvas.line((edge, y - 0.7), (edge, y + 0.7), "dim", keep_clear=False)
        case "hold or material on site":
            _draw_moment(canvas, x + 1.2, y, 1.2, False)
            return x + 2.4
        case "closed":
            canvas.rect(x, y - 1.2, 6.0, 2.4, "closed-days")
        case _:
            canvas.rect(x, y - 0.9, 6.0, 1.8, "bar-strong")
    return x + 6.0
