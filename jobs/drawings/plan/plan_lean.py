"""The wall in plan for a phone: as large as its width lets it be; figures without room are left to the page."""

from __future__ import annotations

from collections.abc import Sequence

from catalog.core.ground.units import System, format_length
from catalog.drawings.canvas import Canvas, Place, block
from catalog.drawings.lettering import PHONE_MM
from catalog.drawings.svg import Picture
from jobs.core.framing.framing import Framing
from jobs.core.measure.curve import Curve
from jobs.drawings.plan.plan import described
from jobs.drawings.plan.plan_figures import draw_chord, draw_end, name_faces, name_opening
from jobs.drawings.plan.plan_marks import PlanMark, draw_mark
from jobs.drawings.plan.plan_names import FACE_LINES
from jobs.drawings.plan.plan_view import PlanView, level_turn
from jobs.drawings.plan.plan_wall import draw_wall

# Room beside the wall, and above and below it together.
ASIDE_MM, ABOVE_MM = 4.0, 18.0


def plan_lean_svg(
    curve: Curve,
    *,
    title: str,
    system: System = "imperial",
    framing: Framing | None = None,
    marks: Sequence[PlanMark] = (),
    width_mm: float = PHONE_MM,
    max_height_mm: float = 90.0,
) -> Picture:
    """The plan, no more than its width across; no wall is refused, and its ratio is no scale of a rule."""
    turn = level_turn(curve)
    x0, y0, x1, y1 = PlanView(curve, 1.0, turn).extents()
    ratio = max((x1 - x0) / (width_mm - 2 * ASIDE_MM), (y1 - y0) / (max_height_mm - ABOVE_MM), 0.1)
    middle = (x0 + x1) / 2 / ratio
    canvas = Canvas(sides=(middle - width_mm / 2 + 0.6, middle + width_mm / 2 - 0.6))
    view = PlanView(curve, ratio, turn)
    draw_wall(canvas, view, framing, {})
    _draw_figures(canvas, view, system)
    for mark in marks:
        draw_mark(canvas, view, mark, with_words=False)
    # Centred on the wall, whatever words stand to one side of it.
    canvas.reach((side, canvas.bounds[1]) for side in canvas.sides or ())
    picture = canvas.finished(title=title, desc=described(curve, system), scale=None, width_mm=width_mm)
    return Picture(picture.svg, "", picture.width_mm, picture.height_mm, ratio)


def _draw_figures(canvas: Canvas, view: PlanView, system: System) -> None:
    curve = view.curve
    single = len(curve.pieces) == 1
    if not curve.is_closed:
        _draw_start(canvas, view)
        draw_end(canvas, view)
    if single and curve.pieces[0].is_arc:
        draw_chord(canvas, view, curve.pieces[0], system)
    for laid in curve.openings:
        name_opening(canvas, view, laid, system)
    for piece in curve.pieces:
        name_faces(canvas, view, piece, system, single)
    left, _, right, low = canvas.bounds
    for row, (face, line) in enumerate(FACE_LINES.items()):
        label = block((f"{face.capitalize()} finished face {format_length(curve.length_mm(line), system)}", "dim-text"))
        canvas.write(label, Place(((left + right) / 2, low + 4.0 + 3.6 * row)))


def _draw_start(canvas: Canvas, view: PlanView) -> None:
    label = block(("Start", "small-text"))
    x, y = view.at(view.curve.pieces[0], 0.0, 0.0)
    canvas.put(label, [Place((x + dx, y + dy)) for dy in (-3.4, 3.4, -6.0, 6.0) for dx in (0.0, 2.0, -2.0)])
