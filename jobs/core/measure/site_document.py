"""What was taken of a wall on site: offsets with the pieces fitted to them, and what may be said of what."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence

from catalog.core.ground.document_reader import DocumentError, DocumentProblem, Reader
from jobs.core.measure.curve import resolve_line
from jobs.core.measure.dimension_holds import dimensions_of
from jobs.core.measure.offsets_fit import Offset, OffsetsFit, fit_offsets
from jobs.core.measure.site_measurements import CONVEX_ONLY, Baseline, OffsetsGiven, place_of
from jobs.core.measure.survey import ArcPiece, MeasuredOn, RadiusArcLength, StraightPiece, SurveyError
from jobs.core.measure.wall_spec import WallSpec

Piece = StraightPiece | ArcPiece
Told = tuple[str, str]
"""A path under the wall, and what is wrong there."""


def kept_offsets(
    given: OffsetsGiven | None, has_pieces: bool, key: str, reader: Reader
) -> tuple[Baseline | None, tuple[Piece, ...]]:
    """The offsets a wall was taken by, and the pieces fitted to them where it gives none.

    given: as read. has_pieces: whether the wall gives its pieces; it then says where they start as well. key: of the
    wall. reader: of the wall. Returns None and no pieces where it gives no offsets. Raises DocumentError.

    >>> points = (Offset(0.0, 0.0), Offset(1000.0, 0.1), Offset(2000.0, 0.0))
    >>> kept, pieces = kept_offsets(OffsetsGiven(3.175, points), False, "w", Reader({}))
    >>> len(pieces), kept.tolerance_mm
    (1, 3.175)
    """
    if given is None:
        return None, ()
    try:
        if not has_pieces:
            return kept_fit(given.points, fit_offsets(given.points, given.tolerance_mm, key, "metric"))
        if given.start is None:
            raise SurveyError("start", "say where the pieces start, or leave the pieces out to have them fitted")
        start = (given.start.along_mm, given.start.offset_mm)
        return Baseline(given.points, given.tolerance_mm, start, given.heading_rad), ()
    except SurveyError as error:
        raise reader.error(f"offsets.{place_of(error.field)}", error.reason) from error


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
    >>> wall = WallSpec("w", "Wall", "centre", (StraightPiece(1000.0),), HeightProfile(((0.0, 2400.0),)), "T", "S",
    ...     bare, bare)
    >>> check_taken(wall, Reader({}))
    """
    pairs = [*_about_marks(wall), *_about_fitted(wall, reader), *_about_sides(wall), *_about_lines(wall)]
    if pairs:
        raise DocumentError(DocumentProblem(reader.where(path), reason) for path, reason in pairs)


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
                f"{line.replace('_', ' ')} line; give a chord and a rise",
            )


def _about_lines(wall: WallSpec) -> Iterable[Told]:
    if wall.taken.baseline is None:
        return
    lines = {resolve_line(_line_of(piece, wall.measured_on), _turn_of(piece)) for piece in wall.pieces}
    if len(lines) > 1:
        named = " and ".join(sorted(line.replace("_", " ") for line in lines))
        yield (
            "measured_on",
            f"offsets follow one line of the wall, these pieces are on its {named}: say left or right framing, left "
            "or right finished, or centre",
        )


def _line_of(piece: object, measured_on: MeasuredOn) -> MeasuredOn:
    own: MeasuredOn | None = getattr(piece, "measured_on", None)
    return own or measured_on


def _turn_of(piece: object) -> int:
    if not isinstance(piece, ArcPiece):
        return 0
    return 1 if (piece.turn or piece.given.solve().turn) == "left" else -1
