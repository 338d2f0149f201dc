"""What was taken on site beside the figures of the pieces: readings, leans, offsets, marks."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any, Literal, Self, get_args

from catalog.core.ground.declared import (
    Angle,
    As,
    Declared,
    Document,
    Items,
    Length,
    OneOf,
    Refs,
    Schema,
    build,
    read_fields,
    write,
    write_fields,
)
from catalog.core.ground.document_reader import Reader, read_all
from jobs.core.measure.curve import Point
from jobs.core.measure.dimension_status import MarkedDimension
from jobs.core.measure.offsets_fit import MAX_OFFSETS, Offset, check_offsets
from jobs.core.measure.radius_readings import BandReading, EndGaps, Lean, OnBlocks, Reading
from jobs.core.measure.survey import ArcPiece, StraightPiece, SurveyError, TemplatePiece
from jobs.core.measure.told_by_figures import figures_of, figures_schema, told_by_figures

ReadingWay = Literal["chord_rise", "on_blocks", "end_gaps"]
READING_WAYS: tuple[ReadingWay, ...] = get_args(ReadingWay)
READINGS: Mapping[ReadingWay, type[BandReading]] = {"chord_rise": Reading, "on_blocks": OnBlocks, "end_gaps": EndGaps}
READING_FIGURES: Mapping[ReadingWay, tuple[str, ...]] = {way: figures_of(kind) for way, kind in READINGS.items()}
"""The figures of each way, by their names in a document; the first is the span."""
CONVEX_ONLY: frozenset[ReadingWay] = frozenset({"on_blocks", "end_gaps"})
FINEST_TAPE_MM = 0.01
COARSEST_TAPE_MM = 100.0
# Any accuracy serves to see whether the figures of a reading hold.
_SOME_ACCURACY_MM = 1e-3
_WAYS_WORDS = "chord and rise; apart, block and gap; or straightedge, first_gap and last_gap"
MAX_READINGS = 50
MAX_LEANS = 50
_NAMES = {
    "chord_accuracy": "span_accuracy",
    "apart_accuracy": "span_accuracy",
    "length_accuracy": "span_accuracy",
    "length": "straightedge",
}


@dataclass(frozen=True)
class ReadingTaken:
    """One repeat reading of an arc, on the line its piece was measured on.

    Args:
        piece: index of its piece, from 0. way: how it was read. figures_mm: as `READING_FIGURES` names them.
        accuracy_mm: how far the smaller figure may be out either way, None for the wall's tape. span_accuracy_mm: the
            same of the span, >= 0; 0 for a straightedge of known length. at_height_mm: above the floor where the
            reading is of that height alone; None for the wall's own.

    Raises:
        SurveyError: figures that are no such reading, named as in a document.

    >>> ReadingTaken(0, "chord_rise", (2400.0, 150.0)).reading(3.0).band().best_mm
    4875.0
    """

    document_name = "reading"
    document_description = (
        "One reading of an arc: a chord and its rise. Or, on a convex face, a straightedge on two equal blocks, or "
        "the gaps at the ends of a straightedge."
    )

    piece: Annotated[int, As(aside=True)]
    way: Annotated[ReadingWay, As(aside=True)]
    figures_mm: Annotated[tuple[float, ...], As(aside=True)]
    accuracy_mm: Annotated[
        float | None,
        Length(),
        "How far the rise or gap may be out either way, 0.01 to 100 mm; without it that of the wall's tape.",
        As(label="May be out by", hint="the rise or gap; empty: as the wall's tape", left_out=True),
    ] = None
    span_accuracy_mm: Annotated[
        float,
        Length(),
        "The same of the chord, the blocks apart or the straightedge; nothing for a length that is known.",
        As(label="Its span may be out by", hint="empty: known exactly", left_out=True),
    ] = 0.0
    at_height_mm: Annotated[
        float | None,
        Length(),
        "Height above the floor where the reading is of that height alone; at most 30 m.",
        As(label="Height above the floor", hint="only where it is of that height alone", left_out=True),
    ] = None

    @classmethod
    def from_document(cls, reader: Reader) -> Self:
        """In documents the figures say by their names which way it is; nothing there says which piece."""
        kind, given = told_by_figures(reader, READINGS.values())
        if kind is None:
            raise reader.error("", f"a reading is {_WAYS_WORDS}; {given} was given")
        way = next(way for way, known in READINGS.items() if known is kind)
        values = read_all(figures=lambda: read_fields(kind, reader, whole=False), rest=lambda: read_fields(cls, reader))
        figures_mm = tuple(values["figures"].values())
        return build(cls, reader, {"piece": 0, "way": way, "figures_mm": figures_mm, **values["rest"]})

    def to_document(self) -> Document:
        return {**write_fields(self.reading(_SOME_ACCURACY_MM)), **write_fields(self)}

    @classmethod
    def document_schema(cls, schema: Schema, refs: Refs) -> Schema:
        return figures_schema(schema, tuple(READINGS.values()), refs)

    def __post_init__(self) -> None:
        if self.way not in READING_WAYS:
            raise SurveyError("way", f"a reading is one of {', '.join(READING_WAYS)}; {self.way!r} was given")
        height_mm = self.at_height_mm
        if height_mm is not None and not (math.isfinite(height_mm) and 0 <= height_mm <= 30_000):
            raise SurveyError("at_height", f"must be from the floor to 30 m; {height_mm:g} mm was given")
        if self.accuracy_mm is not None:
            check_tape("accuracy", self.accuracy_mm)
        self.reading(_SOME_ACCURACY_MM)

    def reading(self, tape_mm: float) -> BandReading:
        """The measurement, read with a tape that may be out by tape_mm (> 0) where the reading does not say itself.

        Raises SurveyError, named as in a document, when the figures and the accuracy are no such reading.
        """
        accuracy_mm = self.accuracy_mm or tape_mm
        try:
            match self.way:
                case "chord_rise":
                    chord_mm, rise_mm = self.figures_mm
                    return Reading(chord_mm, rise_mm, accuracy_mm, self.span_accuracy_mm)
                case "on_blocks":
                    apart_mm, block_mm, gap_mm = self.figures_mm
                    return OnBlocks(apart_mm, block_mm, gap_mm, accuracy_mm, self.span_accuracy_mm)
                case "end_gaps":
                    length_mm, first_mm, last_mm = self.figures_mm
                    return EndGaps(length_mm, first_mm, last_mm, accuracy_mm, self.span_accuracy_mm)
        except SurveyError as error:
            raise SurveyError(_NAMES.get(error.field, error.field), error.reason) from error


@dataclass(frozen=True)
class LeanTaken:
    """How far the wall leans at one place of a piece (by its index, from 0)."""

    piece: int
    lean: Lean


@dataclass(frozen=True)
class ArcTaken(ArcPiece):
    """An arc of a document, with what was read of it."""

    readings: Annotated[
        tuple[ReadingTaken, ...],
        Items(Declared(ReadingTaken), MAX_READINGS),
        "Repeat readings of this arc, on the line it was measured on. They make its radius a band.",
        As(left_out=True),
    ] = ()
    leans: Annotated[
        tuple[Lean, ...],
        Items(Declared(Lean), MAX_LEANS),
        "How far the arc stands off plumb: once for the whole of it, or at three or more places along it.",
        As(left_out=True),
    ] = ()

    @classmethod
    def from_document(cls, reader: Reader) -> Self:
        taken = super().from_document(reader)
        if len(taken.leans) == 2:
            raise reader.error("leans", "give one lean for the whole arc, or at least three along it; 2 were given")
        return taken


class PieceOf(OneOf):
    """A piece; only an arc has readings."""

    def read(self, reader: Reader, name: str) -> Any:
        piece = reader.object(name)
        shape = piece.choice(self.by, tuple(self.words))
        for entry in ("readings", "leans") if shape != ArcTaken.shape else ():
            if piece.values(entry):
                raise piece.error(entry, "are of an arc; this piece has no radius to be read")
        return self.read_object(piece)


PIECE = PieceOf("shape", (ArcTaken, StraightPiece, TemplatePiece))


@dataclass(frozen=True)
class OffsetsGiven:
    """Offsets from a straight baseline as a document has them; without pieces it need not say where those start."""

    document_name = "offsets"
    document_description = (
        "Offsets from a straight baseline that the pieces are fitted to, all of one line of the wall. Without pieces "
        "the fewest straights and arcs within the tolerance are fitted; with pieces `start` says where they begin."
    )

    tolerance_mm: Annotated[
        float,
        Length(),
        "How far the wall may be from any of them, more than zero.",
        As(label="The wall may be off them by", hint="no finer than the tape, such as 1/8 in"),
    ]
    points: Annotated[
        tuple[Offset, ...],
        Items(Declared(Offset), MAX_OFFSETS, least=3),
        "In walking order, each further along the baseline than the one before.",
    ]
    start: Annotated[Offset | None, "Where the pieces start; needed with pieces."] = None
    heading_rad: Annotated[
        float,
        Angle(signed=True),
        "Of walking there, from the baseline's direction, in degrees, left positive.",
    ] = 0.0

    def __post_init__(self) -> None:
        try:
            check_offsets(self.points, self.tolerance_mm)
        except SurveyError as error:
            raise SurveyError(place_of(error.field), error.reason) from error


def place_of(field: str) -> str:
    """The fit calls its table offsets, and so does a document the whole.

    >>> place_of("offsets[2].along")
    'points[2].along'
    """
    return field.replace("offsets", "points")


@dataclass(frozen=True)
class Baseline:
    """Offsets from a straight baseline that a wall's pieces were fitted to.

    Args:
        offsets: in walking order. tolerance_mm: how far the wall may be from any of them, > 0. start: where the
            pieces start, in the baseline's coordinates, mm. heading_rad: of walking there, from the baseline's
            direction, left positive.

    Raises:
        SurveyError: offsets or a tolerance that no wall can be fitted to, or a start that is not finite.

    >>> Baseline((Offset(0.0, 0.0), Offset(500.0, 3.0), Offset(1000.0, 0.0)), 5.0, (0.0, 0.0), 0.0).tolerance_mm
    5.0
    """

    offsets: tuple[Offset, ...]
    tolerance_mm: float
    start: Point
    heading_rad: float

    def to_document(self) -> Document:
        return write(OffsetsGiven(self.tolerance_mm, self.offsets, Offset(*self.start), self.heading_rad))

    def __post_init__(self) -> None:
        check_offsets(self.offsets, self.tolerance_mm)
        if not (
            all(math.isfinite(value) and abs(value) <= 1e7 for value in self.start) and abs(self.heading_rad) <= math.pi
        ):
            raise SurveyError("start", "the start of the pieces must lie within 10 km and head within half a turn")


@dataclass(frozen=True)
class SiteMeasurements:
    """All that was taken of a wall beside its pieces, heights and openings.

    tape_accuracy_mm: of the tape this wall was measured with, either way; None for the firm's. marks: the last of a
    dimension counts.
    """

    tape_accuracy_mm: Annotated[
        float | None,
        Length(),
        "How far the tape this wall was measured with may be out either way, 0.01 to 100 mm; without it the firm's.",
        As(label="The tape may be out by", hint="either way, such as 1/16 in; empty: the firm's standard"),
    ] = None
    readings: Annotated[tuple[ReadingTaken, ...], As(aside=True)] = ()
    leans: Annotated[tuple[LeanTaken, ...], As(aside=True)] = ()
    baseline: Annotated[
        Baseline | None, Declared(OffsetsGiven), "Offsets from a straight baseline.", As(name="offsets")
    ] = None
    marks: Annotated[
        tuple[MarkedDimension, ...], "How each dimension is known; nobody stands for one that is not marked."
    ] = ()

    def __post_init__(self) -> None:
        if self.tape_accuracy_mm is not None:
            check_tape("tape_accuracy", self.tape_accuracy_mm)


def check_tape(field: str, accuracy_mm: float) -> None:
    """Refuse an accuracy that is no tape's. Raises SurveyError naming the field.

    Args:
        field: as the document names it. accuracy_mm: either way.

    Source: own bounds; a laser reads to about 1 mm, and out by 4 in nothing is measured.

    >>> check_tape("tape_accuracy", 3.175)
    """
    if not (math.isfinite(accuracy_mm) and FINEST_TAPE_MM <= accuracy_mm <= COARSEST_TAPE_MM):
        raise SurveyError(
            field,
            f"must be from {FINEST_TAPE_MM:g} to {COARSEST_TAPE_MM:g} mm, such as 3 mm; {accuracy_mm:g} mm was given",
        )
