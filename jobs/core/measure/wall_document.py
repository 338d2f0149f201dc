"""One wall of a job file, read into a `WallSpec` and written back."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from functools import partial
from typing import Any

from catalog.core.ground.declared import Document, Writing, read, write, write_length
from catalog.core.ground.document_reader import DocumentError, DocumentProblem, Reader, read_all
from catalog.core.materials.specs import KitOf
from jobs.core.measure.curve import FACES
from jobs.core.measure.findings import Override
from jobs.core.measure.room_document import read_room, write_room
from jobs.core.measure.site_document import (
    MAX_MARKS,
    check_taken,
    of_piece,
    read_leans,
    read_mark,
    read_offsets,
    read_readings,
    read_tape,
    write_piece_taken,
    write_taken,
)
from jobs.core.measure.site_measurements import LeanTaken, ReadingTaken, SiteMeasurements
from jobs.core.measure.survey import (
    CASING_FACES,
    MEASURED_ON,
    ArcGiven,
    ArcLengthChord,
    ArcPiece,
    ChordRise,
    HeightProfile,
    MatchedCurve,
    Opening,
    OpeningCasing,
    Piece,
    RadiusAngle,
    RadiusArcLength,
    RadiusChord,
    StraightPiece,
    SurveyError,
    TemplatePiece,
    ThreePoints,
    Turn,
)
from jobs.core.measure.wall_spec import (
    BEND_WAYS,
    ENDS,
    FORMS,
    LEVELS,
    MAX_END_STUDS,
    POSITIONS,
    TOPS,
    FaceBuild,
    Layer,
    TrimRun,
    WallEnds,
    WallSpec,
)

PIECE_ENTRIES = frozenset({"shape", "turn", "kink", "measured_on", "major", "readings", "leans"})
PieceTaken = tuple[Piece, tuple[ReadingTaken, ...], tuple[LeanTaken, ...]]
ARC_FIGURES = ("radius", "angle", "arc", "chord", "rise", "points")
TURNS: tuple[Turn, ...] = ("left", "right")
KEY_RE = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")

WAYS = (
    "radius and angle; radius and arc; chord and rise; radius and chord; arc and chord; chord and rise of an old curve "
    "with the arc of the new; or points"
)


def read_key(reader: Reader, name: str = "key") -> str:
    """A short stable key: small letters, digits and single hyphens, at most 40 characters."""
    key = reader.text(name, longest=40)
    if not KEY_RE.fullmatch(key):
        raise reader.error(name, f'"{key}" must be of small letters, digits and single hyphens, such as front-screen')
    return key


def _given(reader: Reader) -> ArcGiven:
    figures = {name for name in ARC_FIGURES if reader.has(name)}
    for name in set(ARC_FIGURES) - figures:
        reader.pass_over(name)  # an export writes null for what was not given
    lengths = {f"{name}_mm": _length(reader, name) for name in ("radius", "arc", "chord", "rise") if name in figures}
    if figures == {"radius", "angle"}:
        return RadiusAngle(**read_all(**lengths, sweep_rad=lambda: reader.angle_rad("angle")))
    if figures == {"radius", "arc"}:
        return RadiusArcLength(**read_all(**lengths))
    if figures == {"chord", "rise"}:
        return ChordRise(**read_all(**lengths))
    if figures == {"radius", "chord"}:
        return RadiusChord(**read_all(**lengths, major=lambda: reader.flag("major", False)))
    if figures == {"arc", "chord"}:
        return ArcLengthChord(**read_all(**lengths))
    if figures == {"chord", "rise", "arc"}:
        return MatchedCurve(**read_all(**lengths))
    if figures == {"points"}:
        return _points(reader)
    message = ", ".join(sorted(figures)) or "nothing"
    complaints = [DocumentProblem(reader.path, f"an arc is given by {WAYS}; {message} was given")]
    # A misspelt figure is the likely reason, and nobody looks for it among those that were read.
    unknown = sorted(set(reader.names()) - set(ARC_FIGURES) - PIECE_ENTRIES)
    complaints += [DocumentProblem(reader.where(name), "is not a name known here") for name in unknown]
    raise DocumentError(complaints)


def _length(reader: Reader, name: str) -> Callable[[], float]:
    return lambda: reader.length(name)


def _points(reader: Reader) -> ThreePoints:
    points = reader.values("points")
    if len(points) != 3:
        raise reader.error("points", f"must be three points in walking order; {len(points)} were given")
    pairs = []
    for index, point in enumerate(points):
        name = f"points[{index}]"
        if not isinstance(point, list) or len(point) != 2:
            raise reader.error(name, "must be two coordinates, [x, y]")
        x, y = (reader.length_of(name, value, allow_negative=True) for value in point)
        pairs.append((x, y))
    return ThreePoints(*pairs)


def _piece_taken(reader: Reader) -> PieceTaken:
    """A piece with what was read of it, which does not know its place yet; a straight has no radius to read."""
    document = read_all(
        piece=lambda: _piece(reader),
        readings=lambda: read_readings(reader),
        leans=lambda: read_leans(reader),
    )
    piece = document["piece"]
    if not isinstance(piece, ArcPiece):
        for name in ("readings", "leans"):
            if document[name]:
                raise reader.error(name, "are of an arc; this piece has no radius to be read")
    return piece, document["readings"], document["leans"]


def _piece(reader: Reader) -> Piece:
    shape = reader.choice("shape", ("arc", "straight", "template"))

    def kink() -> float:
        return reader.angle_rad("kink", 0.0, allow_negative=True)

    if shape == "straight":
        return StraightPiece(**read_all(length_mm=_length(reader, "length"), kink_rad=kink))
    if shape == "template":
        return _to_template(reader, kink)
    figures = read_all(
        given=lambda: _given(reader),
        turn=lambda: reader.optional_choice("turn", TURNS),
        measured_on=lambda: reader.optional_choice("measured_on", MEASURED_ON),
        kink_rad=kink,
    )
    piece = ArcPiece(**figures)
    try:
        solved = piece.given.solve()
    except SurveyError as error:
        raise reader.error(error.field, error.reason) from error
    if piece.turn is None and solved.turn is None:
        raise reader.error("turn", "say whether the arc turns left or right, as seen while walking")
    return piece


def _to_template(reader: Reader, kink: Callable[[], float]) -> TemplatePiece:
    figures = read_all(
        length_mm=_length(reader, "length"),
        chord_mm=_length(reader, "chord"),
        turned_rad=lambda: reader.angle_rad("turned", 0.0, allow_negative=True),
        template=lambda: reader.optional_text("template"),
        measured_on=lambda: reader.optional_choice("measured_on", MEASURED_ON),
        kink_rad=kink,
    )
    try:
        return TemplatePiece(**figures)
    except SurveyError as error:
        raise reader.error(error.field, error.reason) from error


def write_piece(piece: Piece) -> Document:
    """One piece as a document, without what was read of it."""
    written: Document
    if isinstance(piece, StraightPiece):
        written = {"shape": "straight", "length": write_length(piece.length_mm)}
    elif isinstance(piece, TemplatePiece):
        written = {
            "shape": "template",
            "length": write_length(piece.length_mm),
            "chord": write_length(piece.chord_mm),
            "turned": _number(math.degrees(piece.turned_rad)),
            "template": piece.template,
            "measured_on": piece.measured_on,
        }
    else:
        written = {"shape": "arc", **_write_given(piece.given)}
        if piece.turn:
            written["turn"] = piece.turn
        if piece.measured_on:
            written["measured_on"] = piece.measured_on
    if piece.kink_rad:
        written["kink"] = _number(math.degrees(piece.kink_rad))
    return written


def _write_given(given: ArcGiven) -> Document:
    match given:
        case RadiusAngle(radius, sweep):
            return {"radius": write_length(radius), "angle": _number(math.degrees(sweep))}
        case RadiusArcLength(radius, arc):
            return {"radius": write_length(radius), "arc": write_length(arc)}
        case ChordRise(chord, rise):
            return {"chord": write_length(chord), "rise": write_length(rise)}
        case RadiusChord(radius, chord, major):
            return {"radius": write_length(radius), "chord": write_length(chord), "major": major}
        case ArcLengthChord(arc, chord):
            return {"arc": write_length(arc), "chord": write_length(chord)}
        case MatchedCurve(chord, rise, arc):
            return {"chord": write_length(chord), "rise": write_length(rise), "arc": write_length(arc)}
        case ThreePoints():
            points = (given.first, given.middle, given.last)
            return {"points": [[write_length(x), write_length(y)] for x, y in points]}


def _number(value: float) -> float:
    # Degrees come from radians: nine places are far below any tape, and read back as they were typed.
    return round(value, 9)


def _heights(reader: Reader) -> HeightProfile:
    stations: tuple[tuple[float, float], ...]
    if not isinstance(reader.raw("height"), list):
        stations = ((0.0, reader.length("height")),)
    else:
        stations = reader.items("height", lambda entry: (entry.length("along"), entry.length("height")))
    try:
        return HeightProfile(stations)
    except SurveyError as error:
        raise reader.error("height", error.reason) from error


def _write_heights(heights: HeightProfile) -> Any:
    if len(heights.stations) == 1 and heights.stations[0][0] == 0:
        return write_length(heights.stations[0][1])
    return [{"along": write_length(along), "height": write_length(height)} for along, height in heights.stations]


def _opening(reader: Reader) -> Opening:
    figures = read_all(
        name=lambda: reader.text("name", longest=100),
        centre_at_mm=lambda: reader.length("centre_at"),
        width_mm=lambda: reader.length("width"),
        height_mm=lambda: reader.length("height"),
        sill_mm=lambda: reader.length("sill", 0.0),
        frame=lambda: reader.choice("frame", ("flat", "radial"), "flat"),
        measured_on=lambda: reader.optional_choice("measured_on", MEASURED_ON),
        arch_rise_mm=lambda: reader.optional_length("arch_rise"),
        casing=lambda: _casing(reader),
    )
    try:
        return Opening(**figures)
    except SurveyError as error:
        raise reader.error(error.field, error.reason) from error


def _casing(reader: Reader) -> OpeningCasing | None:
    inner = reader.optional_object("casing")
    if inner is None:
        return None
    figures = read_all(
        legs=lambda: inner.text("legs", longest=60),
        head=lambda: inner.optional_text("head"),
        reveal_mm=lambda: inner.length("reveal", 0.0),
        faces=lambda: inner.choice("faces", CASING_FACES, "both"),
    )
    inner.finish()
    try:
        return OpeningCasing(**figures)
    except SurveyError as error:
        raise reader.error(error.field, error.reason) from error


def _write_casing(casing: OpeningCasing | None) -> Document | None:
    if casing is None:
        return None
    return {
        "legs": casing.legs,
        "head": casing.head,
        "reveal": write_length(casing.reveal_mm),
        "faces": casing.faces,
    }


def _write_opening(opening: Opening) -> Document:
    return {
        "name": opening.name,
        "centre_at": write_length(opening.centre_at_mm),
        "width": write_length(opening.width_mm),
        "height": write_length(opening.height_mm),
        "sill": write_length(opening.sill_mm),
        "frame": opening.frame,
        "measured_on": opening.measured_on,
        "arch_rise": None if opening.arch_rise_mm is None else write_length(opening.arch_rise_mm),
        "casing": _write_casing(opening.casing),
    }


def _ends(reader: Reader) -> WallEnds:
    inner = reader.optional_object("ends")
    if inner is None:
        return WallEnds()
    figures = read_all(
        start=lambda: inner.choice("start", ENDS, "free"),
        end=lambda: inner.choice("end", ENDS, "free"),
        studs=lambda: inner.whole("studs", 1, MAX_END_STUDS, 1),
    )
    inner.finish()
    return WallEnds(**figures)


def _layer(reader: Reader) -> Layer:
    figures = read_all(
        board=lambda: reader.text("board", longest=60),
        direction=lambda: reader.choice("direction", ("lengthwise", "widthwise"), "lengthwise"),
        moisture=lambda: reader.choice("moisture", ("dry", "damp"), "dry"),
    )
    return Layer(**figures)


def _face(reader: Reader) -> FaceBuild:
    figures = read_all(
        layers=lambda: reader.items("layers", _layer, most=8),
        level=lambda: reader.choice("level", LEVELS),
        painted=lambda: reader.flag("painted", True),
    )
    reader.finish()
    return FaceBuild(**figures)


def _write_face(face: FaceBuild) -> Document:
    return {
        "layers": [
            {"board": layer.board, "direction": layer.direction, "moisture": layer.moisture} for layer in face.layers
        ],
        "level": face.level,
        "painted": face.painted,
    }


def _trim(reader: Reader) -> TrimRun:
    figures = read_all(
        name=lambda: reader.text("name", longest=100),
        face=lambda: reader.choice("face", FACES),
        position=lambda: reader.choice("position", POSITIONS),
        material=lambda: reader.text("material", longest=60),
        form=lambda: reader.choice("form", FORMS, "stock"),
        grade=lambda: reader.optional_choice("grade", ("paint", "stain")),
        application=lambda: reader.text("application", ""),
        foot_mm=lambda: reader.optional_length("foot"),
        returns_mm=lambda: reader.length("returns", 0.0),
        splices_allowed=lambda: reader.optional_flag("splices_allowed"),
        template=lambda: reader.optional_text("template"),
        needs_backing=lambda: reader.flag("needs_backing", False),
        need_by=lambda: reader.optional_day("need_by"),
        bend=lambda: reader.optional_choice("bend", BEND_WAYS),
    )
    try:
        return TrimRun(**figures)
    except SurveyError as error:
        raise reader.error(error.field, error.reason) from error


def _write_trim(trim: TrimRun) -> Document:
    return {
        "name": trim.name,
        "face": trim.face,
        "position": trim.position,
        "material": trim.material,
        "form": trim.form,
        "grade": trim.grade,
        "application": trim.application,
        "foot": None if trim.foot_mm is None else write_length(trim.foot_mm),
        "returns": write_length(trim.returns_mm),
        "splices_allowed": trim.splices_allowed,
        "template": trim.template,
        "needs_backing": trim.needs_backing,
        "need_by": trim.need_by.isoformat() if trim.need_by else None,
        "bend": trim.bend,
    }


def read_wall(reader: Reader) -> WallSpec:
    """One wall of the document.

    reader: the wall's object. Returns the specification, lengths in mm. Raises DocumentError naming each entry.

    >>> face = {"layers": [{"board": "GB-1/4"}], "level": 4}
    >>> wall = read_wall(Reader({"key": "screen", "name": "Screen", "measured_on": "centre", "height": "9'",
    ...     "pieces": [{"shape": "arc", "turn": "left", "chord": "14'", "rise": 30}],
    ...     "track": "T", "stud": "S", "left": face, "right": face}))
    >>> wall.heights.stations
    ((0.0, 2743.2),)
    """
    figures = read_all(
        key=lambda: read_key(reader),
        name=lambda: reader.text("name", longest=200),
        pieces=lambda: reader.items("pieces", _piece_taken, most=200),
        heights=lambda: _heights(reader),
        measured_on=lambda: reader.choice("measured_on", MEASURED_ON),
        track=lambda: reader.text("track", longest=60),
        stud=lambda: reader.text("stud", longest=60),
        left=lambda: _face(reader.object("left")),
        right=lambda: _face(reader.object("right")),
        openings=lambda: reader.items("openings", _opening, most=200),
        trims=lambda: reader.items("trims", _trim, most=200),
        stud_depth_mm=lambda: reader.optional_length("stud_depth"),
        stud_spacing_mm=lambda: reader.optional_length("stud_spacing"),
        insulated=lambda: reader.flag("insulated", False),
        top=lambda: reader.choice("top", TOPS, "ceiling"),
        ends=lambda: _ends(reader),
        room=lambda: read_room(reader),
        kit=lambda: KitOf().read_or(reader, "kit", {}),
        overrides=lambda: reader.items("overrides", partial(read, Override)),
        offsets=lambda: read_offsets(reader, bool(reader.has("pieces") and reader.values("pieces")), "wall"),
        tape_accuracy_mm=lambda: read_tape(reader),
        marks=lambda: reader.items("marks", read_mark, most=MAX_MARKS),
    )
    measured, (baseline, fitted) = figures.pop("pieces"), figures.pop("offsets")
    pieces = tuple(piece for piece, _, _ in measured) or fitted
    if not pieces:
        raise reader.error("pieces", "a wall needs at least one piece, straight or arc, or offsets to fit pieces to")
    taken = [of_piece(place, readings, leans) for place, (_, readings, leans) in enumerate(measured)]
    try:
        wall = WallSpec(
            **{name: value for name, value in figures.items() if name not in ("tape_accuracy_mm", "marks")},
            pieces=pieces,
            taken=SiteMeasurements(
                figures["tape_accuracy_mm"],
                tuple(reading for readings, _ in taken for reading in readings),
                tuple(lean for _, leans in taken for lean in leans),
                baseline,
                figures["marks"],
            ),
        )
    except SurveyError as error:
        raise reader.error(error.field, error.reason) from error
    check_taken(wall, reader)
    return wall


def write_wall(wall: WallSpec) -> Document:
    """The wall as a document that `read_wall` reads back the same."""
    return {
        "key": wall.key,
        "name": wall.name,
        "measured_on": wall.measured_on,
        "pieces": [write_piece(piece) | write_piece_taken(wall.taken, at) for at, piece in enumerate(wall.pieces)],
        "height": _write_heights(wall.heights),
        "track": wall.track,
        "stud": wall.stud,
        "stud_depth": None if wall.stud_depth_mm is None else write_length(wall.stud_depth_mm),
        "stud_spacing": None if wall.stud_spacing_mm is None else write_length(wall.stud_spacing_mm),
        "left": _write_face(wall.left),
        "right": _write_face(wall.right),
        "openings": [_write_opening(opening) for opening in wall.openings],
        "trims": [_write_trim(trim) for trim in wall.trims],
        "insulated": wall.insulated,
        "top": wall.top,
        "ends": {"start": wall.ends.start, "end": wall.ends.end, "studs": wall.ends.studs},
        "room": write_room(wall.room),
        "kit": KitOf().write(wall.kit, Writing()),
        "overrides": [write(override) for override in wall.overrides],
        **write_taken(wall.taken),
    }


__all__ = ["DocumentError", "read_key", "read_wall", "write_wall"]
