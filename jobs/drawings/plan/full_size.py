"""An arc at full size over many sheets of office paper, to be laid together and cut from as a template.

Sheets overlap; the dashed lines in the overlaps lie on one another when two sheets are laid right. Both bars on
every sheet measure 100 mm when the printer did not scale.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from catalog.core.ground.units import System
from catalog.drawings.svg import DrawingInputError, Point
from jobs.core.framing.framing import Framing
from jobs.core.measure.curve import Curve, CurvePiece
from jobs.core.measure.survey import LINES, Line

BAR_MM = 100.0
OVERLAP_MM = 12.0
# Room beside and below the drawing for the two bars and the words.
GUTTER_MM, STRIP_MM = 9.0, 19.0
Place = tuple[int, int]
MAX_PAGES = 60
# A chord off its arc by less than the finest pen line is the arc.
SAGITTA_MM = 0.01
CSS: dict[Line, str] = {
    "left_finished": "ink",
    "left_framing": "thin",
    "centre": "centre",
    "right_framing": "thin",
    "right_finished": "ink",
}
NAMES: dict[Line, str] = {
    "left_finished": "left finished",
    "left_framing": "left framing",
    "centre": "centreline",
    "right_framing": "right framing",
    "right_finished": "right finished",
}


@dataclass(frozen=True)
class Template:
    """What is drawn full size: an arc of the wall, or its first stretch_mm along the longer finished face.

    page_mm: room on a sheet for drawing and bars together, width and height.
    """

    name: str
    curve: Curve
    piece_index: int
    page_mm: tuple[float, float]
    system: System = "imperial"
    framing: Framing | None = None
    stretch_mm: float | None = None

    def __post_init__(self) -> None:
        if not 0 <= self.piece_index < len(self.curve.pieces) or not self.piece.is_arc:
            raise DrawingInputError(
                f"piece: {self.piece_index + 1} is not an arc of this wall; a template is made of an arc"
            )
        if self.stretch_mm is not None and not self.stretch_mm >= BAR_MM:
            raise DrawingInputError(f"stretch: a template is at least 100 mm long; {self.stretch_mm:g} was given")

    @property
    def piece(self) -> CurvePiece:
        return self.curve.pieces[self.piece_index]

    @property
    def share(self) -> float:
        """How much of the arc is drawn."""
        if self.stretch_mm is None:
            return 1.0
        line = self.curve.line_of(self.piece, "convex", "finished")
        return min(1.0, self.stretch_mm / self.piece.length_at(self.curve.offset_mm(line)))


@dataclass(frozen=True)
class Stroke:
    """A run of straights too short to tell from the arc. name: of the line, "" for what runs across the wall."""

    points: tuple[Point, ...]
    css: str
    name: str = ""


@dataclass(frozen=True)
class Layout:
    """The drawing laid on its grid. taken: the strokes on each sheet that holds any, by row and column from 0.
    labels: numbers of the studs and where they stand."""

    template: Template
    grid: Grid
    strokes: tuple[Stroke, ...]
    labels: tuple[tuple[Point, str], ...]
    taken: dict[Place, tuple[Stroke, ...]]


@dataclass(frozen=True)
class Grid:
    """The window of each sheet, on the drawing laid with the chord level. left, top: of the first window."""

    left: float
    top: float
    window: tuple[float, float]
    columns: int
    rows: int

    def origin(self, place: Place) -> Point:
        row, column = place
        width, height = self.window
        return self.left + column * (width - OVERLAP_MM), self.top + row * (height - OVERLAP_MM)


def lay_out(template: Template) -> Layout:
    """The sheets that hold some of the arc. Raises DrawingInputError when they are more than can be laid together."""
    strokes = tuple(_strokes(template))
    grid = _grid(template, [point for stroke in strokes for point in stroke.points])
    places = [(row, column) for row in range(grid.rows) for column in range(grid.columns)]
    cuts = ((place, tuple(_cut(strokes, grid, place))) for place in places)
    taken = {place: cut for place, cut in cuts if _needs_a_sheet(cut, grid.window)}
    if len(taken) > MAX_PAGES:
        raise DrawingInputError(
            f"pages: this arc takes {len(taken)} sheets at full size, and {MAX_PAGES} are the most. Ask for a "
            "stretch of it: swung along, it serves the whole arc"
        )
    return Layout(template, grid, strokes, tuple(_labels(template)), taken)


def _levelled(template: Template, points: Iterable[Point]) -> tuple[Point, ...]:
    """Turned so that the chord is level, paper's y running down."""
    piece = template.piece
    (x0, y0), (x1, y1) = piece.start, piece.point_at(template.share)
    level = piece.heading_rad if math.dist((x0, y0), (x1, y1)) < 1.0 else math.atan2(y1 - y0, x1 - x0)
    c, s = math.cos(level), math.sin(level)
    return tuple(((x - x0) * c + (y - y0) * s, (x - x0) * s - (y - y0) * c) for x, y in points)


