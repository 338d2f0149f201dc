"""Fills the site sheet from a work-up. Nothing here reads a price, a cost, a margin or a supplier."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from catalog.core.ground.refusal import Refused
from catalog.core.ground.units import format_length
from catalog.core.materials.catalog_data import Catalog
from catalog.services.firm_on_paper import firm_party, sheet_size
from jobs.core.measure.curve import FACES
from jobs.core.measure.wall_words import height_words
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.drawings.plan.plan_names import opening_size
from jobs.site.papers.site_parts import SiteSection, SiteWall
from jobs.site.papers.site_sheet import SitePaper
from jobs.site.services.boards import boards
from jobs.site.services.cuts import cut_lists, materials
from jobs.site.services.drawings import drawings
from jobs.site.services.field_check import field_check
from jobs.site.services.on_site import Arrival
from jobs.site.services.setting_out import setting_out
from jobs.site.services.shape import shape
from jobs.site.services.sheet_numbers import NO_NUMBERS, SheetNumbers, sheet_numbers
from jobs.site.services.studs import studs
from jobs.site.services.survey import survey
from jobs.site.services.trim import trim
from jobs.site.services.words import LINE_WORDS, piece_words
from quoting.platform.formatting import day_words
from quoting.platform.papers.drawings import Drawing
from quoting.platform.papers.parts import Measure, SheetSize
from quoting.platform.papers.photos import PaperPhoto

CAUTIONS = (
    "Local code and licensed practice come first, whatever this sheet says. It decides nothing about fire-rated or "
    "load-bearing walls, their heights, or electrical work.",
    "Cutting and sanding board makes silica dust: wet or vacuum methods and a respirator (29 CFR 1926.1153).",
    "In buildings from before 1978 take paint for lead until it is tested (40 CFR 745).",
    "Older board, compound and texture may hold asbestos: have it sampled before it is disturbed (29 CFR 1926.1101).",
    "Cut edges of track and studs are sharp: gloves, and eye protection when cutting or fastening steel.",
    "Ladders and platforms: set on firm ground, inspected, never overreached; sheets overhead take two people.",
    "Damp-bent board must be dry within 24 hours, and before it is finished (Gypsum Association GA-226-08).",
    "Look for cables and pipes before fastening track to a floor or ceiling.",
)


def site_paper(
    work_up: JobWorkUp,
    *,
    prepared_by: str,
    size: SheetSize | None = None,
    photos: Mapping[str, tuple[PaperPhoto, ...]] | None = None,
    interval_mm: float | None = None,
    arrivals: Sequence[Arrival] = (),
) -> SitePaper:
    """size: letter or A4, None for the firm's own. interval_mm: of the ordinates, None for the usual.

    Raises Refused while the job has no wall.
    """
    if not work_up.walls:
        raise Refused("The job has no wall yet, so there is nothing to set out. Add a wall first.")
    firm, job, shown = work_up.read.book.firm, work_up.read.job, photos or {}
    numbers = sheet_numbers(work_up.takeoff)
    return SitePaper(
        job_key=job.key,
        job_title=job.title,
        as_of=day_words(work_up.today),
        prepared_by=prepared_by,
        firm=firm_party(firm),
        walls=tuple(
            replace(site_wall(wall, work_up.read.book, numbers, interval_mm), photos=shown.get(wall.spec.key, ()))
            for wall in work_up.walls
        ),
        cautions=CAUTIONS,
        site_lines=tuple(line.strip() for line in job.site_address.splitlines() if line.strip()),
        materials=materials(work_up, arrivals),
        cut_lists=cut_lists(work_up),
        sheet_size=size or sheet_size(firm),
    )


def site_wall(
    work_up: WallWorkUp, book: Catalog, numbers: SheetNumbers = NO_NUMBERS, interval_mm: float | None = None
) -> SiteWall:
    """numbers: of the sheets the boards are cut from, known when the whole job is worked up.

    interval_mm: of the ordinates, None for the usual.
    """
    drawn = drawings(work_up, book, numbers)
    system = book.firm.display_units
    sections = (
        _with(setting_out(work_up.curve, system, work_up.room, interval_mm), drawn.plan),
        _with(studs(work_up, book), drawn.section),
        shape(work_up, book, interval_mm),
        *(_under_drawings(boards(work_up, face, book, numbers), drawn.faces[face]) for face in FACES),
        trim(work_up, book),
        survey(work_up, system),
        field_check(work_up.spec, system),
    )
    return SiteWall(
        work_up.spec.key,
        work_up.spec.name,
        _figures(work_up, book),
        tuple(section for section in sections if section is not None),
        (*(finding.sentence for finding in work_up.findings if finding.weight in ("gap", "decide")), *drawn.cannot),
        tuple(finding.sentence for finding in work_up.findings if finding.weight == "caution"),
    )


def _with(section: SiteSection, drawing: Drawing | None) -> SiteSection:
    return replace(section, drawings=(drawing,)) if drawing else section


def _under_drawings(section: SiteSection, drawings: tuple[Drawing, ...]) -> SiteSection:
    """Each layer's boards under its drawing: the first shows the outermost layer, the others go inwards."""
    last = len(section.tables) - 1
    tables = tuple(
        replace(table, drawing=last - number) if last - number < len(drawings) else table
        for number, table in enumerate(section.tables)
    )
    return replace(section, tables=tables[::-1], drawings=drawings)


def on_screen(wall: SiteWall) -> SiteWall:
    """The same wall for a page, without the columns that are filled in by hand."""
    return replace(wall, sections=tuple(screen_section(section) for section in wall.sections))


def screen_section(section: SiteSection) -> SiteSection:
    return replace(section, tables=tuple(table.on_screen for table in section.tables))


def _figures(work_up: WallWorkUp, book: Catalog) -> tuple[Measure, ...]:
    system, curve = book.firm.display_units, work_up.curve
    measured = work_up.spec.measured_on.replace("_", " ")
    figures = [
        Measure("Clear height", height_words(curve, system)),
        Measure("Measured on", f"{measured} line" if measured == "centre" else f"{measured} face"),
    ]
    figures += [
        Measure(LINE_WORDS[line].capitalize(), format_length(curve.length_mm(line), system))
        for line in ("left_finished", "left_framing", "right_framing", "right_finished")
    ]
    for laid in curve.openings:
        first, last = laid.span_mm
        size = opening_size(laid, system)
        where = (
            f"{format_length(first, system)} to {format_length(last, system)} along the centreline, "
            f"{piece_words(curve.pieces[laid.piece_index]).lower()}"
        )
        sill = f", sill {format_length(laid.opening.sill_mm, system)}" if laid.opening.sill_mm else ""
        figures.append(Measure(f"{laid.opening.name}, {laid.opening.frame} frame", size + sill, where))
    return tuple(figures)
