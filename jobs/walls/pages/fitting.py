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
from jobs.core.measure.survey import ArcPiece
from jobs.core.results.survey_shown import OffsetsShown
from jobs.drawings.plan.offsets import offsets_lean_svg, offsets_svg
from jobs.walls.pages.form.marks import fitted_marks
from jobs.walls.pages.form.survey_forms import OffsetForm, OffsetsForm, PieceForm
from jobs.walls.pages.form.wall_form import WallForm
from jobs.walls.pages.form.words import LINES

FIT, TAKE, LINE = "fit-offsets", "take-fit", "fit_line"
# Lines that stay on their side however the wall bends.
WALKED = {name: words for name, words in LINES.items() if not name.startswith(("convex", "concave"))}
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
    line: str = ""

    @property
    def lines(self) -> dict[str, str]:
        """To choose the line measured from, where one that goes with the turn of an arc cannot be meant."""
        turns = {piece.turn for piece in self.pieces if isinstance(piece, ArcPiece)}
        return WALKED if len(turns) > 1 and self.line not in WALKED else {}


def fitted(form: WallForm, unit: BareLengthUnit, system: System) -> Fitted:
    """Raises DocumentError where the offsets or their tolerance cannot be fitted to."""
    given = form.offsets()
    if not given["points"]:
        raise DocumentError.at("offsets.tolerance", NO_OFFSETS)
    asked = {name: given[name] for name in ("tolerance", "points")}
    offsets = read(OffsetsGiven, Reader(asked, "offsets", unit))
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
    shown, line = write(fit, OffsetsShown, system=system), form.typed.texts.get("measured_on", "")
    return Fitted(baseline, pieces, fit, picture, shown, words, line)


def take(form: WallForm, result: Fitted, system: System, signed: tuple[str, str], line: str) -> None:
    """The fitted pieces stand in the form instead of those before; what was read of those goes with them.

    line: of the wall, which the offsets were taken to; needed where the pieces bend both ways.
    """
    typed, kept = form.typed, write(result.baseline)
    if line in WALKED:
        typed.texts["measured_on"] = line
    typed.put("pieces", [PieceForm.texts_of(write(piece), system) for piece in result.pieces])
    for name in ("readings", "leans"):
        typed.put(name, [])
    typed.put("offsets-points", [OffsetForm.texts_of(point, system) for point in kept["points"]])
    typed.texts |= {f"offsets-{name}": text for name, text in OffsetsForm.texts_of(kept, system).items()}
    typed.shorten(system)
    typed.put("pieces", [row | fitted_marks(row, signed) for row in typed.rows("pieces")])


def refuse_unfitted(form: WallForm) -> None:
    """Offsets are kept with the pieces fitted to them; alone they would be lost in silence."""
    given = form.offsets()
    if given["points"] and "start" not in given:
        message = "fit the pieces to the offsets and use them, or remove the offsets"
        raise DocumentError.at("offsets.tolerance", message)
