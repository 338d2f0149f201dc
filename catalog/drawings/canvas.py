"""The sheet a picture is drawn on: lines, words that keep clear of one another, dimensions, leaders."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from catalog.drawings.lettering import CAP_HEIGHT, DESCENT, LEADING, SIZES_MM, Box, Placer, text_width, turned_box
from catalog.drawings.scales import Scale
from catalog.drawings.svg import (
    Picture,
    Point,
    document,
    element,
    escaped,
    line_to,
    move,
    polyline,
    words,
)

MARGIN_MM = 2.0
# Between sides words are left out rather than set on other words; a line or two they may cross.
LEFT_OUT, BEYOND = 8, 1 << 30
Line = tuple[str, str]
"""Words and the text class they are set in."""


@dataclass(frozen=True)
class Block:
    """One to a few lines of words set as one, centred on its place."""

    lines: tuple[Line, ...]

    @cached_property
    def width(self) -> float:
        return max(text_width(text, css) for text, css in self.lines)

    @cached_property
    def height(self) -> float:
        sizes = [SIZES_MM[css] for _, css in self.lines]
        return sizes[0] * (CAP_HEIGHT + DESCENT) + sum(size * LEADING for size in sizes[1:])

    def box(self, centre: Point, angle_deg: float = 0.0, room: float = 0.5) -> Box:
        return turned_box(centre, self.width + 2 * room, self.height + 2 * room, angle_deg)


def block(*lines: Line) -> Block:
    return Block(tuple((words(text), css) for text, css in lines if text.strip()))


@dataclass(frozen=True)
class Place:
    """Where a block may go: its middle and its turn, clockwise on the paper, in degrees."""

    centre: Point
    angle_deg: float = 0.0


@dataclass
class Canvas:
    shapes: list[str] = field(default_factory=list)
    texts: list[str] = field(default_factory=list)
    placer: Placer = field(default_factory=Placer)
    bounds: list[float] = field(default_factory=lambda: [math.inf, math.inf, -math.inf, -math.inf])
    sides: tuple[float, float] | None = None
    """Left and right edge no words may reach beyond; those that find no other place are left out."""

    def reach(self, points: Iterable[Point]) -> None:
        box = self.bounds
        for x, y in points:
            box[0], box[1], box[2], box[3] = min(box[0], x), min(box[1], y), max(box[2], x), max(box[3], y)

    def path(self, d: str, css: str, along: Sequence[Point] = (), keep_clear: bool = True) -> None:
        """A path; `along` samples it, so that the sheet is large enough and words keep off it."""
        self.shapes.append(element("path", {"class": css, "d": d}))
        self.reach(along)
        if keep_clear:
            self.placer.add_line(along)

    def line(self, a: Point, b: Point, css: str, keep_clear: bool = True) -> None:
        self.path(f"{move(a)} {line_to(b)}", css, (a, b), keep_clear)

    def rect(self, x: float, y: float, width: float, height: float, css: str, keep_clear: bool = False) -> None:
        self.shapes.append(
            element("rect", {"x": x, "y": y, "width": max(width, 0), "height": max(height, 0), "class": css})
        )
        corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
        self.reach(corners)
        if keep_clear:
            self.placer.add_line((*corners, corners[0]))

    def polygon(self, points: Sequence[Point], css: str) -> None:
        self.shapes.append(element("path", {"class": css, "d": polyline(points, closed=True)}))
        self.reach(points)

    def circle(self, centre: Point, radius: float, css: str) -> None:
        self.shapes.append(element("circle", {"cx": centre[0], "cy": centre[1], "r": radius, "class": css}))
        self.reach(((centre[0] - radius, centre[1] - radius), (centre[0] + radius, centre[1] + radius)))

    def write(self, wording: Block, place: Place, masked: bool = False) -> None:
        """Set a block where it is told, whatever is there; masked puts paper behind it."""
        box = wording.box(place.centre, place.angle_deg, 0.3)
        self.reach(box.corners)
        self.placer.add_words(box)
        if masked:
            self.texts.append(element("path", {"class": "fill-paper", "d": polyline(box.corners, closed=True)}))
        x, y = place.centre
        baseline = y - wording.height / 2
        for index, (text, css) in enumerate(wording.lines):
            baseline += SIZES_MM[css] * (LEADING if index else CAP_HEIGHT)
            at: dict[str, str | float] = {"x": x, "y": baseline, "class": f"{css} at-middle"}
            if abs(place.angle_deg) > 0.05:
                at["transform"] = f"rotate({place.angle_deg:.2f} {x:.3f} {y:.3f})"
            self.texts.append(element("text", at, escaped(text)))

    def write_from(self, text: str, css: str, left: float, y: float) -> float:
        """Words from a left edge, their middle height at y; gives back where they end."""
        wording = block((text, css))
        if not wording.lines:
            return left
        box = wording.box((left + wording.width / 2, y), 0.0, 0.3)
        self.reach(box.corners)
        self.placer.add_words(box)
        baseline = y - wording.height / 2 + SIZES_MM[css] * CAP_HEIGHT
        self.texts.append(element("text", {"x": left, "y": baseline, "class": css}, escaped(wording.lines[0][0])))
        return left + wording.width

    def put(self, text: Block, places: Iterable[Place], most: int = 1 << 30) -> Place | None:
        """Set a block at the first free place, or the least bad one; None when all cost more than `most`."""
        if not text.lines:
            return None
        best, least = None, (most if self.sides is None else min(most, LEFT_OUT)) + 1
        for place in places:
            cost = self._cost(text.box(place.centre, place.angle_deg))
            if cost < least:
                best, least = place, cost
            if cost == 0:
                break
        if best is not None:
            self.write(text, best, masked=least > 0)
        return best

    def leader(self, tip: Point, text: Block, places: Sequence[Place]) -> None:
        """A block set apart, with a thin line from its nearer edge to a dot at the tip."""
        best, least = None if self.sides else places[0], 1 << 30 if self.sides is None else LEFT_OUT + 1
        for place in places:
            cost = self._cost(text.box(place.centre))
            if cost < least:
                # The line may cross the wall it points into, but not other words; it is tried last: it costs more.
                cost += 30 * self.placer.words_crossed(_leader_start(tip, text, place.centre), tip)
            if cost < least:
                best, least = place, cost
            if cost == 0:
                break
        if best is None:
            return
        self.write(text, best, masked=least > 0)
        self.line(_leader_start(tip, text, best.centre), tip, "dim")
        self.circle(tip, 0.45, "fill-ink")

    def _cost(self, box: Box) -> int:
        if self.sides is not None and (box.bounds[0] < self.sides[0] or box.bounds[2] > self.sides[1]):
            return BEYOND
        return self.placer.cost(box)

    def finished(self, *, title: str, desc: str, scale: Scale | None, width_mm: float) -> Picture:
        """The picture, centred on the width asked for and as high as it turned out."""
        left, top, right, low = self.bounds
        box_left = (left + right) / 2 - width_mm / 2
        height = math.ceil((low - top + 2 * MARGIN_MM) * 10) / 10
        svg = document(
            (*self.shapes, *self.texts),
            title=title,
            desc=desc,
            left=box_left,
            top=top - MARGIN_MM,
            width=width_mm,
            height=height,
        )
        if scale is None:
            return Picture(svg, "", width_mm, height)
        return Picture(svg, scale.text, width_mm, height, scale.ratio)

    @property
    def width(self) -> float:
        return self.bounds[2] - self.bounds[0]

    @property
    def height(self) -> float:
        return self.bounds[3] - self.bounds[1]


def _leader_start(tip: Point, text: Block, centre: Point) -> Point:
    x, y = centre
    if abs(tip[0] - x) < text.width / 2:
        return (x, y - text.height / 2 - 0.6 if tip[1] < y else y + text.height / 2 + 0.6)
    return (x - text.width / 2 - 0.8 if tip[0] < x else x + text.width / 2 + 0.8, y)


def upright(angle_deg: float) -> float:
    """An angle turned by half a circle when words at it would stand on their heads; upright ones read upwards.

    >>> upright(170.0), upright(-30.0), upright(90.0)
    (-10.0, -30.0, -90.0)
    """
    angle = (angle_deg + 180.0) % 360.0 - 180.0
    if angle >= 90.0 - 1e-6:
        return angle - 180.0
    return angle + 180.0 if angle < -90.0 - 1e-6 else angle


def places_around(canvas: Canvas, tip: Point, width: float) -> list[Place]:
    """Places outside all that is drawn so far, the nearest first."""
    x0, y0, x1, y1 = canvas.bounds
    half = width / 2 + 5
    heights = (tip[1], tip[1] - 7, tip[1] + 7, y0 + 4, y1 - 4)
    places = [Place((x, y)) for x in (x1 + half, x0 - half) for y in heights]
    return sorted(places, key=lambda place: math.dist(place.centre, tip))
