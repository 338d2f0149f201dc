"""How wide words are and where they fit: sizes of the text classes, and a placer that keeps words apart."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import pairwise

from catalog.drawings.svg import Point, words

# Heights of the text classes of the drawing style sheet, mm.
SIZES_MM = {"label": 3.2, "label-strong": 3.2, "dim-text": 2.6, "small-text": 2.3, "red-text": 2.8, "red-small": 2.3}
# A drawing so wide fills its column with no words under 12 px: a phone's 358 px, 730 px beside a form on a desk.
PX_A_MM = 12 / SIZES_MM["small-text"]
PHONE_MM, DESK_MM = 358 / PX_A_MM, 730 / PX_A_MM
CAP_HEIGHT = 0.66
DESCENT = 0.2
LEADING = 1.2

# Advance widths of Source Sans Pro Semibold in thousandths of its size: the wider of the two weights in use, so
# that a box is never too small. From the font's own table; the tests read it again.
_ADVANCES = (
    (200, " "), (255, "|"), (263, "ij"), (271, "l"), (275, "',.:;·′"), (282, "I"), (315, "!"), (317, "f"),
    (322, "-"), (324, "()[]{}"), (350, "/\\"), (348, "°"), (361, "t"), (373, "r"), (431, "s"), (438, "*"),
    (443, "z"), (444, "?"), (462, "c"), (480, "–"), (481, "x"), (482, '"″'), (494, "J"), (495, "vy"),
    (500, "_"), (501, "Y"), (502, "L"), (507, "e"), (510, "F"), (513, "0123456789+=<>#$~^×"), (516, "a"),
    (520, "g"), (522, "k"), (536, "V"), (538, "E"), (540, "Z"), (541, "X"), (545, "S"), (546, "T"),
    (549, "o`"), (556, "u"), (558, "hA"), (560, "n"), (563, "b"), (564, "dpq"), (576, "C"), (582, "P"),
    (592, "R"), (597, "BK"), (625, "D"), (628, "G"), (639, "&"), (655, "U"), (656, "N"), (663, "H"),
    (674, "OQ"), (745, "M"), (748, "w"), (800, "W—"), (841, "%"), (843, "m"), (875, "@"), (963, "…"),
)  # fmt: skip
ADVANCE_OF = {character: advance for advance, characters in _ADVANCES for character in characters}
# A character not in the table is taken as a full square, which no letter of a book face exceeds by much.
UNKNOWN_ADVANCE = 1000


def text_width(text: str, css: str) -> float:
    """Width of words in mm of paper in one of the text classes.

    >>> round(text_width("24", "label"), 3)
    3.283
    """
    return width_at(text, SIZES_MM[css])


def width_at(text: str, size: float) -> float:
    """Width of words set in a size, in the unit of the size."""
    return sum(ADVANCE_OF.get(c, UNKNOWN_ADVANCE) for c in text) * size / 1000


def fitted(text: str, css: str, width_mm: float) -> str:
    """Words cut to a width, with an ellipsis when something was left out.

    >>> fitted("Reception screen", "label", 12.0)
    'Recep…'
    """
    text = words(text)
    if text_width(text, css) <= width_mm:
        return text
    while text and text_width(text + "…", css) > width_mm:
        text = text[:-1]
    return text.rstrip() + "…"


@dataclass(frozen=True)
class Box:
    """A convex outline on the paper: four corners, or the two ends of a line."""

    corners: tuple[Point, ...]

    @cached_property
    def bounds(self) -> tuple[float, float, float, float]:
        xs, ys = [p[0] for p in self.corners], [p[1] for p in self.corners]
        return (min(xs), min(ys), max(xs), max(ys))

    @cached_property
    def is_square_on(self) -> bool:
        """Whether its edges run along the paper's own, so that its bounds say all."""
        x0, y0, x1, y1 = self.bounds
        if len(self.corners) == 2:
            return x0 == x1 or y0 == y1
        return all(x in (x0, x1) and y in (y0, y1) for x, y in self.corners)

    @cached_property
    def axes(self) -> tuple[tuple[float, float, float, float], ...]:
        """Across each edge, the direction and how far the outline reaches along it, less what rounding may add."""
        corners, rows = self.corners, []
        # The two ends of a line have one direction between them, not two.
        starts = corners if len(corners) > 2 else corners[:1]
        for (ax, ay), (bx, by) in zip(starts, (*corners[1:], corners[0]), strict=False):
            nx, ny = by - ay, ax - bx
            reach = [x * nx + y * ny for x, y in corners]
            slack = 1e-9 * (abs(nx) + abs(ny))
            rows.append((nx, ny, min(reach) + slack, max(reach) - slack))
        return tuple(rows)


