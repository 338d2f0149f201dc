"""Results as JSON values: the same figures for the command's files, the API and the pages.

Lengths are given as {"mm", "in", "text"}, areas as {"m2", "sqft"}, money as text with two places, days as ISO text.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Annotated

from catalog.core.ground.declared import As, Document, Of, View, write
from catalog.core.ground.units import System
from jobs.core.measure.findings import ShownFinding
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.results.schedule_shown import ScheduleShown
from jobs.core.results.wall_shown import WallShown
from jobs.core.takeoff.takeoff import Cost, Purchase, TakeoffLine
from jobs.core.takeoff.wall_work_up import WallWorkUp


class TakeoffLineShown(TakeoffLine):
    """One quantity of one wall, or of an item of the job."""

    document_name = "takeoff_line"

    drift: Decimal | None


class Quantities(View):
    """Lines of every wall and purchases merged over the job."""

    lines: Annotated[tuple[TakeoffLineShown, ...], Of("takeoff.lines")]
    purchases: Annotated[tuple[Purchase, ...], Of("takeoff.purchases")]
    material_cost: Annotated[Cost | None, Of("takeoff.cost")]
    findings: Annotated[tuple[ShownFinding, ...], Of("takeoff.findings")]


class _Walls(View):
    job: Annotated[str, Of("read.job.key")]
    title: Annotated[str, Of("read.job.title")]
    today: Annotated[date, As(name="on")]
    walls: tuple[WallShown, ...]


class TakeoffShown(Quantities, _Walls):
    """The takeoff of a job."""

    document_name = "takeoff"


class _OneWall(View):
    on_day: Annotated[date, As(name="on")]
    wall: WallShown


class WallTakeoffShown(Quantities, _OneWall):
    """The takeoff of one wall."""

    document_name = "wall_takeoff"


def takeoff_document(work_up: JobWorkUp) -> Document:
    """The whole takeoff: every wall with its lengths, radii, areas, stations, checks, trim; lines and purchases."""
    return write(work_up, TakeoffShown, system=work_up.read.book.firm.display_units)


def wall_document(wall: WallWorkUp, system: System) -> Document:
    """One wall: curve, openings, checks, framing, boards, trim and quantities."""
    return write(wall, WallShown, system=system)


def schedule_document(work_up: JobWorkUp) -> Document:
    """Activities with their days, and every material with the days it must be decided, ordered and on site."""
    return write(work_up, ScheduleShown, system=work_up.read.book.firm.display_units)
