"""A wall as a DXF drawing for a general CAD reader: plan and developed faces at full size, in millimetres.

Arcs are true ARC entities, so that whoever cuts from the file has the radius and not a chain of chords.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from io import StringIO
from typing import TYPE_CHECKING

from catalog.drawings.svg import Point
from jobs.core.boards.boards import FacePlan, LayerPlan
from jobs.core.framing.arch import head_of, outline_of
from jobs.core.framing.framing import Framing
from jobs.core.measure.curve import FACES, Curve, CurvePiece, Face
from jobs.core.measure.room_tie import RoomPlace
from jobs.core.measure.survey import LINES, Line, Opening
from jobs.drawings.faces.face_boards import joint_lines, stud_lines
from jobs.drawings.faces.face_view import FaceView
from jobs.drawings.plan.plan_view import PlanView, Span

if TYPE_CHECKING:
    from ezdxf.layouts import Modelspace

LINE_LAYERS: dict[Line, str] = {
    "left_finished": "Left finished face",
    "left_framing": "Left framing face",
    "centre": "Centreline",
    "right_framing": "Right framing face",
    "right_finished": "Right finished face",
}
ENDS, OPENINGS, STUDS, TEMPLATE = "Ends and joints", "Openings", "Studs", "To a template"
FACE_OUTLINE, FACE_OPENINGS, FACE_STUDS, FACE_WORDS = (
    "Developed face",
    "Developed openings",
    "Developed studs",
    "Words",
)
# Colour numbers of the format itself: 7 is black or white against the ground, 8 and 9 greys.
STYLES: dict[str, tuple[int, str]] = {
    **{layer: (7, "CENTER" if line == "centre" else "CONTINUOUS") for line, layer in LINE_LAYERS.items()},
    ENDS: (7, "CONTINUOUS"),
    OPENINGS: (7, "CONTINUOUS"),
    STUDS: (8, "CONTINUOUS"),
    TEMPLATE: (7, "DASHED"),
    FACE_OUTLINE: (7, "CONTINUOUS"),
    FACE_OPENINGS: (7, "CONTINUOUS"),
    FACE_STUDS: (9, "CENTER"),
    FACE_WORDS: (7, "CONTINUOUS"),
}
FIXED_POINTS, TAPES = "Fixed points", "Tapes to fixed points"
WORDS_MM = 60.0
FIXED_POINT_MM = 25.0
APART_MM = 800.0


def joint_layer(number: int) -> str:
    return f"Sheet joints of layer {number}"


@dataclass(frozen=True)
class WallDrawing:
    """What is drawn. boards: the plans there are, of either face; framing, room: None while not set out or not tied."""

    name: str
    curve: Curve
    framing: Framing | None = None
    boards: tuple[FacePlan, ...] = ()
    room: RoomPlace | None = None


def wall_dxf(wall: WallDrawing) -> bytes:
    """The drawing as a file. The plan starts at 0,0 walking along +x; the faces stand below it."""
    # Half a second to load, so only the one request in many that draws pays for it.
    import ezdxf
    from ezdxf.enums import TextEntityAlignment

    document = ezdxf.new("R2010", setup=["linetypes"], units=ezdxf.units.MM)
    document.header["$MEASUREMENT"] = 1
    # The patterns of dashes are stated for a drawing in inches on paper; full size in mm asks for longer ones.
    document.header["$LTSCALE"] = 10.0
    numbers = sorted({layer.number for plan in wall.boards for layer in plan.layers})
    of_room = {FIXED_POINTS: (7, "CONTINUOUS"), TAPES: (8, "DASHED")} if wall.room else {}
    for name, (colour, dashes) in (STYLES | of_room | {joint_layer(n): (7, "DASHED") for n in numbers}).items():
        document.layers.add(name, color=colour, linetype=dashes)
    space = document.modelspace()

    def say(text: str, at: Point) -> None:
        words = space.add_text(text, height=WORDS_MM, dxfattribs={"layer": FACE_WORDS})
        words.set_placement(at, align=TextEntityAlignment.LEFT)

    view = PlanView(wall.curve, 1.0)
    _draw_plan(space, view, wall)
    if wall.room is not None:
        _draw_room(space, wall.room, say)
    left, top, _, low = view.extents()
    say(f"{wall.name}: plan. Full size, millimetres.", (left, -top + WORDS_MM * 2))
    foot = -low - APART_MM
    for face in FACES:
        foot -= wall.curve.greatest_height_mm
        _draw_face(space, FaceView(wall.curve, face, 1.0), wall, foot)
        say(f"{wall.name}: {face} finished face, rolled out flat, seen from before it.", (0.0, foot - WORDS_MM * 2.5))
        foot -= APART_MM
    stream = StringIO()
    document.write(stream)
    return stream.getvalue().encode("utf-8")


def _draw_plan(space: Modelspace, view: PlanView, wall: WallDrawing) -> None:
    curve = wall.curve
    for piece in curve.pieces:
        for line in LINES:
            spans = [(0.0, 1.0)] if line == "centre" else view.solid_spans(piece, line)
            for span in spans:
                _draw_run(space, curve, piece, line, span)
        _draw_openings(space, view, piece)
        for share in (0.0, 1.0):
            _cross(space, curve, piece, share, ENDS, "finished")
    if wall.framing is not None and wall.framing.is_complete:
        for along in wall.framing.stud_positions_mm:
            piece, share = curve.piece_at(along)
            if piece.is_template and 1e-6 < share < 1 - 1e-6:
                continue  # where they stand in plan only the template knows
            _cross(space, curve, piece, share, STUDS, "framing")


def _draw_room(space: Modelspace, room: RoomPlace, say: Callable[[str, Point], None]) -> None:
    """The fixed points of the building by name, and the tapes from each to both ends of the wall."""
    ends = dict.fromkeys((room.start, room.end))
    for name, at in ((room.tie.first, room.first), (room.tie.second, room.second)):
        space.add_circle(at, FIXED_POINT_MM, dxfattribs={"layer": FIXED_POINTS})
        say(name, (at[0] + 2 * FIXED_POINT_MM, at[1]))
        for end in ends:
            space.add_line(at, end, dxfattribs={"layer": TAPES})


def _draw_run(space: Modelspace, curve: Curve, piece: CurvePiece, line: Line, span: Span) -> None:
    offset, look = curve.offset_mm(line), {"layer": LINE_LAYERS[line] if not piece.is_template else TEMPLATE}
    first, last = span
    if not piece.is_arc:
        space.add_line(piece.point_at(first, offset), piece.point_at(last, offset), dxfattribs=look)
        return
    centre, radius = _centre(piece), piece.radius_at(offset)
    # The format turns every arc anticlockwise; walking to the right goes the other way round.
    ends = [_bearing_deg(piece, share) for share in (first, last)]
    start, end = ends if piece.turn > 0 else reversed(ends)
    space.add_arc(centre, radius, start, end, dxfattribs=look)


def _centre(piece: CurvePiece) -> Point:
    reach = piece.turn * piece.radius_mm
    x, y = piece.start
    return x - reach * math.sin(piece.heading_rad), y + reach * math.cos(piece.heading_rad)


def _bearing_deg(piece: CurvePiece, share: float) -> float:
    """Direction from the centre out to a share of the arc, in degrees anticlockwise from +x."""
    heading = piece.heading_rad + piece.turn * piece.sweep_rad * share
    return math.degrees(heading - piece.turn * math.pi / 2)


def _cross(space: Modelspace, curve: Curve, piece: CurvePiece, share: float, layer: str, depth: str) -> None:
    ends = [piece.point_at(share, curve.offset_mm(line)) for line in LINES if line.endswith(depth)]
    space.add_line(*ends, dxfattribs={"layer": layer})


def _draw_openings(space: Modelspace, view: PlanView, piece: CurvePiece) -> None:
    curve = view.curve
    sides: tuple[Line, Line] = ("left_finished", "right_finished")
    for laid in view.openings_on(piece):
        corners = {
            line: [piece.point_at(share, curve.offset_mm(line)) for share in view.share_span(piece, laid, line)]
            for line in sides
        }
        for end in (0, 1):
            space.add_line(*(corners[line][end] for line in sides), dxfattribs={"layer": OPENINGS})
        for line in sides:
            space.add_line(*corners[line], dxfattribs={"layer": OPENINGS})


def _draw_face(space: Modelspace, view: FaceView, wall: WallDrawing, foot: float) -> None:
    def at(developed: float, height: float) -> Point:
        return view.x(developed), foot + height

    def draw(points: Iterable[Point], layer: str, close: bool = False) -> None:
        space.add_lwpolyline(list(points), close=close, dxfattribs={"layer": layer})

    top = [(x, foot - y) for x, y in view.top()]
    draw([at(0.0, 0.0), *top, at(view.length_mm, 0.0)], FACE_OUTLINE, close=True)
    for laid, (first, last) in zip(wall.curve.openings, view.spans, strict=True):
        sill, head = laid.opening.sill_mm, laid.opening.spring_mm
        arch = [at((first + last) / 2 - x, y) for x, y in _arch_points(laid.opening)]
        draw([at(first, sill), at(last, sill), at(last, head), *arch, at(first, head)], FACE_OPENINGS, close=True)
    if wall.framing is not None and wall.framing.is_complete:
        for developed, low, high in stud_lines(view, wall.framing):
            draw([at(developed, low), at(developed, high)], FACE_STUDS)
    for layer in _layers_of(wall, view.face):
        for start, other in joint_lines(view, layer):
            draw([at(*start), at(*other)], joint_layer(layer.number))


def _arch_points(opening: Opening) -> list[Point]:
    """Points of an arched head from the side of its last jamb to its first, the springings left out."""
    head = head_of(opening)
    return [] if head is None else list(outline_of(head)[2:-2])


def _layers_of(wall: WallDrawing, face: Face) -> Iterable[LayerPlan]:
    return (layer for plan in wall.boards if plan.face == face for layer in plan.layers)