def turned_box(centre: Point, width: float, height: float, angle_deg: float = 0.0) -> Box:
    """A box about its centre, turned clockwise as seen on the paper."""
    c, s = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    half_w, half_h = width / 2, height / 2
    corners = ((-half_w, -half_h), (half_w, -half_h), (half_w, half_h), (-half_w, half_h))
    return Box(tuple((centre[0] + x * c - y * s, centre[1] + x * s + y * c) for x, y in corners))


def overlap(box: Box, other: Box) -> bool:
    """Whether two convex outlines share more than an edge, by looking for an axis that parts them.

    >>> overlap(turned_box((0, 0), 2, 2), turned_box((1.9, 0), 2, 2)), overlap(
    ...     turned_box((0, 0), 2, 2), turned_box((2.1, 0), 2, 2))
    (True, False)
    """
    for shape, against in ((box, other), (other, box)):
        corners = against.corners
        for nx, ny, low, high in shape.axes:
            reach = [x * nx + y * ny for x, y in corners]
            if high <= min(reach) or max(reach) <= low:
                return False
    return True


Bounds = tuple[float, float, float, float]
CELL_MM = 10.0


@dataclass
class Shelf:
    """Outlines kept by the squares of the sheet they touch, so that few are looked at."""

    cells: dict[tuple[int, int], list[tuple[Box, Bounds]]] = field(default_factory=dict)

    def add(self, box: Box) -> None:
        pair = (box, box.bounds)
        for cell in _cells(pair[1]):
            self.cells.setdefault(cell, []).append(pair)

    def count(self, box: Box) -> int:
        """How many of the outlines kept this one overlaps."""
        x0, y0, x1, y1 = bounds = box.bounds
        seen: set[int] = set()
        met = 0
        for cell in _cells(bounds):
            for other, (a0, b0, a1, b1) in self.cells.get(cell, ()):
                if id(other) not in seen and a0 < x1 and x0 < a1 and b0 < y1 and y0 < b1:
                    seen.add(id(other))
                    met += (box.is_square_on and other.is_square_on) or overlap(box, other)
        return met


def _cells(bounds: Bounds) -> list[tuple[int, int]]:
    x0, y0, x1, y1 = (math.floor(value / CELL_MM) for value in bounds)
    return [(x, y) for x in range(x0, x1 + 1) for y in range(y0, y1 + 1)]


@dataclass
class Placer:
    """What is already on the paper. Solid things must not be covered; lines may be, if nothing else is left."""

    solid: Shelf = field(default_factory=Shelf)
    words: Shelf = field(default_factory=Shelf)
    lines: Shelf = field(default_factory=Shelf)

    def add(self, box: Box) -> None:
        self.solid.add(box)

    def add_words(self, box: Box) -> None:
        self.solid.add(box)
        self.words.add(box)

    def add_line(self, points: Sequence[Point]) -> None:
        for a, b in pairwise(points):
            if a != b:
                self.lines.add(Box((a, b)))

    def words_crossed(self, a: Point, b: Point) -> int:
        return self.words.count(Box((a, b))) if a != b else 0

    def cost(self, box: Box) -> int:
        """0 when free; a line crossed costs 1, something solid covered 100."""
        return 100 * self.solid.count(box) + self.lines.count(box)
