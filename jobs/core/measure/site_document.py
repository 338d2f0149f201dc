"""What was taken of a wall on site, read from its document and written back: readings, leans, offsets and marks."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from catalog.core.ground.declared import Document, write_length
from catalog.core.ground.document_reader import DocumentError, DocumentProblem, Reader, read_all
from jobs.core.measure.curve import resolve_line
from jobs.core.measure.dimension_holds import dimensions_of
from jobs.core.measure.dimension_status import HOW_KNOWN, DimensionStatus, MarkedDimension
from jobs.core.measure.offsets_fit import MAX_OFFSETS, Offset, OffsetsFit, check_offsets, fit_offsets
from jobs.core.measure.radius_readings import Lean
from jobs.core.measure.site_measurements import (
    CONVEX_ONLY,
    READING_FIGURES,
    Baseline,
    LeanTaken,
    ReadingTaken,
    SiteMeasurements,
)
from jobs.core.measure.survey import ArcPiece, MeasuredOn, RadiusArcLength, StraightPiece, SurveyError
from jobs.core.measure.wall_spec import WallSpec

MAX_READINGS = 50
MAX_LEANS = 50
MAX_MARKS = 5_000
Piece = StraightPiece | ArcPiece
Told = tuple[str, str]
"""A path under the wall, and what is wrong there."""
WAYS = "chord and rise; apart, block and gap; or straightedge, first_gap and last_gap"


def read_readings(reader: Reader) -> tuple[ReadingTaken, ...]:
    """The repeat readings of one arc. reader: its piece; the index of the piece is left at 0."""
    return reader.items("readings", _reading, most=MAX_READINGS)


def read_leans(reader: Reader) -> tuple[LeanTaken, ...]:
    """How far an arc leans. reader: its piece; the index of the piece is left at 0."""
    leans = reader.items("leans", _lean, most=MAX_LEANS)
    if len(leans) == 2:
        raise reader.error("leans", "give one lean for the whole arc, or at least three along it; 2 were given")
    return leans


def read_tape(reader: Reader) -> float | None:
    """The accuracy of the tape a wall was measured with, mm; None where the wall does not say."""
    accuracy_mm = reader.optional_length("tape_accuracy")
    try:
        return SiteMeasurements(accuracy_mm).tape_accuracy_mm
    except SurveyError as error:
        raise reader.error(error.field, error.reason) from error


def read_mark(reader: Reader) -> MarkedDimension:
    """How one dimension is known."""
    return MarkedDimension(
        reader.text("dimension", longest=60),
        DimensionStatus(reader.choice("how", HOW_KNOWN), reader.text("by", longest=200), reader.day("on")),
    )


def read_offsets(reader: Reader, has_pieces: bool, key: str) -> tuple[Baseline | None, tuple[Piece, ...]]:
    """The offsets a wall was taken by, and the pieces fitted to them where it gives none.

    reader: the wall. has_pieces: whether it gives its pieces; it then says where they start as well. key: of the wall.
    Returns None and no pieces where it gives no offsets. Raises DocumentError naming each entry.

    >>> points = [{"along": 0, "offset": 0}, {"along": 40, "offset": "0.1 mm"}, {"along": 80, "offset": 0}]
    >>> kept, pieces = read_offsets(Reader({"offsets": {"tolerance": "1/8 in", "points": points}}), False, "w")
    >>> len(pieces), kept.tolerance_mm
    (1, 3.175)
    """
    about = reader.optional_object("offsets")
    if about is None:
        return None, ()
    figures = read_all(
        tolerance_mm=lambda: about.length("tolerance"),
        offsets=lambda: about.items("points", _offset, most=MAX_OFFSETS),
    )
    offsets, tolerance_mm = figures["offsets"], figures["tolerance_mm"]
    try:
        check_offsets(offsets, tolerance_mm)
        if not has_pieces:
            about.pass_over("start")
            about.pass_over("heading")
            about.finish()
            fit = fit_offsets(offsets, tolerance_mm, key, "metric")
            return kept_fit(offsets, fit)
        if not about.has("start"):
            raise about.error("start", "say where the pieces start, or leave the pieces out to have them fitted")
        start = about.object("start")
        figures = read_all(
            along=_signed(start, "along"),
            offset=_signed(start, "offset"),
            heading_rad=lambda: about.angle_rad("heading", 0.0, allow_negative=True),
        )
        start.finish()
        about.finish()
        return Baseline(offsets, tolerance_mm, (figures["along"], figures["offset"]), figures["heading_rad"]), ()
    except SurveyError as error:
        raise about.error(_place_of(error.field), error.reason) from error


def kept_fit(offsets: Sequence[Offset], fit: OffsetsFit) -> tuple[Baseline, tuple[Piece, ...]]:
    """A fit as it is kept and written: lengths to a millionth of a millimetre, angles to a billionth of a degree.

    >>> points = (Offset(0.0, 1 / 3), Offset(1000.0, 0.0), Offset(2000.0, 1 / 3))
    >>> kept_fit(points, fit_offsets(points, 3.0, "w", "metric"))[0].start
    (0.0, 0.333333)
    """
    start = (round(fit.start[0], 6), round(fit.start[1], 6))
    pieces: list[Piece] = []
    for piece in fit.pieces:
        kink_rad = _kept_rad(piece.kink_rad)
        if isinstance(piece, StraightPiece):
            pieces.append(StraightPiece(round(piece.length_mm, 6), kink_rad))
            continue
        arc = piece.given.solve()
        given = RadiusArcLength(round(arc.radius_mm, 6), round(arc.radius_mm * arc.sweep_rad, 6))
        pieces.append(ArcPiece(given, piece.turn, None, kink_rad))
    return Baseline(tuple(offsets), fit.tolerance_mm, start, _kept_rad(fit.heading_rad)), tuple(pieces)


def _kept_rad(angle_rad: float) -> float:
    return math.radians(round(math.degrees(angle_rad), 9))


def check_taken(wall: WallSpec, reader: Reader) -> None:
    """Refuse marks of dimensions the wall does not have, readings of the wrong side, and offsets of several lines.

    Nor may a mark say that what is worked out was measured.

    wall: as read, with what was taken of it. reader: of the wall. Raises DocumentError.

    >>> from jobs.core.measure.wall_spec import FaceBuild
    >>> from jobs.core.measure.survey import HeightProfile
    >>> bare = FaceBuild(())
    >>> wall = WallSpec("w", "Wall", (StraightPiece(1000.0),), HeightProfile(((0.0, 2400.0),)), "centre", "T", "S",
    ...     bare, bare)
    >>> check_taken(wall, Reader({}))
    """
    pairs = [*_about_marks(wall), *_about_fitted(wall, reader), *_about_sides(wall), *_about_lines(wall)]
    if pairs:
        raise DocumentError(DocumentProblem(reader.where(path), reason) for path, reason in pairs)


def write_piece_taken(taken: SiteMeasurements, piece: int) -> Document:
    """The readings and leans of one piece, by its index; nothing where none were taken."""
    readings = [_write_reading(reading) for reading in taken.readings if reading.piece == piece]
    leans = [_write_lean(lean.lean) for lean in taken.leans if lean.piece == piece]
    return {**({"readings": readings} if readings else {}), **({"leans": leans} if leans else {})}


def write_taken(taken: SiteMeasurements) -> Document:
    """What was taken of the wall as a whole: its tape, its offsets and its marks."""
    tape_mm = taken.tape_accuracy_mm
    return {
        "tape_accuracy": None if tape_mm is None else write_length(tape_mm),
        "offsets": None if taken.baseline is None else _write_baseline(taken.baseline),
        "marks": [write_mark(mark) for mark in taken.marks],
    }


def write_mark(marked: MarkedDimension) -> Document:
    mark = marked.mark
    return {"dimension": marked.dimension, "how": mark.how, "by": mark.by, "on": mark.on.isoformat()}


def of_piece(
    piece: int, readings: Iterable[ReadingTaken], leans: Iterable[LeanTaken]
) -> tuple[tuple[ReadingTaken, ...], tuple[LeanTaken, ...]]:
    """What was read with a piece, told which piece it is (by its index)."""
    return tuple(replace(lean, piece=piece) for lean in readings), tuple(replace(lean, piece=piece) for lean in leans)


def _reading(reader: Reader) -> ReadingTaken:
    given = {name for names in READING_FIGURES.values() for name in names if reader.has(name)}
    way = next((way for way, names in READING_FIGURES.items() if set(names) == given), None)
    if way is None:
        message = ", ".join(sorted(given)) or "nothing"
        raise DocumentError.at(reader.path, f"a reading is {WAYS}; {message} was given")
    for name in {name for names in READING_FIGURES.values() for name in names} - given:
        reader.pass_over(name)
    figures = read_all(**{name: _length(reader, name) for name in READING_FIGURES[way]})
    more = read_all(
        accuracy_mm=lambda: reader.optional_length("accuracy"),
        span_accuracy_mm=lambda: reader.length("span_accuracy", 0.0),
        at_height_mm=lambda: reader.optional_length("at_height"),
    )
    try:
        return ReadingTaken(0, way, tuple(figures[name] for name in READING_FIGURES[way]), **more)
    except SurveyError as error:
        raise reader.error(error.field, error.reason) from error


def _write_reading(taken: ReadingTaken) -> Document:
    written: Document = {
        name: write_length(figure) for name, figure in zip(READING_FIGURES[taken.way], taken.figures_mm, strict=True)
    }
    if taken.accuracy_mm is not None:
        written["accuracy"] = write_length(taken.accuracy_mm)
    if taken.span_accuracy_mm:
        written["span_accuracy"] = write_length(taken.span_accuracy_mm)
    if taken.at_height_mm is not None:
        written["at_height"] = write_length(taken.at_height_mm)
    return written


def _lean(reader: Reader) -> LeanTaken:
    figures = read_all(
        along_mm=lambda: reader.length("along", 0.0),
        outwards_mm=_signed(reader, "outwards"),
        height_mm=lambda: reader.length("height"),
    )
    try:
        return LeanTaken(0, Lean(**figures))
    except SurveyError as error:
        raise reader.error(error.field, error.reason) from error


def _write_lean(lean: Lean) -> Document:
    return {
        "along": write_length(lean.along_mm),
        "outwards": write_length(lean.outwards_mm),
        "height": write_length(lean.height_mm),
    }


def _offset(reader: Reader) -> Offset:
    figures = read_all(along_mm=_signed(reader, "along"), offset_mm=_signed(reader, "offset"))
    return Offset(**figures)


def _write_baseline(baseline: Baseline) -> Document:
    return {
        "tolerance": write_length(baseline.tolerance_mm),
        "points": [
            {"along": write_length(offset.along_mm), "offset": write_length(offset.offset_mm)}
            for offset in baseline.offsets
        ],
        "start": {"along": write_length(baseline.start[0]), "offset": write_length(baseline.start[1])},
        # Degrees come from radians: nine places are far below any tape.
        "heading": round(math.degrees(baseline.heading_rad), 9),
    }


def _about_marks(wall: WallSpec) -> Iterable[Told]:
    known = set(dimensions_of(wall)) if wall.taken.marks else set()
    seen: set[str] = set()
    for place, marked in enumerate(wall.taken.marks):
        path = f"marks[{place}].dimension"
        if marked.dimension not in known:
            few = ", ".join(sorted(known)[:6])
            yield path, f'"{marked.dimension}" is not a dimension this wall is given by; those are {few} and so on'
        elif marked.dimension in seen:
            yield path, f'"{marked.dimension}" is marked twice'
        seen.add(marked.dimension)


def _about_fitted(wall: WallSpec, reader: Reader) -> Iterable[Told]:
    """Figures of pieces alone are fitted, and those of pieces just fitted were measured by nobody."""
    just_now = wall.taken.baseline is not None and not (reader.has("pieces") and reader.values("pieces"))
    for place, marked in enumerate(wall.taken.marks):
        path, of_piece = f"marks[{place}].how", marked.dimension.startswith("pieces[")
        if marked.mark.how == "fitted" and not of_piece:
            yield path, "only a figure of a piece is fitted to offsets; say measured, assumed or confirmed"
        elif marked.mark.how == "measured" and of_piece and just_now:
            yield path, f"{marked.dimension} is worked out from the offsets: say fitted, or leave the mark out"


def _about_sides(wall: WallSpec) -> Iterable[Told]:
    """Blocks and gaps at the ends of a straightedge are read on a convex face only."""
    counts: Counter[int] = Counter()
    for reading in wall.taken.readings:
        place = counts[reading.piece]
        counts[reading.piece] += 1
        piece = wall.pieces[reading.piece]
        turn = _turn_of(piece)
        line = resolve_line(_line_of(piece, wall.measured_on), turn)
        if reading.way in CONVEX_ONLY and line.startswith("left" if turn > 0 else "right"):
            yield (
                f"pieces[{reading.piece}].readings[{place}]",
                "blocks and end gaps are read on a convex face, and this arc is measured on its "
                f"{line.replace('_', ' ')} line, the concave side; give a chord and a rise",
            )


def _about_lines(wall: WallSpec) -> Iterable[Told]:
    if wall.taken.baseline is None:
        return
    lines = {resolve_line(_line_of(piece, wall.measured_on), _turn_of(piece)) for piece in wall.pieces}
    if len(lines) > 1:
        named = " and ".join(sorted(line.replace("_", " ") for line in lines))
        yield (
            "measured_on",
            f"offsets are taken to one line of the wall, and these pieces would be on its {named}: say left or right "
            "framing, left or right finished, or centre",
        )


def _line_of(piece: object, measured_on: MeasuredOn) -> MeasuredOn:
    own: MeasuredOn | None = getattr(piece, "measured_on", None)
    return own or measured_on


def _turn_of(piece: object) -> int:
    if not isinstance(piece, ArcPiece):
        return 0
    return 1 if (piece.turn or piece.given.solve().turn) == "left" else -1


def _place_of(field: str) -> str:
    # The fit calls its table offsets, and so does the document the whole.
    return field.replace("offsets[", "points[").replace("offsets", "points")


def _length(reader: Reader, name: str) -> Callable[[], float]:
    return lambda: reader.length(name)


def _signed(reader: Reader, name: str) -> Callable[[], float]:
    return lambda: reader.length_of(name, reader.raw(name), allow_negative=True)
