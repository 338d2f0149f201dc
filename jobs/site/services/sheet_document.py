"""The site sheet as data: what the paper and the page show, with the ordinates as figures."""

from collections.abc import Iterable, Sequence
from typing import Any

from catalog.core.ground.declared import write
from catalog.core.ground.lengths import length
from catalog.core.ground.plain_text import plain
from catalog.core.ground.units import System
from jobs.core.framing.setting_out import OrdinateTable, ordinates_from_chord
from jobs.core.measure.survey import SurveyError
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.results.survey_shown import RoomShown
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.site.papers.site_parts import SiteSection, SiteWall
from jobs.site.services.cuts import cut_lists, packs_words
from jobs.site.services.on_site import Arrival
from jobs.site.services.setting_out import SIDES
from jobs.site.services.sheet import CAUTIONS, on_screen, screen_section, site_wall
from jobs.site.services.sheet_numbers import sheet_numbers
from jobs.site.services.words import INTERVAL_MM

Document = dict[str, Any]


def site_sheet_document(work_up: JobWorkUp, arrivals: Sequence[Arrival], interval_mm: float | None) -> Document:
    """interval_mm: of the ordinates, None for the usual. Raises SurveyError where it gives too many rows."""
    book, numbers = work_up.read.book, sheet_numbers(work_up.takeoff)
    system = book.firm.display_units
    every_mm = interval_mm or INTERVAL_MM[system]
    cuts = cut_lists(work_up)
    return {
        "job": work_up.read.job.key,
        "title": work_up.read.job.title,
        "as_of": work_up.today.isoformat(),
        "interval": length(every_mm, system),
        "cautions": list(CAUTIONS),
        "materials": list(_materials(work_up, arrivals)),
        "walls": [
            _wall(wall, on_screen(site_wall(wall, book, numbers, interval_mm)), system, every_mm)
            for wall in work_up.walls
        ],
        "cut_lists": None if cuts is None else _section(screen_section(cuts)),
    }


def _materials(work_up: JobWorkUp, arrivals: Sequence[Arrival]) -> Iterable[Document]:
    needs = {need.material: need for need in work_up.needs}
    for purchase in work_up.takeoff.purchases:
        need = needs.get(purchase.material)
        yield {
            "material": purchase.material,
            "name": purchase.name,
            "for_the_job": packs_words(purchase),
            "need_by": need.need_by.isoformat() if need and need.need_by else None,
            "on_site": [
                {
                    "on": arrival.on.isoformat(),
                    "count": plain(arrival.count),
                    "spoilt": plain(arrival.spoilt),
                    "unit": arrival.unit,
                }
                for arrival in arrivals
                if arrival.material == purchase.material
            ],
        }


def _wall(work_up: WallWorkUp, sheet: SiteWall, system: System, every_mm: float) -> Document:
    return {
        "key": sheet.key,
        "name": sheet.name,
        "missing": list(sheet.missing),
        "warnings": list(sheet.warnings),
        "figures": [{"label": figure.label, "value": figure.value, "note": figure.note} for figure in sheet.figures],
        "ordinates": [_ordinates(table, system) for table in _tables(work_up, every_mm)],
        "room": None if work_up.room is None else write(work_up.room, RoomShown, system=system),
        "sections": [_section(section) for section in sheet.sections],
    }


def _tables(work_up: WallWorkUp, every_mm: float) -> Iterable[OrdinateTable]:
    for piece in (piece for piece in work_up.curve.pieces if piece.is_arc):
        for side in SIDES:
            line = work_up.curve.line_of(piece, side, "framing")
            try:
                yield from ordinates_from_chord(work_up.curve, piece.index, line, every_mm)
            except SurveyError:
                continue  # the section says why


def _ordinates(table: OrdinateTable, system: System) -> Document:
    return {
        "piece": table.piece_index + 1,
        "line": table.line,
        "part": table.part,
        "parts": table.parts,
        "side": table.side,
        "chord": length(table.chord_mm, system),
        "rise": length(table.rise_mm, system),
        "radius": length(table.radius_mm, system),
        "rows": [
            {"along": length(row.along_mm, system), "ordinate": length(row.ordinate_mm, system)} for row in table.rows
        ],
    }


def _section(section: SiteSection) -> Document:
    return {
        "heading": section.heading,
        "says": list(section.says),
        "tables": [
            {
                "heading": table.heading,
                "notes": list(table.notes),
                "columns": list(table.columns),
                "rows": [list(row) for row in table.rows],
            }
            for table in section.tables
        ],
    }
