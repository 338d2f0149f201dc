"""The figures and words of a developed face: dimensions, names of openings, pieces and trims, the scale."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from catalog.core.ground.units import System, format_length
from catalog.drawings.canvas import Canvas, Place, block
from catalog.drawings.dimensions import DimensionLine, dimension, dimension_line, dimension_text, scale_bar
from catalog.drawings.lettering import fitted, text_width
from catalog.drawings.scales import Scale
from catalog.drawings.svg import line_to, move
from jobs.core.boards.boards import FacePlan
from jobs.core.measure.curve import OpeningOnCurve
from jobs.drawings.faces.face_view import FaceView, TrimBand
from jobs.drawings.plan.plan_names import FACE_LINES, opening_size, side_name

ENDS = {"right": ("Start", "End"), "left": ("End", "Start")}


def draw_figures(canvas: Canvas, view: FaceView, scale: Scale, trims: Sequence[TrimBand]) -> None:
    system = scale.system
    wide = view.length_mm / view.ratio
    for laid in view.curve.openings:
        name_opening(canvas, view, laid, system)
    draw_heights(canvas, view, system, wide)
    _mark_trims(canvas, view, trims, wide + (4.5 if view.curve.heights.is_level else 11.5))
    name_ends(canvas, view)
    chain = chain_lines(canvas, view, system)
    _name_pieces(canvas, view, system)
    # Figures that fit are set first, so that one too wide never takes another's place.
    for line, text in sorted(chain, key=lambda part: not part[0].holds(part[1])):
        dimension_text(canvas, line, text)
    overall = f"{format_length(view.length_mm, system)} along the {view.face} finished face"
    dimension(canvas, (0.0, 0.0), (wide, 0.0), overall, -(canvas.bounds[3] + (2.4 if chain else 5.0)))


def name_ends(canvas: Canvas, view: FaceView) -> None:
    wide = view.length_mm / view.ratio
    left, right = (block((word, "small-text")) for word in ENDS[view.face])
    canvas.write(left, Place((left.width / 2, 2.6)))
    canvas.write(right, Place((wide - right.width / 2, 2.6)))


def name_opening(canvas: Canvas, view: FaceView, laid: OpeningOnCurve, system: System) -> None:
    x0, x1 = sorted(view.x(edge) for edge in view.span(laid))
    low, high = view.y(laid.opening.head_mm), view.y(laid.opening.sill_mm)
    lines = [(fitted(laid.opening.name, "label-strong", 48.0), "label-strong")]
    lines.append((opening_size(laid, system), "dim-text"))
    if not laid.opening.reaches_floor:
        lines.append((f"sill {format_length(laid.opening.sill_mm, system)}", "dim-text"))
    label = block(*lines)
    middle = ((x0 + x1) / 2, (low + high) / 2)
    if label.width <= x1 - x0 - 1 and label.height <= high - low - 1:
        canvas.write(label, Place(middle))
    elif label.width <= high - low - 1 and label.height <= x1 - x0 - 1:
        canvas.write(label, Place(middle, -90.0))
    else:
        top = view.y(view.curve.greatest_height_mm) - label.height / 2 - 1.5
        slides = (0.0, 12.0, -12.0, 24.0, -24.0)
        places = [Place((middle[0] + slide, top - rise)) for rise in (0.0, 6.0, 12.0) for slide in slides]
        canvas.leader(middle, label, places)


def trim_mark(index: int) -> str:
    """A mark for the nth trim from 0: A to Z, then AA and so on."""
    mark = chr(ord("A") + index % 26)
    return mark if index < 26 else trim_mark(index // 26 - 1) + mark


def _mark_trims(canvas: Canvas, view: FaceView, trims: Sequence[TrimBand], x: float) -> None:
    """A letter in line with each band, to the right of the face; the foot says what it stands for."""
    wide = view.length_mm / view.ratio
    end = view.curve.centre_length_mm - 1e-6 if view.face == "right" else 0.0
    for index, band in enumerate(trims):
        foot = view.ceiling(end) - band.height_mm if band.foot_mm is None else band.foot_mm
        tip = (wide, view.y(foot + band.height_mm / 2))
        label = block((trim_mark(index), "dim-text"))
        canvas.leader(tip, label, [Place((x, tip[1] + dy)) for dy in (0.0, -3.2, 3.2, -6.4, 6.4, -9.6, 9.6)])


def _name_pieces(canvas: Canvas, view: FaceView, system: System) -> None:
    """Which way the face bows, piece by piece, under the floor; a mark where pieces meet."""
    curve, line = view.curve, FACE_LINES[view.face]
    for piece in curve.pieces:
        first, last = view.developed(piece.start_mm), view.developed(piece.end_mm)
        if piece.index:
            x = view.x(first)
            top = view.y(view.ceiling(piece.start_mm))
            canvas.path(f"{move((x, 0.0))} {line_to((x, top))}", "hidden")
        flat = "to a template" if piece.is_template else "straight"
        name = side_name(view.face, piece) if piece.is_arc else flat
        radius = format_length(piece.radius_at(curve.offset_mm(line)), system)
        room = (last - first) / view.ratio - 1.0
        for text in (f"{name}, R {radius}" if piece.is_arc else name, name, str(piece.index + 1)):
            label = block((text, "small-text"))
            middle, slack = view.x((first + last) / 2), (room - label.width) / 2
            places = [Place((middle + slack * part, 2.6)) for part in (0.0, 0.3, -0.3, 0.6, -0.6, 0.9, -0.9)]
            if slack >= 0 and canvas.put(label, places, most=0):
                break


def chain_lines(canvas: Canvas, view: FaceView, system: System) -> list[tuple[DimensionLine, str]]:
    """Dimension lines from edge to edge of what stands on the face; none when nothing does."""
    marks = {0.0, view.length_mm}
    marks |= {edge for laid in view.curve.openings for edge in view.span(laid)}
    marks |= {view.developed(piece.start_mm) for piece in view.curve.pieces[1:]}
    places = sorted({round(view.x(mark), 6): mark for mark in marks}.items())
    if len(places) <= 2:
        return []
    chain = []
    for (x0, mark0), (x1, mark1) in pairwise(places):
        line = dimension_line(canvas, (x0, 0.0), (x1, 0.0), -6.6)
        if line:
            chain.append((line, format_length(abs(mark1 - mark0), system)))
    return chain


def draw_heights(canvas: Canvas, view: FaceView, system: System, wide: float) -> None:
    curve = view.curve
    start, end = curve.heights.at(0.0), curve.heights.at(curve.centre_length_mm - 1e-6)
    left, right = (start, end) if view.face == "right" else (end, start)
    dimension(canvas, (0.0, 0.0), (0.0, view.y(left)), format_length(left, system), 6.0)
    if not curve.heights.is_level:
        dimension(canvas, (wide, 0.0), (wide, view.y(right)), format_length(right, system), -6.0)


def draw_foot(canvas: Canvas, view: FaceView, scale: Scale, boards: FacePlan | None, trims: Sequence[TrimBand]) -> None:
    middle, y = view.length_mm / view.ratio / 2, canvas.bounds[3] + 3.5
    seen = f"Seen facing the {view.face} side, rolled out flat; lengths are along this face."
    if boards and len(boards.layers) > 1:
        seen += " Dashed: joints of the outermost layer. Fine: of the layers under it."
    elif boards:
        seen += " Dashed: joints of the boards."
    named = [f"{trim_mark(index)}  {fitted(band.label, 'small-text', 60.0)}" for index, band in enumerate(trims)]
    for line in [seen, *_lines_of(named, 150.0)]:
        canvas.write(block((line, "small-text")), Place((middle, y)))
        y += 3.2
    scale_bar(canvas, scale, middle, y + 0.4)


def _lines_of(parts: Sequence[str], width: float) -> list[str]:
    lines: list[str] = []
    for part in parts:
        if lines and text_width(f"{lines[-1]} · {part}", "small-text") <= width:
            lines[-1] += f" · {part}"
        else:
            lines.append(part)
    return lines
