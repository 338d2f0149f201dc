"""The parts of a wall's site sheet on a screen, each a line that opens in place; whatever was loaded is all there."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.site.papers.site_parts import SiteSection, SiteTable, SiteWall
from jobs.site.services import boards, room, setting_out, studs
from quoting.platform.papers.drawings import Drawing

SETTING_OUT, STUDS, SHEETS, TRIM = "Setting out", "Studs", "Sheets", "Trim"
READINGS = "Readings"
# Sections of the paper, by heading, and the part each is in; the field check has a page of its own.
PART_OF = {
    "Setting out": SETTING_OUT,
    "Top, openings and track lengths": SETTING_OUT,
    "Track and studs": STUDS,
    "Left face": SHEETS,
    "Right face": SHEETS,
    "Trim": TRIM,
    "What was measured": READINGS,
}
# How to read the figures: said once, folded.
HOW_TO = frozenset((*setting_out.SAYS, *studs.HOW, boards.SAYS))
# In a table as wide as a phone's page, and in a wider one, whose lines are taller.
MAX_LINES, MAX_WIDE_LINES, WIDE_COLUMNS = 20, 14, 7


@dataclass(frozen=True)
class ScreenPart:
    """fact: the part in a few words. says: what must be read. how: how to read the figures."""

    heading: str
    fact: str
    says: tuple[str, ...]
    how: tuple[str, ...]
    drawings: tuple[Drawing, ...]
    tables: tuple[SiteTable, ...]

    @property
    def anchor(self) -> str:
        return self.heading.lower().replace(" ", "-")


@dataclass(frozen=True)
class ScreenWall:
    """tie: the tapes from the building to the start, None while nothing ties the wall to it."""

    wall: SiteWall
    plan: Drawing | None
    tie: SiteTable | None
    parts: tuple[ScreenPart, ...]


def screen_wall(wall: SiteWall, work_up: WallWorkUp) -> ScreenWall:
    """wall: as for a page, without columns filled in by hand."""
    first = wall.sections[0]
    tie = next((table for table in first.tables if table.heading == room.HEADING), None)
    # That nothing ties it stands in place of the tapes.
    says = tuple(sentence for sentence in first.says if sentence != setting_out.NO_PLACE)
    rest = replace(first, says=says, drawings=(), tables=tuple(table for table in first.tables if table is not tie))
    sections = (rest, *wall.sections[1:])
    facts = _facts(work_up)
    parts = []
    for heading in (SETTING_OUT, STUDS, SHEETS, TRIM, READINGS):
        mine = [section for section in sections if PART_OF.get(section.heading) == heading]
        if mine:
            parts.append(_part(heading, facts.get(heading, ""), mine))
    return ScreenWall(wall, first.drawings[0] if first.drawings else None, tie, tuple(parts))


def _facts(work_up: WallWorkUp) -> dict[str, str]:
    sheets = sum(len(layer.pieces) for plan in work_up.face_plans for layer in plan.layers)
    return {
        SETTING_OUT: _count(len(work_up.curve.pieces), "piece"),
        STUDS: f"{work_up.stud_count} to cut" if work_up.framing.is_complete else "not known yet",
        SHEETS: f"{sheets} to cut" if sheets else "none yet",
        TRIM: _count(len(work_up.trims), "run"),
    }


def _count(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _part(heading: str, fact: str, sections: list[SiteSection]) -> ScreenPart:
    says = [sentence for section in sections for sentence in section.says]
    return ScreenPart(
        heading,
        fact,
        tuple(dict.fromkeys(sentence for sentence in says if sentence not in HOW_TO)),
        tuple(dict.fromkeys(sentence for sentence in says if sentence in HOW_TO)),
        tuple(drawing for section in sections for drawing in section.drawings),
        tuple(short for section in sections for table in section.tables for short in short_tables(table)),
    )


def screen_parts(section: SiteSection) -> SiteSection:
    return replace(section, tables=tuple(short for table in section.tables for short in short_tables(table)))


def short_tables(table: SiteTable) -> Iterator[SiteTable]:
    """A long table as several, each as long as a phone shows in a few turns of the thumb."""
    most = MAX_LINES if len(table.columns) < WIDE_COLUMNS else MAX_WIDE_LINES
    if len(table.rows) <= most:
        yield table
        return
    count = math.ceil(len(table.rows) / most)
    each = math.ceil(len(table.rows) / count)
    for first in range(0, len(table.rows), each):
        rows = table.rows[first : first + each]
        heading = f"{table.heading}, {first + 1} to {first + len(rows)}"
        yield replace(table, heading=heading, rows=rows, notes=table.notes if first == 0 else ())
