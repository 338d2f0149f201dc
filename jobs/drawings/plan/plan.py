"""The wall in plan, to scale: its faces, framing, openings, and the figures to set it out by."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from zlib import crc32

from catalog.core.ground.units import System, format_degrees, format_length
from catalog.drawings.canvas import Canvas
from catalog.drawings.scales import Scale, scales
from catalog.drawings.svg import DrawingInputError, Picture, element
from jobs.core.framing.framing import Framing
from jobs.core.measure.curve import Curve, CurvePiece, Face, OpeningOnCurve
from jobs.drawings.plan.plan_figures import draw_figures, draw_foot
from jobs.drawings.plan.plan_marks import PlanMark, draw_mark
from jobs.drawings.plan.plan_names import FACE_LINES, measured_radius, opening_size
from jobs.drawings.plan.plan_view import PlanView, joined, level_turn
from jobs.drawings.plan.plan_wall import draw_wall

# The smallest steps of the rule a plan is drawn at; a longer wall is broken off and goes on below.
SMALLEST = {"imperial": 96, "metric": 100}
MAX_SCALE = 5
# Between a stretch and the next one under it, and above and below the wall for its figures.
BETWEEN_MM, FIGURES_MM = 8.0, 24.0


def plan_scale(curve: Curve, system: System, width_mm: float, max_height_mm: float) -> Scale:
    """The largest step of the rule at which the wall itself fits; labels have no say in it.

    A wall too long at the smallest step is broken. One that is too deep for that as well, or too long to be broken
    within the height, is drawn at the engineers' steps below. Raises DrawingInputError when none fits.
    """
    x0, y0, x1, y1 = PlanView(curve, 1.0, level_turn(curve)).extents()
    for step in scales(system, MAX_SCALE):
        rows = _rows(step.paper(x1 - x0), width_mm) if step.ratio >= SMALLEST[system] else 1
        deep = rows * step.paper(y1 - y0) + (rows - 1) * FIGURES_MM
        if step.paper(x1 - x0) <= rows * width_mm and deep <= max_height_mm - FIGURES_MM:
            return step
    raise DrawingInputError(
        f"scale: the wall does not fit {width_mm:g} by {max_height_mm:g} mm of paper at any standard scale"
    )


def _rows(long_mm: float, width_mm: float) -> int:
    return max(1, math.ceil(long_mm / width_mm - 1e-9))


def plan_svg(
    curve: Curve,
    *,
    title: str,
    system: System = "imperial",
    scale: Scale | None = None,
    framing: Framing | None = None,
    left_layers_mm: Sequence[float] = (),
    right_layers_mm: Sequence[float] = (),
    marks: Sequence[PlanMark] = (),
    width_mm: float = 174.0,
    max_height_mm: float = 150.0,
    has_foot: bool = True,
) -> Picture:
    """The plan at the scale `plan_scale` gives, or at the scale given; labels without room are left out.

    left_layers_mm, right_layers_mm: thickness of each layer from the framing outwards. marks: in red pencil, what is
    to be decided. width_mm: of the picture. max_height_mm: room for the wall and its figures. has_foot: whether lengths
    and a scale bar stand under it.

    Raises DrawingInputError when the wall does not fit there.
    """
    if not (width_mm >= 120 and max_height_mm >= 60):
        raise DrawingInputError(
            f"paper: a plan needs at least 120 by 60 mm; {width_mm:g} by {max_height_mm:g} was given"
        )
    turn = level_turn(curve)
    if scale is None:
        scale = plan_scale(curve, system, width_mm, max_height_mm)
    view = PlanView(curve, scale.ratio, turn)
    left, _, right, _ = view.extents()
    rows = _rows(right - left, width_mm)
    if scale.ratio < SMALLEST[system] and rows > 1:
        raise DrawingInputError(
            f"scale: the wall does not fit {width_mm:g} mm of paper at {scale.text}; give a smaller scale"
        )
    layers: dict[Face, tuple[float, ...]] = {"left": tuple(left_layers_mm), "right": tuple(right_layers_mm)}
    first = (left + right - rows * width_mm) / 2

    def stretch(row: int, down: float) -> Canvas:
        """What of the wall lies within its share of the width, moved under the first share and down."""
        canvas = Canvas(sides=(first, first + width_mm))
        moved = replace(view, origin=(-row * width_mm, down))
        draw_wall(canvas, moved, framing, layers)
        draw_figures(canvas, moved, scale)
        for mark in marks:
            draw_mark(canvas, moved, mark)
        return canvas

    sheet = stretch(0, 0.0) if rows == 1 else _one_under_another(rows, stretch, (first, width_mm), title)
    # Centred on the wall, whatever stands to one side of it.
    sheet.bounds[0], sheet.bounds[2] = first, first + width_mm
    if has_foot:
        draw_foot(sheet, curve, scale)
    return sheet.finished(title=title, desc=described(curve, system), scale=scale, width_mm=width_mm)


def _one_under_another(
    rows: int, stretch: Callable[[int, float], Canvas], across: tuple[float, float], title: str
) -> Canvas:
    """Each stretch with a break line where the wall goes on above or below."""
    (left, width_mm), sheet, below = across, Canvas(), 0.0
    for row in range(rows):
        canvas = stretch(row, below - stretch(row, 0.0).bounds[1])
        high = canvas.height
        name = f"stretch-{crc32(title.encode()):x}-{row + 1}"
        window = element("rect", {"x": left, "y": below, "width": width_mm, "height": high})
        sheet.shapes.append(element("clipPath", {"id": name}, window))
        sheet.shapes.append(element("g", {"clip-path": f"url(#{name})"}, "".join(canvas.shapes)))
        sheet.texts += canvas.texts
        sheet.reach(((left, below), (left + width_mm, below + high)))
        for side, is_broken in ((left + 1.4, row > 0), (left + width_mm - 1.4, row < rows - 1)):
            if is_broken:
                middle = below + high / 2
                steps = ((0, -1), (0, -0.12), (-1.2, -0.05), (1.2, 0.05), (0, 0.12), (0, 1))
                sheet.path(joined([(side + dx, middle + dy * high / 2) for dx, dy in steps]), "dim")
        below += high + BETWEEN_MM
    return sheet


def described(curve: Curve, system: System) -> str:
    """The figures of the plan in words, for those who do not see it."""
    sentences = [
        f"{face.capitalize()} finished face {format_length(curve.length_mm(line), system)} long."
        for face, line in FACE_LINES.items()
    ]
    sentences += [_piece_in_words(curve, piece, system) for piece in curve.pieces]
    sentences += [_opening_in_words(laid, system) for laid in curve.openings]
    return " ".join(sentences)


def _piece_in_words(curve: Curve, piece: CurvePiece, system: System) -> str:
    where = f"Piece {piece.index + 1}"
    if piece.chord_mm is not None:
        ends = format_length(piece.chord_mm, system)
        return f"{where}: to a template only, {format_length(piece.length_mm, system)} by tape, {ends} from end to end."
    if not piece.is_arc:
        return f"{where}: straight, {format_length(piece.length_mm, system)}."
    side = "left" if piece.turn > 0 else "right"
    turned = f"{format_degrees(piece.sweep_rad, 2)} degrees"
    return f"{where}: arc turning {side} through {turned}, {measured_radius(curve, piece, system)}."


def _opening_in_words(laid: OpeningOnCurve, system: System) -> str:
    place = format_length(laid.centre_mm, system)
    return f"{laid.opening.name}: {opening_size(laid, system)}, centre {place} along the centreline."
