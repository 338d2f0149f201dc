"""What was taken on site beside the figures of the pieces: readings, leans, offsets, marks."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, get_args

from jobs.core.measure.curve import Point
from jobs.core.measure.dimension_status import MarkedDimension
from jobs.core.measure.offsets_fit import Offset, check_offsets
from jobs.core.measure.radius_readings import BandReading, EndGaps, Lean, OnBlocks, Reading
from jobs.core.measure.survey import SurveyError

ReadingWay = Literal["chord_rise", "on_blocks", "end_gaps"]
READING_WAYS: tuple[ReadingWay, ...] = get_args(ReadingWay)
READING_FIGURES: Mapping[ReadingWay, tuple[str, ...]] = {
    "chord_rise": ("chord", "rise"),
    "on_blocks": ("apart", "block", "gap"),
    "end_gaps": ("straightedge", "first_gap", "last_gap"),
}
"""The figures of each way, by their names in a document; the first is the span."""
CONVEX_ONLY: frozenset[ReadingWay] = frozenset({"on_blocks", "end_gaps"})
FINEST_TAPE_MM = 0.01
COARSEST_TAPE_MM = 100.0
# Any accuracy serves to see whether the figures of a reading hold.
_SOME_ACCURACY_MM = 1e-3
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

    piece: int
    way: ReadingWay
    figures_mm: tuple[float, ...]
    accuracy_mm: float | None = None
    span_accuracy_mm: float = 0.0
    at_height_mm: float | None = None

    def __post_init__(self) -> None:
        if self.way not in READING_WAYS:
            raise SurveyError("way", f"a reading is one of {', '.join(READING_WAYS)}; {self.way!r} was given")
        height_mm = self.at_height_mm
        if height_mm is not None and not (math.isfinite(height_mm) and 0 <= height_mm <= 30_000):
            raise SurveyError("at_height", f"must lie from the floor to 30 m; {height_mm:g} mm was given")
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

    tape_accuracy_mm: float | None = None
    readings: tuple[ReadingTaken, ...] = ()
    leans: tuple[LeanTaken, ...] = ()
    baseline: Baseline | None = None
    marks: tuple[MarkedDimension, ...] = ()

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
            f"must lie from {FINEST_TAPE_MM:g} to {COARSEST_TAPE_MM:g} mm, such as 3 mm; {accuracy_mm:g} mm was given",
        )
