"""One finished face rolled out flat, to scale, as seen by someone standing before it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from catalog.core.ground.units import System, format_length
from catalog.drawings.canvas import Canvas
from catalog.drawings.scales import Scale, scales
from catalog.drawings.svg import DrawingInputError, Picture, arc_to, line_to, move, polyline
from jobs.core.boards.boards import FacePlan
from jobs.core.framing.framing import Framing
from jobs.core.measure.curve import FACES, Curve, Face, OpeningOnCurve
from jobs.drawings.faces.face_boards import draw_boards, draw_studs, draw_trims
from jobs.drawings.faces.face_figures import draw_figures, draw_foot
from jobs.drawings.faces.face_view import FaceView, TrimBand
from jobs.drawings.plan.plan_names import FACE_LINES, opening_size

MAX_SCALE = 5


@dataclass(frozen=True)
class FaceInput:
    framing: Framing | None
    boards: FacePlan | None
    trims: tuple[TrimBand, ...]
    sheets: Mapping[int, int]


def face_svg(
    curve: Curve,
    face: Face,
    *,
    title: str,
    system: System = "imperial",
    scale: Scale | None = None,
    framing: Framing | None = None,
    boards: FacePlan | None = None,
    trims: Sequence[TrimBand] = (),
    sheets: Mapping[int, int] = MappingProxyType({}),
    width_mm: float = 174.0,
    max_height_mm: float = 150.0,
    has_foot: bool = True,
) -> Picture:
    """The developed finished face at the largest standard scale that fits, or at the scale given.

    sheets: number of the sheet each board is cut from, by number of the board. has_foot: whether it says under itself
    how it is read and at which scale.

    The walk runs from left to right on the right face and from right to left on the left one, as it does to
    someone who faces the wall. Raises DrawingInputError when the face does not fit.
    """
    if face not in FACE_LINES:
        raise DrawingInputError(f"face: {face!r} is not a face of the wall; give left or right")
    if boards is not None and boards.face != face:
        raise DrawingInputError(f"boards: the plan is of the {boards.face} face, not of the {face} one")
    if not (width_mm >= 80 and max_height_mm >= 50):
        raise DrawingInputError(
            f"paper: a face needs at least 80 by 50 mm; {width_mm:g} by {max_height_mm:g} was given"
        )
    drawn = FaceInput(framing, boards, tuple(trims), sheets)
    length, height = curve.length_mm(FACE_LINES[face]), curve.greatest_height_mm
    for tried in (scale,) if scale else scales(system, MAX_SCALE):
        if tried.paper(length) > width_mm - 16 or tried.paper(height) > max_height_mm - 24:
            continue
        canvas = _drawn(FaceView(curve, face, tried.ratio), drawn, tried, has_foot)
        if canvas.width <= width_mm - 2 and canvas.height <= max_height_mm - 4:
            desc = described(curve, face, system, drawn)
            return canvas.finished(title=title, desc=desc, scale=tried, width_mm=width_mm)
    words = scale.text if scale else "any standard scale"
    raise DrawingInputError(
        f"scale: the {face} face does not fit {width_mm:g} by {max_height_mm:g} mm of paper at {words}; "
        "give a smaller scale or a larger sheet"
    )


def face_pair_svg(
    curve: Curve,
    *,
    titles: tuple[str, str],
    system: System = "imperial",
    framing: Framing | None = None,
    boards: tuple[FacePlan | None, FacePlan | None] = (None, None),
    trims: tuple[Sequence[TrimBand], Sequence[TrimBand]] = ((), ()),
    width_mm: float = 174.0,
    max_height_mm: float = 150.0,
) -> tuple[Picture, Picture]:
    """The left and the right face at one scale, the largest at which both fit, so that they can be compared."""

    def drawn(side: int, scale: Scale | None) -> Picture:
        return face_svg(
            curve,
            FACES[side],
            title=titles[side],
            system=system,
            scale=scale,
            framing=framing,
            boards=boards[side],
            trims=trims[side],
            width_mm=width_mm,
            max_height_mm=max_height_mm,
        )

    lengths = [curve.length_mm(FACE_LINES[face]) for face in FACES]
    longer = 0 if lengths[0] >= lengths[1] else 1
    first = drawn(longer, None)
    second = drawn(1 - longer, Scale(first.ratio, system))
    return (first, second) if longer == 0 else (second, first)


def described(curve: Curve, face: Face, system: System, drawn: FaceInput) -> str:
    """The figures of the face in words."""
    line = FACE_LINES[face]
    sentences = [f"{face.capitalize()} finished face, developed: {format_length(curve.length_mm(line), system)} long."]
    start, end = curve.heights.at(0.0), curve.heights.at(curve.centre_length_mm)
    if curve.heights.is_level:
        sentences.append(f"Height {format_length(start, system)}.")
    else:
        sentences.append(
            f"Height {format_length(start, system)} at the start, {format_length(end, system)} at the end."
        )
    for laid in curve.openings:
        first, last = (curve.developed_mm(line, laid.centre_mm) + s * laid.taken_mm[line] / 2 for s in (-1, 1))
        sentences.append(
            f"{laid.opening.name}: {opening_size(laid, system)}, "
            f"from {format_length(first, system)} to {format_length(last, system)} along this face."
        )
    if drawn.boards:
        pieces = sum(len(layer.pieces) for layer in drawn.boards.layers)
        sentences.append(f"{pieces} boards in {len(drawn.boards.layers)} layers.")
    sentences += [f"{band.label}." for band in drawn.trims]
    return " ".join(sentences)


def _drawn(view: FaceView, drawn: FaceInput, scale: Scale, has_foot: bool) -> Canvas:
    canvas = Canvas()
    outline = [*view.top(), (view.x(view.length_mm), 0.0), (view.x(0.0), 0.0)]
    draw_trims(canvas, view, drawn.trims)
    if drawn.framing:
        draw_studs(canvas, view, drawn.framing)
    if drawn.boards:
        draw_boards(canvas, view, drawn.boards, drawn.sheets)
    draw_openings(canvas, view)
    canvas.path(polyline(outline, closed=True), "ink", [*outline, outline[0]])
    draw_floor(canvas, view)
    draw_figures(canvas, view, scale, drawn.trims if has_foot else ())
    if has_foot:
        draw_foot(canvas, view, scale, drawn.boards, drawn.trims)
    return canvas


def draw_openings(canvas: Canvas, view: FaceView) -> None:
    for laid in view.curve.openings:
        first, last = view.span(laid)
        x0, x1 = sorted((view.x(first), view.x(last)))
        foot, head = view.y(laid.opening.sill_mm), view.y(laid.opening.head_mm)
        if laid.opening.is_arched:
            draw_arch(canvas, view, laid, (x0, x1))
        else:
            canvas.rect(x0, head, x1 - x0, foot - head, "opening-edge", keep_clear=True)


def draw_arch(canvas: Canvas, view: FaceView, laid: OpeningOnCurve, edges: tuple[float, float]) -> None:
    opening = laid.opening
    (x0, x1), foot, spring = edges, view.y(opening.sill_mm), view.y(opening.spring_mm)
    radius = opening.arch_radius_mm / view.ratio
    path = f"{move((x0, foot))} {line_to((x0, spring))} {arc_to(radius, True, (x1, spring))} {line_to((x1, foot))} Z"
    half = opening.width_mm / 2
    heads = [
        ((x0 + x1) / 2 + share * (x1 - x0) / 2, view.y(opening.head_at(share * half)))
        for share in (-1.0, -0.6, 0.0, 0.6, 1.0)
    ]
    canvas.path(path, "opening-edge", [(x0, foot), *heads, (x1, foot), (x0, foot)])


def draw_floor(canvas: Canvas, view: FaceView) -> None:
    x0, x1 = sorted((view.x(0.0), view.x(view.length_mm)))
    canvas.path(f"M {x0 - 4:.3f} 0 {line_to((x1 + 4, 0.0))}", "ink-heavy", ((x0 - 4, 0.0), (x1 + 4, 0.0)))
