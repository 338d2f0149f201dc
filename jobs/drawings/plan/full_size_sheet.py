"""The sheets of a full-size template: each window of the layout with its bars, its marks and its name."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from catalog.core.ground.units import format_length
from catalog.drawings.svg import Point, document, element, escaped, polyline, words
from jobs.core.measure.survey import LINES
from jobs.drawings.plan.full_size import BAR_MM, NAMES, OVERLAP_MM, Grid, Layout, Place, Stroke, Template

OVERVIEW_MM = (174.0, 120.0)


@dataclass(frozen=True)
class Sheet:
    """One page: its name, row letter and column number, and its SVG."""

    name: str
    svg: str


def sheet_name(place: Place) -> str:
    """A1 at the top left, letters down, numbers across.

    >>> sheet_name((0, 0)), sheet_name((27, 4))
    ('A1', 'AB5')
    """
    letters, row = "", place[0] + 1
    while row:
        row, rest = divmod(row - 1, 26)
        letters = chr(65 + rest) + letters
    return f"{letters}{place[1] + 1}"


def sheets(layout: Layout) -> tuple[Sheet, ...]:
    return tuple(Sheet(sheet_name(place), _sheet(layout, place)) for place in layout.taken)


def _sheet(layout: Layout, place: Place) -> str:
    template, grid = layout.template, layout.grid
    (width, height), (x0, y0) = grid.window, grid.origin(place)
    shapes = [element("rect", {"x": 0.0, "y": 0.0, "width": width, "height": height, "class": "grid"})]
    for stroke in layout.taken[place]:
        shapes.append(_path(stroke.points, stroke.css))
        if stroke.name:
            shapes.append(_named(stroke, width, height))
    for (x, y), text in layout.labels:
        if 3 < x - x0 < width - 3 and 3 < y - y0 < height - 3:
            shapes.append(_words((x - x0 + 1.0, y - y0), text, "label-strong"))
    shapes += _overlap_marks(layout, place)
    shapes += _bars(width, height)
    about = f"{template.name}, piece {template.piece_index + 1}: sheet {sheet_name(place)}"
    shapes.append(_words((BAR_MM + 6, height + 9), words(about, 48), "label-strong"))
    thick = "Thick: finished faces. Thin: framing faces, studs."
    shapes.append(_words((BAR_MM + 6, height + 13.5), thick, "small-text"))
    return document(
        shapes,
        title=about,
        desc=f"Full size. {in_words(template)}",
        left=0.0,
        top=0.0,
        width=template.page_mm[0],
        height=template.page_mm[1],
    )


def _named(stroke: Stroke, width: float, height: float) -> str:
    x, y = stroke.points[len(stroke.points) // 2]
    place = (min(max(x + 1.0, 2.0), width - 22.0), min(max(y - 1.0, 4.0), height - 2.0))
    return _words(place, stroke.name, "small-text")


def _bars(width: float, height: float) -> list[str]:
    """A level and an upright bar: some printers scale the two ways differently."""
    y, x = height + 8.0, width + 5.0
    shapes = [_path(ends, "ink") for ends in (((0.0, y), (BAR_MM, y)), ((x, 0.0), (x, BAR_MM)))]
    for at in (0.0, BAR_MM):
        shapes += [_path(((at, y - 2), (at, y + 2)), "dim-tick"), _path(((x - 2, at), (x + 2, at)), "dim-tick")]
    sentence = "Print at 100 %, not fitted: this bar and the upright one measure 100 mm."
    return [*shapes, _words((0.0, height + 13.5), sentence, "small-text")]


def _overlap_marks(layout: Layout, place: Place) -> list[str]:
    """The middle of each overlap, on both sheets: laid right, the two lines are one."""
    width, height = layout.grid.window
    half = OVERLAP_MM / 2
    sides = (
        ((0, -1), ((half, 0.0), (half, height)), (half + 1, height / 2)),
        ((0, 1), ((width - half, 0.0), (width - half, height)), (width - half - 8, height / 2)),
        ((-1, 0), ((0.0, half), (width, half)), (width / 2, half + 3.5)),
        ((1, 0), ((0.0, height - half), (width, height - half)), (width / 2, height - half - 1.5)),
    )
    shapes = []
    for (down, across), ends, at in sides:
        beside = (place[0] + down, place[1] + across)
        if beside in layout.taken:
            shapes += [_path(ends, "hidden"), _words(at, sheet_name(beside), "small-text")]
    return shapes


def overview(layout: Layout) -> str:
    """All sheets as they lie together, small."""
    grid = layout.grid
    whole = (_whole(grid, 0, grid.columns), _whole(grid, 1, grid.rows))
    ratio = max(side / room for side, room in zip(whole, OVERVIEW_MM, strict=True))

    def small(point: Point) -> Point:
        return (point[0] - grid.left) / ratio, (point[1] - grid.top) / ratio

    width, height = (side / ratio for side in grid.window)
    shapes = []
    for place in layout.taken:
        x, y = small(grid.origin(place))
        shapes.append(element("rect", {"x": x, "y": y, "width": width, "height": height, "class": "grid"}))
    shapes += [_path([small(point) for point in stroke.points], "thin") for stroke in layout.strokes[: len(LINES)]]
    for place in layout.taken:
        x, y = small(grid.origin(place))
        shapes.append(_words((x + 1.2, y + 3.2), sheet_name(place), "small-text"))
    return document(
        shapes,
        title=f"{layout.template.name}, piece {layout.template.piece_index + 1}: how the sheets lie",
        desc=in_words(layout.template),
        left=0.0,
        top=0.0,
        width=round(whole[0] / ratio, 3),
        height=round(whole[1] / ratio, 3),
    )


def _whole(grid: Grid, way: int, count: int) -> float:
    return grid.window[way] + (count - 1) * (grid.window[way] - OVERLAP_MM)


def in_words(template: Template) -> str:
    curve, piece = template.curve, template.piece
    radii = [
        f"{NAMES[line]} {format_length(piece.radius_at(curve.offset_mm(line)), template.system)}" for line in LINES
    ]
    return f"Radii: {', '.join(radii)}."


def _path(points: Sequence[Point], css: str) -> str:
    return element("path", {"d": polyline(points), "class": css})


def _words(at: Point, text: str, css: str) -> str:
    return element("text", {"x": at[0], "y": at[1], "class": css}, escaped(text))
