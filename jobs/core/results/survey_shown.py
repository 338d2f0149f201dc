"""What was taken of a wall on site, as answers show it: radius bands, offsets, dimensions, holds, the room."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Annotated, NamedTuple

from catalog.core.ground.declared import (
    As,
    Coordinate,
    Degrees,
    Document,
    InWords,
    Kind,
    Of,
    Refs,
    Schema,
    TextOrNull,
    View,
    Writing,
)
from catalog.core.ground.lengths import length_at
from catalog.core.ground.units import format_length
from jobs.core.measure.dimension_holds import Dimension, every_dimension
from jobs.core.measure.dimension_status import DimensionStatus, HowKnown
from jobs.core.measure.findings import ShownFinding
from jobs.core.measure.radius_band import ArcBand, CheckBand, Standing
from jobs.core.measure.radius_readings import BandReading, RadiusBand
from jobs.core.measure.room_tie import RoomDiagonal
from jobs.core.measure.survey import Line
from jobs.core.measure.wall_spec import WallSpec
from jobs.core.takeoff.wall_work_up import WallWorkUp

FINEST = 32
"""Deviations are told to 1/32 in: half of what lengths are told to."""


class BandShown(View):
    """A radius band: low, best and high, and as people read it; no high where a straight cannot be distinguished."""

    low_mm: Annotated[float, Of("band.low_mm")]
    best_mm: Annotated[float | None, Of(lambda of: of.band.best_mm if math.isfinite(of.band.best_mm) else None)]
    high_mm: Annotated[float | None, Of(lambda of: of.band.high_mm if of.band.is_bounded else None)]
    text: Annotated[str, InWords(), Of("band")]


class ReadBand(NamedTuple):
    reading: BandReading
    band: RadiusBand


class _Span(View):
    what: Annotated[str, Of("reading.words_of_span")]
    span_mm: Annotated[float, Of("reading.span_mm")]


class ReadingShown(BandShown, _Span):
    """What one reading gives."""


class _Height(View):
    height_mm: float


class RadiusAtHeightShown(BandShown, _Height):
    """The radius at a height above the floor."""

    off_arc_mm: float


class ArcBandShown(BandShown):
    """How well the radius is known, on the line measured; high is null when a straight cannot be distinguished."""

    line: Line
    entered_mm: float
    tape_mm: float
    one_radius: Annotated[bool, Of("found.is_one_radius")]
    readings: Annotated[tuple[ReadingShown, ...], Of(lambda arc: map(ReadBand, arc.readings, arc.found.bands))]
    at_heights: tuple[RadiusAtHeightShown, ...]


class CheckBandShown(BandShown):
    """The band on the line that is bent, and where the limit stands in it."""

    standing: Standing
    sentence: str


def arc_band(wall: WallWorkUp, piece_index: int) -> ArcBand | None:
    """How well the radius of one arc is known; None while nobody says how far the tape may be out.

    wall: worked up. piece_index: from 0.
    """
    return next((band for band in wall.bands if band.piece_index == piece_index), None)


def check_band(wall: WallWorkUp, key: str) -> CheckBand | None:
    """Where the limit of one check stands in the band of its arc; None where no band is known.

    wall: worked up. key: of the check.
    """
    return next((band for band in wall.check_bands if band.key == key), None)


@dataclass(frozen=True)
class Off(Kind):
    """How far off, either sign, told finer than lengths are."""

    def write(self, value: float, how: Writing) -> Document:
        distance = format_length(abs(value), how.system, FINEST)
        # What rounds to nothing has no side.
        sign = "-" if value < 0 and distance != format_length(0.0, how.system, FINEST) else ""
        return {**length_at(value, how.system), "text": f"{sign}{distance}"}

    def schema(self, refs: Refs) -> Schema:
        return refs.part("Length")


Place = Annotated[float, Coordinate()]


class FarthestOff(View):
    along_mm: Place
    deviation_mm: Annotated[float, Off(), As(name="off")]


class OffsetsStart(View):
    along: Annotated[Place, Of(lambda start: start[0])]
    offset: Annotated[Place, Of(lambda start: start[1])]


class DeviationShown(View):
    along_mm: Place
    offset_mm: Place
    deviation_mm: Annotated[float, Off(), As(name="off")]


class OffsetsShown(View):
    """How far the pieces stand off the offsets they were fitted to; left of walking positive."""

    tolerance_mm: float
    within: Annotated[bool, Of("is_within_tolerance")]
    largest: FarthestOff
    rms_mm: Annotated[float, Off()]
    start: OffsetsStart
    heading_rad: float
    deviations: Annotated[tuple[DeviationShown, ...], As(name="points")]


class BroughtInShown(View):
    """Of what a job file says: who brought it in, and who here confirmed it since."""

    by: str
    on: date
    confirmed_by: Annotated[str, TextOrNull()]
    confirmed_on: date | None


class MarkedDimension(NamedTuple):
    dimension: Dimension
    mark: DimensionStatus | None


class DimensionShown(View):
    """How one dimension is known; null where nobody says."""

    dimension: Annotated[str, Of("dimension.place")]
    words: Annotated[str, Of("dimension.words")]
    how: Annotated[HowKnown | None, Of("mark.how")]
    by: Annotated[str | None, Of("mark.by")]
    on: Annotated[date | None, Of("mark.on")]
    brought_in: Annotated[BroughtInShown | None, Of("mark.brought_in")]


def marked_dimensions(spec: WallSpec) -> Iterator[MarkedDimension]:
    """Every dimension of a wall with how it is known; None where nobody says.

    spec: the wall.
    """
    marks = {marked.dimension: marked.mark for marked in spec.taken.marks}
    return (MarkedDimension(dimension, marks.get(dimension.place)) for dimension in every_dimension(spec))


class HoldShown(View):
    """What keeps trim from being released to order, on account of one dimension; not open once released by name."""

    document_name = "hold"

    line: str
    run: str
    material: str
    dimension: str
    words: str
    open: Annotated[bool, Of("is_open")]
    finding: ShownFinding


class FixedPoint(View):
    name: Annotated[str, Of(lambda fixed: fixed[0])]
    x: Annotated[Place, Of(lambda fixed: fixed[1][0])]
    y: Annotated[Place, Of(lambda fixed: fixed[1][1])]


class RoomShown(View):
    """Where the wall stands in the room, in its own coordinates; null while nothing ties it there."""

    line: Line
    point_name: Annotated[str, As(name="point")]
    fixed: Annotated[
        tuple[FixedPoint, ...], Of(lambda room: ((room.tie.first, room.first), (room.tie.second, room.second)))
    ]
    taped_mm: Annotated[float, As(name="by_tape")]
    own_mm: Annotated[float, As(name="by_wall")]
    tolerance_mm: Annotated[float | None, As(name="may_differ")]
    agrees: bool | None
    crossing_rad: Annotated[float, Degrees(2)]
    diagonals: tuple[RoomDiagonal, ...]
