"""The wall in plan, to scale: its faces, framing, openings, and the figures to set it out by."""

from __future__ import annotations

from collections.abc import Sequence

from catalog.core.ground.units import System, format_degrees, format_length
from catalog.drawings.canvas import Canvas
from catalog.drawings.scales import Scale, scales
from catalog.drawings.svg import DrawingInputError, Picture
from jobs.core.framing.framing import Framing
from jobs.core.measure.curve import Curve, CurvePiece, Face, OpeningOnCurve
from jobs.drawings.plan.plan_figures import draw_figures
from jobs.drawings.plan.plan_names import FACE_LINES, measured_radius, opening_size
from jobs.drawings.plan.plan_view import PlanView, level_turn
from jobs.drawings.plan.plan_wall import draw_wall

MAX_SCALE = 5


def plan_svg(
    curve: Curve,
    *,
    title: str,
    system: System = "imperial",
    scale: Scale | None = None,
    framing: Framing | None = None,
    left_layers_mm: Sequence[float] = (),
    right_layers_mm: Sequence[float] = (),
    width_mm: float = 174.0,
    max_height_mm: float = 150.0,
) -> Picture:
    """The plan at the largest standard scale that fits, or at the scale given.

    left_layers_mm, right_layers_mm: thickness of each layer from the framing outwards. width_mm, max_height_mm:
    room on the paper. Raises DrawingInputError when the wall does not fit there.
    """
    if not (width_mm >= 120 and max_height_mm >= 60):
        raise DrawingInputError(
            f"paper: a plan needs at least 120 by 60 mm; {width_mm:g} by {max_height_mm:g} was given"
        )
    turn = level_turn(curve)
    x0, y0, x1, y1 = PlanView(curve, 1.0, turn).extents()
    layers: dict[Face, tuple[float, ...]] = {"left": tuple(left_layers_mm), "right": tuple(right_layers_mm)}
    for tried in (scale,) if scale else scales(system, MAX_SCALE):
        if tried.paper(x1 - x0) > width_mm - 12 or tried.paper(y1 - y0) > max_height_mm - 24:
            continue
        canvas = Canvas()
        view = PlanView(curve, tried.ratio, turn)
        draw_wall(canvas, view, framing, layers)
        draw_figures(canvas, view, tried)
        if canvas.width <= width_mm - 2 and canvas.height <= max_height_mm - 4:
            desc = described(curve, system)
            return canvas.finished(title=title, desc=desc, scale=tried, width_mm=width_mm)
    words = scale.text if scale else "any standard scale"
    raise DrawingInputError(
        f"scale: the wall does not fit {width_mm:g} by {max_height_mm:g} mm of paper at {words}; "
        "give a smaller scale or a larger sheet"
    )


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
