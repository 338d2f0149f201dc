"""A wall as it will stand, seen from a little above, with what is behind left out; and small, for lists."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable

from catalog.core.ground.units import System, format_length
from catalog.drawings.canvas import Block, Canvas, Place, block
from catalog.drawings.dimensions import dimension_line
from catalog.drawings.scales import Scale
from catalog.drawings.svg import DrawingInputError, Picture, Point, document, element, polyline
from jobs.core.measure.curve import Curve, Face, resolve_line
from jobs.drawings.plan.plan_names import FACE_LINES, chord_and_rise, opening_size
from jobs.drawings.plan.plan_view import PlanView, joined, level_turn
from jobs.drawings.solid.fills import Fill, fills
from jobs.drawings.solid.sheet import Sheet
from jobs.drawings.solid.sides import Place3
from jobs.drawings.solid.stood import Cap, StandingWall, Stood, seen_from, seen_words, stood
from jobs.drawings.solid.visible import seen_edges

__all__ = ["Cap", "StandingWall", "seen_from", "seen_words", "standing_svg", "thumbnail_svg"]

SHADES, FEW_SHADES = 12, 2
# Room for a dimension and its figure, mm of paper.
ASIDE_MM, BELOW_MM = 10.0, 9.0
OUT_MM = 4.5
# Between places at which sight is looked into first, mm of paper.
STEP_MM = 2.0
# 120 by 64 px on a screen.
THUMBNAIL_MM = (31.75, 16.933)


def standing_svg(
    wall: StandingWall,
    *,
    title: str,
    system: System = "imperial",
    face: Face | None = None,
    ratio: float | None = None,
    width_mm: float = 107.0,
    max_height_mm: float = 90.0,
) -> Picture:
    """The wall standing, as large as fits, or at a ratio (mm of wall to 1 mm of paper), with its width and height.

    face: the one it is seen from, else as `seen_from` has it. Raises DrawingInputError when it does not fit, or runs
    into itself.
    """
    face = face or seen_from(wall)
    turned = stood(wall, face)
    fitting = max(_ratio(turned, width_mm - 2 * ASIDE_MM, max_height_mm - BELOW_MM - 4), 0.1)
    tried = [ratio] if ratio is not None else [fitting * more for more in (1.0, 1.1, 1.2, 1.35)]
    for scale in tried:
        canvas = Canvas()
        _draw(canvas, turned, scale)
        _draw_width(canvas, turned, Scale(scale, system))
        _draw_heights(canvas, turned, Scale(scale, system))
        if canvas.width <= width_mm - 1 and canvas.height <= max_height_mm:
            canvas.shapes = [_tight(shape) for shape in canvas.shapes]
            picture = canvas.finished(title=title, desc=described(wall, face, system), scale=None, width_mm=width_mm)
            return Picture(picture.svg, "", picture.width_mm, picture.height_mm, scale)
    raise DrawingInputError(
        f"ratio: the wall does not fit {width_mm:g} by {max_height_mm:g} mm of paper at 1:{tried[-1]:.0f}; "
        "give a smaller one"
    )


def thumbnail_svg(wall: StandingWall, *, title: str) -> Picture:
    """The wall standing, 120 by 64 px, without figures; its plan where it cannot stand. No wall is refused."""
    width, height = THUMBNAIL_MM
    canvas = Canvas()
    face = seen_from(wall)
    try:
        turned = stood(wall, face)
        sheet = Sheet(_ratio(turned, width - 1, height - 1))
        _fill(canvas, turned, fills(sheet, turned.body, turned.caps, FEW_SHADES, turned.outlines), sheet)
        sentence = f"Standing, seen {seen_words(wall.curve, face)}."
    except DrawingInputError:
        sentence = "In plan."
        _draw_plan(canvas, wall.curve)
    left, top, right, low = canvas.bounds
    corner = {"left": (left + right - width) / 2, "top": (top + low - height) / 2}
    svg = document(map(_tight, canvas.shapes), title=title, desc=sentence, width=width, height=height, **corner)
    return Picture(svg, "", width, height)


def _tight(shape: str) -> str:
    """A path without the spaces it can do without."""
    return re.sub(r" ([A-Z]) ", r"\1", shape).replace('d="M ', 'd="M')


def described(wall: StandingWall, face: Face, system: System) -> str:
    """The drawing in words, for those who do not see it."""
    curve = wall.curve
    sentences = [f"Standing, seen {seen_words(curve, face)}."]
    low, high = (format_length(level, system) for level in (curve.least_height_mm, curve.greatest_height_mm))
    sentences.append(f"Height {low}." if low == high else f"Height {low} to {high}.")
    sentences += [f"{laid.opening.name}: {opening_size(laid, system)}." for laid in curve.openings]
    return " ".join(sentences)


def _ratio(turned: Stood, width: float, height: float) -> float:
    """The least ratio at which it fits."""
    points = [Sheet(1.0).at(place) for place in turned.corners]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return max((max(xs) - min(xs)) / width, (max(ys) - min(ys)) / height)


def _draw(canvas: Canvas, turned: Stood, ratio: float) -> None:
    sheet = Sheet(ratio)
    _fill(canvas, turned, fills(sheet, turned.body, turned.caps, SHADES), sheet)
    paths: dict[str, list[str]] = {"far": [], "edge": []}
    for seen in seen_edges(turned.scene, turned.edges, STEP_MM * ratio):
        paths[seen.edge.weight] += [sheet.edge(seen.edge, part) for part in seen.parts]
    for css, parts in paths.items():
        if parts:
            canvas.shapes.append(element("path", {"class": css, "d": " ".join(parts)}))


def _fill(canvas: Canvas, turned: Stood, painted: Iterable[Fill], sheet: Sheet) -> None:
    for fill in painted:
        opacity: dict[str, str | float] = {} if fill.opacity == 1.0 else {"fill-opacity": fill.opacity}
        canvas.shapes.append(element("path", {"class": fill.css, **opacity, "d": fill.path}))
    canvas.reach(sheet.at(place) for place in turned.corners)


def _draw_width(canvas: Canvas, turned: Stood, scale: Scale) -> None:
    """The chord, as it was measured, of a single arc of at most half a circle; else the width over all."""
    curve = turned.wall.curve
    piece = curve.pieces[0]
    x0, _, x1, low = canvas.bounds
    sheet, first, last = Sheet(scale.ratio), turned.body[0], turned.body[-1]
    y = max(
        sheet.at((*point, 0.0))[1] for point in (first.left.start, first.right.start, last.left.end, last.right.end)
    )
    if len(curve.pieces) == 1 and piece.is_arc and piece.sweep_rad <= math.pi:
        wide = chord_and_rise(curve, piece)[0]
        middle = _middle(turned, curve)
        x0, x1 = (scale.paper(middle + half * wide / 2) for half in (-1, 1))
    else:
        wide = (x1 - x0) * scale.ratio
    line = dimension_line(canvas, (x0, y), (x1, y), y - low - OUT_MM)
    if line:
        _write(canvas, block((format_length(wide, scale.system), "dim-text")), (line.p, line.q), 0.0)


def _middle(turned: Stood, curve: Curve) -> float:
    line = resolve_line(curve.measured_on, curve.pieces[0].turn)
    first, last = turned.body[0], turned.body[-1]
    left, right = curve.offset_mm("left_finished"), curve.offset_mm("right_finished")
    part = (left - curve.offset_mm(line)) / (left - right)
    start, end = (first.left.start[0], first.right.start[0]), (last.left.end[0], last.right.end[0])
    return sum(low + (other - low) * part for low, other in (start, end)) / 2


def _draw_heights(canvas: Canvas, turned: Stood, scale: Scale) -> None:
    """From the floor to the top at the left of the drawing; at its right too where that differs."""
    sheet = Sheet(scale.ratio)
    edges = sorted(_uprights(turned), key=lambda edge: edge[0][0])
    left, right = edges[0], edges[-1]
    for (foot, top), way in ((left, 1.0), (right, -1.0)):
        height = format_length(top[2] - foot[2], scale.system)
        if way < 0 and height == format_length(left[1][2] - left[0][2], scale.system):
            continue
        line = dimension_line(canvas, sheet.at(foot), sheet.at(top), way * OUT_MM)
        if line:
            _write(canvas, block((height, "dim-text")), (line.p, line.q), -90.0, way)


def _uprights(turned: Stood) -> list[tuple[Place3, Place3]]:
    """Foot and top wherever a run begins or ends."""
    lines = []
    for run, above in zip(turned.body, turned.caps or turned.body, strict=True):
        for side in run.sides:
            for point, share in ((side.start, run.first), (side.end, run.last)):
                lines.append(((*point, run.foot(share)), (*point, above.top(share))))
    return lines


def _write(canvas: Canvas, label: Block, ends: tuple[Point, Point], angle: float, way: float = 1.0) -> None:
    """A figure in a gap of its line, or beyond a line that is too short for one."""
    (x0, y0), (x1, y1) = ends
    centre = (x0 + x1) / 2, (y0 + y1) / 2
    if math.dist(*ends) < label.width + 3.5:
        away = label.height / 2 + 2.2
        centre = (centre[0] - way * away, centre[1]) if angle else (centre[0], centre[1] + away)
    else:
        gap = label.box(centre, angle, 1.0)
        canvas.texts.append(element("path", {"class": "fill-paper", "d": polyline(gap.corners, closed=True)}))
    canvas.write(label, Place(centre, angle))


def _draw_plan(canvas: Canvas, curve: Curve) -> None:
    """Both faces and the ends in plan, for a thumbnail."""
    width, height = THUMBNAIL_MM
    x0, y0, x1, y1 = PlanView(curve, 1.0, level_turn(curve)).extents()
    view = PlanView(curve, max((x1 - x0) / (width - 1), (y1 - y0) / (height - 1)), level_turn(curve))
    offsets = [curve.offset_mm(line) for line in FACE_LINES.values()]
    for piece in curve.pieces:
        for offset in offsets:
            canvas.path(view.run(piece, (0.0, 1.0), offset), "edge", view.sampled(piece, (0.0, 1.0), offset))
    for piece, share in ((curve.pieces[0], 0.0), (curve.pieces[-1], 1.0)):
        canvas.path(joined([view.at(piece, share, offset) for offset in offsets]), "edge")