def _strokes(template: Template) -> list[Stroke]:
    curve, piece = template.curve, template.piece
    strokes = []
    for line in LINES:
        offset = curve.offset_mm(line)
        step = math.sqrt(8 * SAGITTA_MM / piece.radius_at(offset))
        count = max(2, math.ceil(piece.sweep_rad * template.share / step))
        points = [piece.point_at(template.share * n / count, offset) for n in range(count + 1)]
        strokes.append(Stroke(_levelled(template, points), CSS[line], NAMES[line]))
    for share in (0.0, template.share):
        strokes.append(_across(template, share, "left_finished", "right_finished", "ink"))
    strokes += [_across(template, share, "left_framing", "right_framing", "thin") for share, _ in _studs(template)]
    return strokes


def _across(template: Template, share: float, first: Line, other: Line, css: str) -> Stroke:
    ends = [template.piece.point_at(share, template.curve.offset_mm(line)) for line in (first, other)]
    return Stroke(_levelled(template, ends), css)


def _studs(template: Template) -> list[tuple[float, int]]:
    """Share of the piece and number of each place studs stand at, numbered as in the table of stud marks."""
    framing, piece = template.framing, template.piece
    if framing is None or not framing.is_complete:
        return []
    places: list[float] = []
    for along in framing.stud_positions_mm:
        if not places or along - places[-1] > 1e-3:
            places.append(along)
    shares = [((along - piece.start_mm) / piece.length_mm, number) for number, along in enumerate(places, start=1)]
    return [(share, number) for share, number in shares if -1e-9 <= share <= template.share + 1e-9]


def _labels(template: Template) -> list[tuple[Point, str]]:
    """Numbers of the studs, beside their lines."""
    curve, piece = template.curve, template.piece
    names: list[tuple[Point, str]] = []
    for share, number in _studs(template):
        names.append((piece.point_at(share, curve.stud_depth_mm * 0.25), str(number)))
    placed = _levelled(template, [point for point, _ in names])
    return list(zip(placed, [text for _, text in names], strict=True))


def _grid(template: Template, points: Sequence[Point]) -> Grid:
    window = (template.page_mm[0] - GUTTER_MM, template.page_mm[1] - STRIP_MM)
    if min(window) < BAR_MM + 2 * OVERLAP_MM:
        raise DrawingInputError(f"paper: {template.page_mm} mm is too little for a sheet with a bar of 100 mm")
    xs, ys = [x for x, _ in points], [y for _, y in points]
    spans = (max(xs) - min(xs), max(ys) - min(ys))
    margin = OVERLAP_MM
    counts = [
        max(1, math.ceil((span + 2 * margin - OVERLAP_MM) / (side - OVERLAP_MM)))
        for span, side in zip(spans, window, strict=True)
    ]
    if counts[0] * counts[1] > 10_000:
        raise DrawingInputError(
            "pages: this arc is too large for paper at full size; ask for a stretch of it, which serves the whole arc"
        )
    return Grid(min(xs) - margin, min(ys) - margin, window, counts[0], counts[1])


def _cut(strokes: Sequence[Stroke], grid: Grid, place: Place) -> list[Stroke]:
    """The parts of the strokes inside one window, in its own coordinates."""
    x0, y0 = grid.origin(place)
    cut = []
    for stroke in strokes:
        chain: list[Point] = []
        for start, other in pairwise((x - x0, y - y0) for x, y in stroke.points):
            part = clipped(start, other, grid.window)
            if part is None:
                continue
            if chain and chain[-1] != part[0]:
                cut.append(Stroke(tuple(chain), stroke.css, stroke.name))
                chain = []
            chain += part if not chain else part[1:]
        if chain:
            cut.append(Stroke(tuple(chain), stroke.css, stroke.name))
    return cut


def _needs_a_sheet(cut: Iterable[Stroke], window: tuple[float, float]) -> bool:
    """What lies beyond the middle of every overlap is on the neighbour as well, and needs no sheet for itself."""
    half = OVERLAP_MM / 2
    inner = (window[0] - OVERLAP_MM, window[1] - OVERLAP_MM)
    return any(
        clipped((start[0] - half, start[1] - half), (other[0] - half, other[1] - half), inner)
        for stroke in cut
        for start, other in pairwise(stroke.points)
    )


def clipped(head: Point, tail: Point, window: tuple[float, float]) -> list[Point] | None:
    """The part of a straight inside the window from 0,0, or None. Liang and Barsky's way of clipping.

    >>> clipped((-10.0, 5.0), (30.0, 5.0), (20.0, 10.0))
    [(0.0, 5.0), (20.0, 5.0)]
    """
    low, high = 0.0, 1.0
    for start, end, side in zip(head, tail, window, strict=True):
        reach = end - start
        if abs(reach) < 1e-12:
            if not 0 <= start <= side:
                return None
            continue
        first, last = sorted(((0 - start) / reach, (side - start) / reach))
        low, high = max(low, first), min(high, last)
    if high - low < 1e-12:
        return None
    return [_between(head, tail, share) for share in (low, high)]


def _between(start: Point, other: Point, share: float) -> Point:
    if share in (0.0, 1.0):
        # As it stands, so that neighbouring parts meet in the very same point.
        return other if share else start
    return start[0] + (other[0] - start[0]) * share, start[1] + (other[1] - start[1]) * share
