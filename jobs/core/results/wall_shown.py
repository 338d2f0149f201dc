"""A wall worked up as answers show it: curve, openings, checks, framing and boards."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import Annotated, Any

from catalog.core.ground.declared import (
    NOTHING,
    Area,
    As,
    Choice,
    Coordinate,
    Declared,
    Measured,
    Named,
    Of,
    Rounded,
    View,
    itself,
)
from jobs.core.boards.boards import Course, SheetCount
from jobs.core.framing.framing import SpacingChoice, StationKind, StudGroup, TrackKind
from jobs.core.measure.bending import Verdict
from jobs.core.measure.curve import Face, Joint
from jobs.core.measure.explanation import Why
from jobs.core.measure.findings import ShownFinding, ShownOverride
from jobs.core.measure.survey import LINES, Line, MeasuredOn, Turn
from jobs.core.measure.wall_spec import Direction, Moisture, Top
from jobs.core.results.shape_shown import ArchShown, CasingShown, EndsShown, casings_of
from jobs.core.results.survey_shown import (
    ArcBandShown,
    CheckBandShown,
    DimensionShown,
    HoldShown,
    OffsetsShown,
    RoomShown,
    arc_band,
    check_band,
    marked_dimensions,
)
from jobs.core.results.trim_shown import TrimShown
from jobs.core.trim.arches_and_backing import BackingLine, TrackPiece

SIDES = tuple(f"{side}_{depth}" for side in ("concave", "convex") for depth in ("framing", "finished"))
TRACKS: tuple[TrackKind, ...] = ("top", "bottom", "head", "sill", "arch")
ByLine = Named(LINES, Measured())


class AreasShown(View):
    gross: Annotated[float, Area(), Of(lambda areas: areas[0])]
    net: Annotated[float, Area(), Of(lambda areas: areas[1])]


class SideShown(View):
    """An arc on one of its four lines, by side and depth."""

    line: Annotated[Line, Of(lambda side: side[1])]
    radius_mm: Annotated[float, Of(lambda side, wall: side[0].radius_at(wall.curve.offset_mm(side[1])))]
    length_mm: Annotated[float, Of(lambda side, wall: side[0].length_at(wall.curve.offset_mm(side[1])))]


def _of_arc(function: Callable[..., Any]) -> Of:
    return Of(lambda piece, wall: function(piece, wall) if piece.is_arc else NOTHING)


def _of_template(function: Callable[..., Any]) -> Of:
    return Of(lambda piece, wall: function(piece, wall) if piece.is_template else NOTHING)


def _by_side(piece: Any, wall: Any) -> dict[str, Any]:
    return {name: (piece, wall.curve.line_of(piece, *name.split("_"))) for name in SIDES}


class PieceShown(View):
    """One piece of the wall, on its five lines; an arc with its radii, a piece to a template with its chord."""

    index: Annotated[int, As(name="number"), Of(lambda piece: piece.index + 1)]
    shape: Annotated[
        str,
        Choice(("arc", "straight", "template")),
        Of(lambda piece: "arc" if piece.is_arc else "template" if piece.is_template else "straight"),
    ]
    lengths: Annotated[
        dict[str, float],
        ByLine,
        Of(lambda piece, wall: {line: piece.length_at(wall.curve.offset_mm(line)) for line in LINES}),
    ]
    chord_mm: Annotated[float, As(left_out=True), _of_template(lambda piece, wall: piece.chord_mm or 0.0)]
    turned_rad: Annotated[float, As(left_out=True), _of_template(lambda piece, wall: piece.turned_rad)]
    template: Annotated[
        str | None,
        As(left_out=True),
        _of_template(lambda piece, wall: getattr(wall.spec.pieces[piece.index], "template", None)),
    ]
    turn: Annotated[Turn, As(left_out=True), _of_arc(lambda piece, wall: "left" if piece.turn > 0 else "right")]
    sweep_rad: Annotated[float, As(left_out=True), _of_arc(lambda piece, wall: piece.sweep_rad)]
    radii: Annotated[
        dict[str, float],
        ByLine,
        As(left_out=True),
        _of_arc(lambda piece, wall: {line: piece.radius_at(wall.curve.offset_mm(line)) for line in LINES}),
    ]
    by_side: Annotated[dict[str, Any], Named(SIDES, Declared(SideShown)), As(left_out=True), _of_arc(_by_side)]
    band: Annotated[ArcBandShown | None, As(left_out=True), _of_arc(lambda piece, wall: arc_band(wall, piece.index))]


class EndShown(View):
    """Where the wall ends, from its start and heading there."""

    x: Annotated[float, Coordinate(), Of(lambda curve: curve.end[0])]
    y: Annotated[float, Coordinate(), Of(lambda curve: curve.end[1])]
    end_heading_rad: Annotated[float, As(name="heading_deg")]
    closure_mm: float
    closed: Annotated[bool, Of("is_closed")]


class JointShown(Joint):
    """Where two pieces meet."""

    tangent: Annotated[bool, Of(lambda joint: abs(joint.kink_rad) < 1e-9)]


class OpeningShown(View):
    """An opening, and what it takes of each line."""

    name: Annotated[str, Of("opening.name")]
    piece_index: int
    centre_mm: Annotated[float, As(name="centre_at")]
    taken_mm: Annotated[dict[str, float], ByLine]
    bulge_mm: float


class CheckShown(View):
    """Whether a board or the track takes the curve; a board's check names its layer."""

    key: str
    what: Annotated[str, Of(lambda check: check.board if hasattr(check, "board") else check.track)]
    piece_index: int
    radius_mm: float
    least_radius_mm: float | None
    verdict: Verdict
    sentence: str
    band: Annotated[CheckBandShown | None, Of(lambda check, wall: check_band(wall, check.key))]
    source: str
    sure: str | None
    override: ShownOverride | None
    face: Annotated[Face, As(left_out=True)]
    layer_number: Annotated[int, As(name="layer", left_out=True)]
    direction: Annotated[Direction, As(left_out=True)]
    moisture: Annotated[Moisture, As(left_out=True)]


