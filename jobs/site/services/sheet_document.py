"""What the paper and the page of the site sheet show, with the ordinates as figures, to be shown as data."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from jobs.core.framing.setting_out import OrdinateTable, ordinates_from_chord
from jobs.core.measure.room_tie import RoomPlace
from jobs.core.measure.survey import SurveyError
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.ordering.needs import DatedNeed
from jobs.core.takeoff.takeoff import Purchase
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.site.papers.site_parts import SiteSection, SiteWall
from jobs.site.services.cuts import cut_lists
from jobs.site.services.on_site import Arrival
from jobs.site.services.setting_out import SIDES
from jobs.site.services.sheet import on_screen, screen_section, site_wall
from jobs.site.services.sheet_numbers import sheet_numbers
from jobs.site.services.words import INTERVAL_MM


class SheetMaterial(NamedTuple):
    purchase: Purchase
    need: DatedNeed | None
    on_site: tuple[Arrival, ...]


class SheetWall(NamedTuple):
    sheet: SiteWall
    ordinates: tuple[OrdinateTable, ...]
    room: RoomPlace | None


class SheetFacts(NamedTuple):
    work_up: JobWorkUp
    interval_mm: float
    materials: tuple[SheetMaterial, ...]
    walls: tuple[SheetWall, ...]
    cut_lists: SiteSection | None


def sheet_facts(work_up: JobWorkUp, arrivals: Sequence[Arrival], interval_mm: float | None) -> SheetFacts:
    """interval_mm: of the ordinates, None for the usual. Raises SurveyError where it gives too many rows."""
    book, numbers, cuts = work_up.read.book, sheet_numbers(work_up.takeoff), cut_lists(work_up)
    every_mm = interval_mm or INTERVAL_MM[book.firm.display_units]
    walls = (
        SheetWall(on_screen(site_wall(wall, book, numbers, interval_mm)), tuple(_tables(wall, every_mm)), wall.room)
        for wall in work_up.walls
    )
    materials = _materials(work_up, arrivals)
    return SheetFacts(work_up, every_mm, tuple(materials), tuple(walls), None if cuts is None else screen_section(cuts))


def _materials(work_up: JobWorkUp, arrivals: Sequence[Arrival]) -> Iterable[SheetMaterial]:
    needs = {need.material: need for need in work_up.needs}
    for purchase in work_up.takeoff.purchases:
        on_site = tuple(arrival for arrival in arrivals if arrival.material == purchase.material)
        yield SheetMaterial(purchase, needs.get(purchase.material), on_site)


def _tables(work_up: WallWorkUp, every_mm: float) -> Iterable[OrdinateTable]:
    for piece in (piece for piece in work_up.curve.pieces if piece.is_arc):
        for side in SIDES:
            line = work_up.curve.line_of(piece, side, "framing")
            try:
                yield from ordinates_from_chord(work_up.curve, piece.index, line, every_mm)
            except SurveyError:
                continue  # the section says why
