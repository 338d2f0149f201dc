"""Dimension lines with architectural ticks, and the figures on them; arrow heads and the bar of a scale."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from catalog.drawings.canvas import Canvas, Place, block, upright
from catalog.drawings.lettering import text_width
from catalog.drawings.scales import Scale
from catalog.drawings.svg import Point

TICK_MM = 0.9
PAST_MM = 1.2


@dataclass(frozen=True)
class DimensionLine:
    """A dimension's line from p to q and the direction away from what it measures."""

    p: Point
    q: Point
    outward: Point

    @property
    def length(self) -> float:
        return math.dist(self.p, self.q)

    def holds(self, text: str) -> bool:
        return text_width(text, "dim-text") + 1.5 <= self.length

    def place(self, share: float, rise: float) -> Place:
        (px, py), (qx, qy), (ox, oy) = self.p, self.q, self.outward
        angle = upright(math.degrees(math.atan2(qy - py, qx - px)))
        return Place((px + (qx - px) * share + ox * rise, py + (qy - py) * share + oy * rise), angle)


def _tick(canvas: Canvas, at: Point) -> None:
    x, y = at
    canvas.line((x - TICK_MM, y + TICK_MM), (x + TICK_MM, y - TICK_MM), "dim-tick", keep_clear=False)


def dimension(
    canvas: Canvas,
    a: Point,
    b: Point,
    text: str,
    out: float,
    shares: Sequence[float] = (0.5, 0.4, 0.6, 0.3, 0.7),
) -> None:
    """A dimension between two points, its line `out` mm to the left of walking from a to b on the paper."""
    drawn = dimension_line(canvas, a, b, out)
    if drawn:
        dimension_text(canvas, drawn, text, shares)


def dimension_line(canvas: Canvas, a: Point, b: Point, out: float) -> DimensionLine | None:
    """The line, its architectural ticks and its extension lines; None when the points are one."""
    length = math.dist(a, b)
    if length < 1e-6:
        return None
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    side = 1.0 if out >= 0 else -1.0
    ox, oy = uy * side, -ux * side
    away = abs(out)
    p = (a[0] + ox * away, a[1] + oy * away)
    q = (b[0] + ox * away, b[1] + oy * away)
    if away > 2:
        for measured, on_line in ((a, p), (b, q)):
            start = (measured[0] + ox * 1.2, measured[1] + oy * 1.2)
            canvas.line(start, (on_line[0] + ox * PAST_MM, on_line[1] + oy * PAST_MM), "dim")
    canvas.line((p[0] - ux * PAST_MM, p[1] - uy * PAST_MM), (q[0] + ux * PAST_MM, q[1] + uy * PAST_MM), "dim")
    _tick(canvas, p)
    _tick(canvas, q)
    return DimensionLine(p, q, (ox, oy))


def dimension_text(
    canvas: Canvas,
    drawn: DimensionLine,
    text: str,
    shares: Sequence[float] = (0.5, 0.4, 0.6, 0.3, 0.7),
    aside: int = 0,
) -> None:
    """The figure of a dimension. One too wide for it stands beside its start (aside -1) or end (1), or
    farther out, tied to it by a line."""
    words = block((text, "dim-text"))
    gap = words.height / 2 + 0.7
    if drawn.holds(text):
        canvas.put(words, [drawn.place(share, rise) for rise in (gap, -gap, gap + 3.0) for share in shares])
        return
    if aside:
        reach = (words.width / 2 + 2.0) / drawn.length
        beyond = 0.5 + aside * (0.5 + reach)
        canvas.put(words, [drawn.place(beyond, rise) for rise in (0.0, gap + 0.6, -gap - 0.6)])
        return
    rises = (gap + 2.6, gap + 5.8, gap + 9.0)
    slides = (0.0, 0.4, -0.4, 0.8, -0.8, 1.2, -1.2)
    reach = words.width / drawn.length
    places = [drawn.place(0.5 + slide * reach, rise) for rise in rises for slide in slides]
    put = canvas.put(words, places)
    if put:
        near = drawn.place(0.5, 0.0).centre
        x, y = put.centre
        short = words.height / 2 + 0.5
        end = (x - drawn.outward[0] * short, y - drawn.outward[1] * short)
        canvas.line(near, end, "dim")


def arrow_head(canvas: Canvas, tip: Point, direction_rad: float, length: float = 2.0, css: str = "fill-ink") -> None:
    c, s = math.cos(direction_rad), math.sin(direction_rad)
    back = (tip[0] - length * c, tip[1] - length * s)
    half = length * 0.28
    canvas.polygon((tip, (back[0] - half * s, back[1] + half * c), (back[0] + half * s, back[1] - half * c)), css)


def scale_bar(canvas: Canvas, scale: Scale, middle: float, top: float) -> None:
    """The bar with its figures, and the scale in words beside it."""
    step_mm, count, unit = scale.bar()
    step = scale.paper(step_mm)
    left = middle - (step * count + 9 + text_width(f"Scale {scale.text}", "dim-text")) / 2
    for index in range(count):
        css = "bar-strong" if index % 2 == 0 else "bar"
        canvas.rect(left + index * step, top + 3.0, step, 1.4, css)
    unit_mm = 304.8 if scale.system == "imperial" else 1000.0
    marks = (0, 2, 4) if step < 8 else (0, 1, 2, 3, 4)
    for index in marks:
        words = f"{index * step_mm / unit_mm:.3g}"
        text = f"{words} {unit}" if index == count else words
        if unit == "ft" and step_mm < 100:
            text = f"{index * step_mm / 25.4:.3g}" + (" in" if index == count else "")
        canvas.write(block((text, "small-text")), Place((left + index * step, top + 1.2)))
    canvas.write_from(f"Scale {scale.text}", "dim-text", left + count * step + 9, top + 3.6)