def _in_plan(get: Callable[[Any], Any]) -> Of:
    """Nobody knows where a station stands within a piece that is built to a template only."""
    return Of(lambda stud, wall: None if wall.curve.pieces[stud.piece_index].is_template else get(stud))


class StationShown(View):
    """Where a stud stands."""

    number: int
    along_mm: float
    convex_mm: float
    x: Annotated[float | None, Rounded(3), As(name="x_mm"), _in_plan(lambda stud: stud.x)]
    y: Annotated[float | None, Rounded(3), As(name="y_mm"), _in_plan(lambda stud: stud.y)]
    heading_rad: Annotated[float | None, _in_plan(lambda stud: stud.heading)]
    kind: StationKind
    count: int
    stud_length_mm: float


class TrackShown(View):
    """A length of track; an opening's names it."""

    kind: Annotated[TrackKind, As(name="run")]
    name: Annotated[str, As(name="opening")]
    length_mm: float


class FramingShown(View):
    base_station_count: Annotated[int, Of("framing.base_station_count")]
    stud_count: int
    laid_flat_count: int
    spacing: Annotated[tuple[SpacingChoice, ...], Of("framing.spacings")]
    stations: Annotated[tuple[StationShown, ...], Of("framing.stations")]
    stud_list: Annotated[tuple[StudGroup, ...], Of("framing.stud_list")]
    track: Annotated[tuple[TrackShown, ...], Of("framing.track")]
    track_lengths: Annotated[
        dict[str, float],
        Named(TRACKS, Measured()),
        Of(lambda wall: {kind: wall.framing.track_length_mm(kind) for kind in TRACKS}),
    ]


class BoardPieceShown(View):
    """A board as it is hung."""

    number: int
    course: int
    from_mm: float
    to_mm: float
    sheet_number: Annotated[int | None, As(name="sheet")]
    pack_code: Annotated[str | None, As(name="pack")]


