"""Fills the full-size template of an arc."""

from datetime import date

from catalog.core.ground.units import MM_PER_INCH, System, format_length
from catalog.core.materials.catalog_data import Catalog
from catalog.services.firm_on_paper import firm_party
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.drawings.plan.full_size import OVERLAP_MM, Template, lay_out
from jobs.drawings.plan.full_size_sheet import in_words, overview, sheets
from jobs.site.papers.full_size import PAGE_MM, FullSizePage, FullSizePaper
from quoting.platform.formatting import day_words
from quoting.platform.papers.drawings import Drawing
from quoting.platform.papers.parts import SheetSize

# Long enough to swing a curve by, short enough to carry: our own convention.
STRETCH_MM: dict[System, float] = {"imperial": 48 * MM_PER_INCH, "metric": 1200.0}


def full_size_paper(
    work_up: WallWorkUp,
    book: Catalog,
    *,
    job_title: str,
    piece_index: int,
    only_a_stretch: bool,
    size: SheetSize,
    prepared_by: str,
    today: date,
) -> FullSizePaper:
    """Raises DrawingInputError when the piece is no arc or takes too many sheets."""
    system = book.firm.display_units
    stretch_mm = STRETCH_MM[system] if only_a_stretch else None
    template = Template(
        work_up.spec.name, work_up.curve, piece_index, PAGE_MM[size], system, work_up.framing, stretch_mm
    )
    layout = lay_out(template)
    what = f"piece {piece_index + 1}"
    if template.share < 1:
        what += f", its first {format_length(STRETCH_MM[system], system)}"
    return FullSizePaper(
        job_title=job_title,
        wall=work_up.spec.name,
        what=what,
        as_of=day_words(today),
        prepared_by=prepared_by,
        firm=firm_party(book.firm),
        overview=Drawing(overview(layout), "How the sheets lie together"),
        pages=tuple(FullSizePage(sheet.name, sheet.svg) for sheet in sheets(layout)),
        says=_says(template),
        sheet_size=size,
    )


def _says(template: Template) -> tuple[str, ...]:
    stretch = (
        ("The arc has one radius, so this stretch serves all of it: mark, swing the template on, mark again.",)
        if template.share < 1
        else ()
    )
    return (
        "Print at 100 %, never fitted to the page. Before cutting anything, measure both bars on a sheet: 100 mm each.",
        f"Sheets overlap by {OVERLAP_MM:g} mm. Lay two so that the dashed lines named after each other are one line.",
        "Paper stretches with damp: check the whole against the chord and rise of the site sheet before it is cut.",
        *stretch,
        in_words(template),
    )
