"""What was taken of a wall on site, as the figures of its rows."""

import math
from collections import Counter
from collections.abc import Iterable
from typing import Any

from catalog.services.row_sync import Figures, sync_rows
from jobs.core.measure.site_measurements import Baseline, LeanTaken, ReadingTaken, SiteMeasurements
from jobs.walls.models import ArcLean, ArcReading, BaselineOffset, DimensionMark, Wall
from jobs.walls.models.readings import COLUMNS, FIGURES
from quoting.platform.models.brought_in import confirmed_figures
from quoting.platform.models.columns import BILLIONTH, quantized, quantized_or_none
from quoting.platform.models.core_values import column_values


def fill_taken(wall: Wall, taken: SiteMeasurements) -> None:
    owner: Figures = {"wall": wall}
    sync_rows(wall.readings.all(), reading_figures(taken.readings), key=("piece", "order"), owner=owner)
    sync_rows(wall.leans.all(), lean_figures(taken.leans), key=("piece", "order"), owner=owner)
    sync_rows(wall.marks.all(), mark_figures(taken), key=("dimension",), owner=owner)
    sync_rows(wall.site_surveys.all(), survey_figures(taken), owner=owner)
    offsets = taken.baseline.offsets if taken.baseline else ()
    sync_rows(
        wall.baseline_offsets.all(),
        (column_values(offset, BaselineOffset, order=place) for place, offset in enumerate(offsets)),
        key=("order",),
        owner=owner,
    )


def reading_figures(readings: Iterable[ReadingTaken]) -> Iterable[Figures]:
    places: Counter[int] = Counter()
    for reading in readings:
        figures: dict[str, Any] = dict.fromkeys(COLUMNS)
        figures |= zip(FIGURES[reading.way], (quantized(figure) for figure in reading.figures_mm), strict=True)
        yield figures | column_values(reading, ArcReading, order=places[reading.piece])
        places[reading.piece] += 1


def lean_figures(leans: Iterable[LeanTaken]) -> Iterable[Figures]:
    places: Counter[int] = Counter()
    for lean in leans:
        yield column_values(lean.lean, ArcLean, piece=lean.piece, order=places[lean.piece])
        places[lean.piece] += 1


def mark_figures(taken: SiteMeasurements) -> Iterable[Figures]:
    for mark in taken.marks:
        confirmed = confirmed_figures(mark.mark.brought_in)
        yield column_values(mark.mark, DimensionMark, dimension=mark.dimension, **confirmed)


def survey_figures(taken: SiteMeasurements) -> Iterable[Figures]:
    """One row, or none where neither tape nor offsets are the wall's own."""
    if taken.tape_accuracy_mm is None and taken.baseline is None:
        return
    yield {"tape_accuracy_mm": quantized_or_none(taken.tape_accuracy_mm), **_fit_figures(taken.baseline)}


def _fit_figures(baseline: Baseline | None) -> Figures:
    if baseline is None:
        return dict.fromkeys(("tolerance_mm", "start_along_mm", "start_offset_mm", "heading_deg"))
    return {
        "tolerance_mm": quantized(baseline.tolerance_mm),
        "start_along_mm": quantized(baseline.start[0]),
        "start_offset_mm": quantized(baseline.start[1]),
        "heading_deg": quantized(math.degrees(baseline.heading_rad), BILLIONTH),
    }


def rows_taken(taken: SiteMeasurements) -> Iterable[tuple[str, ArcReading | ArcLean]]:
    """The rows that would be kept, each with its place in the document, to be measured anew before they are."""
    for figures in reading_figures(taken.readings):
        yield f"pieces[{figures['piece']}].readings[{figures['order']}]", ArcReading(**figures)
    for figures in lean_figures(taken.leans):
        yield f"pieces[{figures['piece']}].leans[{figures['order']}]", ArcLean(**figures)