class ButtJointShown(View):
    course: int
    along_mm: float


class LayerShown(View):
    """One layer of board, rolled out."""

    number: Annotated[int, As(name="layer")]
    board: str
    direction: Direction
    developed_mm: float
    net_area_mm2: float
    courses: tuple[Course, ...]
    pieces: tuple[BoardPieceShown, ...]
    joints: Annotated[tuple[ButtJointShown, ...], As(name="butt_joints")]
    joint_length_mm: float


class BoardsShown(View):
    """The boards of one face."""

    face: Face
    layers: tuple[LayerShown, ...]
    sheets: Annotated[tuple[SheetCount, ...], Of("purchase")]


class UseShown(View):
    """Used and not bought, such as water."""

    key: str
    label: str
    quantity: Annotated[Decimal, Of(lambda quantity: Decimal(repr(quantity.value)).quantize(Decimal("0.000001")))]
    unit: str
    explanation: Why


class BuildUpShown(View):
    left_build_up_mm: Annotated[float, As(name="left")]
    right_build_up_mm: Annotated[float, As(name="right")]


class WallShown(View):
    """One wall worked up."""

    document_name = "wall_work_up"
    is_whole = True

    key: Annotated[str, Of("spec.key")]
    name: Annotated[str, Of("spec.name")]
    measured_on: Annotated[MeasuredOn, Of("spec.measured_on")]
    stud_depth_mm: Annotated[float, Of("curve.stud_depth_mm")]
    build_up: Annotated[BuildUpShown, Of("curve")]
    pieces: Annotated[tuple[PieceShown, ...], Of("curve.pieces")]
    lengths: Annotated[dict[str, float], ByLine, Of(lambda wall: {line: wall.curve.length_mm(line) for line in LINES})]
    longer_framing_mm: Annotated[float, Of("curve.longer_framing_mm")]
    areas: Annotated[
        dict[str, Any],
        Named(LINES, Declared(AreasShown)),
        Of(lambda wall: {line: (wall.curve.gross_area_mm2(line), wall.curve.net_area_mm2(line)) for line in LINES}),
    ]
    end: Annotated[EndShown, Of("curve")]
    joints: Annotated[tuple[JointShown, ...], Of("curve.joints")]
    openings: Annotated[tuple[OpeningShown, ...], Of("curve.openings")]
    checks: Annotated[tuple[CheckShown, ...], Of(lambda wall: (*wall.bend_checks, *wall.track_checks))]
    framing: Annotated[FramingShown, Of(itself)]
    boards: Annotated[tuple[BoardsShown, ...], Of("face_plans")]
    trim: Annotated[tuple[TrimShown, ...], Of("trims")]
    uses: Annotated[tuple[UseShown, ...], Of(lambda wall: [used for used in wall.quantities if used.material is None])]
    top: Annotated[Top, Of("spec.top")]
    ends: Annotated[EndsShown | None, Of(lambda wall: None if wall.curve.is_closed else wall.spec.ends)]
    top_edges: Annotated[
        dict[str, float],
        ByLine,
        "Along slopes; steps apart.",
        Of(lambda wall: {line: wall.curve.top_edge_mm(line, 0.0, wall.curve.centre_length_mm) for line in LINES}),
    ]
    top_steps_mm: Annotated[float, Of("curve.top_steps_mm")]
    arches: tuple[ArchShown, ...]
    casings: Annotated[tuple[CasingShown, ...], Of(casings_of)]
    track_pieces: tuple[TrackPiece, ...]
    backing: tuple[BackingLine, ...]
    offsets: Annotated[OffsetsShown | None, Of("baseline")]
    dimensions: Annotated[tuple[DimensionShown, ...], Of(lambda wall: marked_dimensions(wall.spec))]
    holds: tuple[HoldShown, ...]
    room: RoomShown | None
    findings: tuple[ShownFinding, ...]
