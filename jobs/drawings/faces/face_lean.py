"""A finished face rolled out flat for a phone: as long as the phone is wide; figures without room are left out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from catalog.core.ground.units import System, format_length
from catalog.drawings.canvas import Canvas
from catalog.drawings.dimensions import dimension, dimension_text
from catalog.drawings.lettering import PHONE_MM
from catalog.drawings.svg import Picture, polyline
from jobs.core.boards.boards import FacePlan
from jobs.core.measure.curve import Curve, Face
from jobs.drawings.faces.face_boards import draw_boards, draw_trims
from jobs.drawings.faces.face_figures import chain_lines, draw_heights, name_ends, name_opening
from jobs.drawings.faces.face_view import FaceView, TrimBand
from jobs.drawings.faces.faces import FaceInput, described, draw_floor, draw_openings
from jobs.drawings.plan.plan_names import FACE_LINES

# Room for the height at one end, or at both.
HEIGHT_MM, EDGE_MM, BELOW_MM = 10.0, 4.6, 22.0


def face_lean_svg(
    curve: Curve,
    face: Face,
    *,
    title: str,
    system: System = "imperial",
    boards: FacePlan | None = None,
    trims: Sequence[TrimBand] = (),
    sheets: Mapping[int, int] = MappingProxyType({}),
    width_mm: float = PHONE_MM,
    max_height_mm: float = 110.0,
) -> Picture:
    """The face with the joints of its outermost boards, no more than its width across; no wall is refused."""
    length, height = curve.length_mm(FACE_LINES[face]), curve.greatest_height_mm
    right = EDGE_MM if curve.heights.is_level else HEIGHT_MM
    ratio = max(length / (width_mm - HEIGHT_MM - right), height / (max_height_mm - BELOW_MM), 0.1)
    view = FaceView(curve, face, ratio)
    wide = length / ratio
    spare = (width_mm - HEIGHT_MM - right - wide) / 2
    canvas = Canvas(sides=(-HEIGHT_MM - spare + 0.4, wide + right + spare - 0.4))
    outermost = FacePlan(**{**vars(boards), "layers": boards.layers[-1:]}) if boards else None
    outline = [*view.top(), (view.x(view.length_mm), 0.0), (view.x(0.0), 0.0)]
    draw_trims(canvas, view, trims)
    if outermost:
        draw_boards(canvas, view, outermost, sheets)
    draw_openings(canvas, view)
    canvas.path(polyline(outline, closed=True), "ink", [*outline, outline[0]])
    draw_floor(canvas, view)
    _draw_figures(canvas, view, system)
    canvas.reach((side, 0.0) for side in canvas.sides or ())
    desc = described(curve, face, system, FaceInput(None, boards, tuple(trims), sheets))
    picture = canvas.finished(title=title, desc=desc, scale=None, width_mm=width_mm)
    return Picture(picture.svg, "", picture.width_mm, picture.height_mm, ratio)


def _draw_figures(canvas: Canvas, view: FaceView, system: System) -> None:
    wide = view.length_mm / view.ratio
    for laid in view.curve.openings:
        name_opening(canvas, view, laid, system)
    draw_heights(canvas, view, system, wide)
    name_ends(canvas, view)
    chain = chain_lines(canvas, view, system)
    for line, text in chain:
        if line.holds(text):
            dimension_text(canvas, line, text)
    whole = format_length(view.length_mm, system)
    dimension(canvas, (0.0, 0.0), (wide, 0.0), whole, -(canvas.bounds[3] + (2.4 if chain else 5.0)))
