"""What the small pictures of the pages have in common: they are drawn in pixels, for the width they are shown at.

Lines, marks and words have the classes of on_screen.css. No lettering is smaller than 12 px.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Literal

from catalog.core.ground.day_words import day_words
from catalog.drawings.lettering import width_at
from catalog.drawings.svg import Point, element, escaped, line_to, move, number, polyline, words

# Sizes of the words of `.on-screen`, px. A test compares them with the style sheet.
SIZES_PX = {"name": 14.0, "now": 18.0, "days": 13.0, "strong": 14.0, "late": 14.0, "small": 12.0}
# Above the baseline, and below it, in shares of the size.
ASCENT, DESCENT = 0.72, 0.22
Width = Literal["desk", "phone"]
WIDTHS_PX: dict[Width, float] = {"desk": 1224.0, "phone": 358.0}
HATCH_STEP_PX = 6.0


@dataclass(frozen=True)
class Room:
    """A rectangle taken on the picture, px."""

    left: float
    top: float
    right: float
    low: float

    def meets(self, other: Room) -> bool:
        apart = self.right <= other.left or other.right <= self.left
        return not (apart or self.low <= other.top or other.low <= self.top)


def room_of(x: float, y: float, text: str, css: str) -> Room:
    """What words take that begin at x on the baseline y; css: class of the words, first of several."""
    size = SIZES_PX[css.split()[0]]
    return Room(x, y - ASCENT * size, x + width_at(text, size), y + DESCENT * size)


@dataclass
class Screen:
    """A picture of a page while it is drawn, px."""

    width: float
    height: float
    shapes: list[str] = field(default_factory=list)

    def line(self, a: Point, b: Point, css: str) -> None:
        self.path(f"{move(a)} {line_to(b)}", css)

    def path(self, d: str, css: str) -> None:
        self.shapes.append(element("path", {"class": css, "d": d}))

    def polygon(self, points: tuple[Point, ...], css: str) -> None:
        self.path(polyline(points, closed=True), css)

    def circle(self, centre: Point, radius: float, css: str) -> None:
        self.shapes.append(element("circle", {"cx": centre[0], "cy": centre[1], "r": radius, "class": css}))

    def say(self, x: float, y: float, text: str, css: str) -> None:
        if text:
            self.shapes.append(element("text", {"x": x, "y": y, "class": css}, escaped(text)))

    def tick(self, at: Point, half: float, css: str) -> None:
        """A struck tick, as on a dimension."""
        self.line((at[0] - half, at[1] + half), (at[0] + half, at[1] - half), css)

    def pointer(self, tip: Point, css: str, half: float = 5.0, high: float = 9.0) -> None:
        """A mark that stands on its tip."""
        x, y = tip
        self.polygon(((x - half, y - high), (x + half, y - high), (x, y)), css)

    def hatch(self, room: Room, slant: float = 7.0) -> None:
        """Slanting strokes within a rectangle."""
        strokes, x = [], room.left
        while x < room.right:
            low, top = (x - slant, room.low), (x, room.top)
            if low[0] < room.left:
                share = (x - room.left) / slant
                low = (room.left, room.top + (room.low - room.top) * share)
            strokes.append(f"{move(low)} {line_to(top)}")
            x += HATCH_STEP_PX
        if strokes:
            self.path(" ".join(strokes), "hatch")

    def finished(self, title: str, css: str = "") -> str:
        sides = {"width": number(self.width), "height": number(self.height)}
        box = f"0 0 {sides['width']} {sides['height']}"
        drawn = {
            "xmlns": "http://www.w3.org/2000/svg",
            "class": f"on-screen {css}".strip(),
            "role": "img",
            "viewBox": box,
            **sides,
        }
        return element("svg", drawn, element("title", {}, escaped(words(title, 2000))), *self.shapes)


def weekday_day(day: date) -> str:
    """A day near today, where the year goes without saying.

    >>> weekday_day(date(2026, 12, 7))
    'Mon 7 Dec'
    """
    return day_words(day).rpartition(" ")[0]


@dataclass(frozen=True)
class Closure:
    """First and last day shut, and who is."""

    first: date
    last: date
    words: str = ""

    @property
    def after(self) -> date:
        return self.last + timedelta(days=1)
