"""Pieces fitted to offsets from a straight baseline: shown first, and taken when somebody says so."""

from dataclasses import dataclass

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.units import BareLengthUnit, System
from catalog.drawings.lettering import DESK_MM
from catalog.drawings.svg import Redrawn
from jobs.core.measure.offsets_fit import OffsetsFit, off_pieces
from jobs.core.measure.site_document import Piece, kept_offsets
from jobs.core.measure.site_measurements import Baseline, OffsetsGiven
from jobs.core.results.survey_shown import OffsetsShown
from jobs.drawings.plan.offsets import offsets_lean_svg, offsets_svg
from jobs.walls.pages.entries import WallEntries, piece_row
from jobs.walls.pages.marks import fitted_marks
from jobs.walls.pages.site_entries import offset_entries, offsets_fitted, offsets_given

FIT, TAKE = "fit-offsets", "take-fit"
NO_OFFSETS = "enter at least three offsets from the baseline first"


@dataclass(frozen=True)
class Fitted:
    """A chain of pieces as it would be taken, drawn with the offsets it was fitted to."""

    baseline: Baseline
    pieces: tuple[Piece, ...]
    fit: OffsetsFit
    picture: Redrawn
    document: dict[str, object]
    words: tuple[str, ...]


def fitted(entries: WallEntries, unit: BareLengthUnit, system: System) -> Fitted:
    """Raises DocumentError where the offsets or their tolerance cannot be fitted to."""
    given = offsets_given(entries.one, entries.rows["offsets"])
    if given is None:
        raise DocumentError.at("offsets.tolerance", NO_OFFSETS)
    offsets = read(OffsetsGiven, Reader(given, "offsets", unit))
    baseline, pieces = kept_offsets(offsets, False, "wall", Reader({}))
    assert baseline is not None
    fit = off_pieces(
        baseline.offsets, baseline.tolerance_mm, pieces, baseline.start, baseline.heading_rad, "wall", system
    )
    title = "Offsets and the pieces fitted to them"
    picture = Redrawn(
        offsets_svg(fit, title=title, system=system, width_mm=DESK_MM),
        offsets_lean_svg(fit, title=title, system=system),
    )
    words = tuple(finding.sentence for finding in fit.findings)
    return Fitted(baseline, pieces, fit, picture, write(fit, OffsetsShown, system=system), words)


def take(entries: WallEntries, result: Fitted, system: System) -> None:
    """The fitted pieces stand in the form instead of those before; what was read of those goes with them."""
    entries.rows["pieces"] = [piece_row(write(piece), system) for piece in result.pieces]
    entries.rows["readings"], entries.rows["leans"] = [], []
    texts, entries.rows["offsets"] = offset_entries(write(result.baseline), system)
    entries.one |= texts
    entries.shorten(system)
    for row in entries.rows["pieces"]:
        row |= fitted_marks(row, entries.signed)


def refuse_unfitted(entries: WallEntries) -> None:
    """Offsets are kept with the pieces fitted to them; alone they would be lost in silence."""
    texts, rows = entries.one, entries.rows["offsets"]
    if offsets_given(texts, rows) is not None and offsets_fitted(texts, rows) is None:
        message = 'fit the pieces to the offsets with "Fit pieces from offsets" and take them, or remove the offsets'
        raise DocumentError.at("offsets.tolerance", message)
