"""What was taken of a wall on site, as results: radius bands, radii at heights, offsets, dimensions and holds."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import asdict
from typing import Any

from catalog.core.ground.lengths import length, length_at
from catalog.core.ground.units import System, format_length
from jobs.core.measure.brought_in import BroughtIn
from jobs.core.measure.dimension_holds import Hold, every_dimension
from jobs.core.measure.offsets_fit import OffsetsFit
from jobs.core.measure.radius_band import ArcBand, CheckBand
from jobs.core.measure.radius_readings import BandReading, RadiusAtHeight, RadiusBand
from jobs.core.measure.room_tie import RoomPlace
from jobs.core.measure.wall_spec import WallSpec
from jobs.core.takeoff.wall_work_up import WallWorkUp

Document = dict[str, Any]
FINEST = 32
"""Deviations are told to 1/32 in: half of what lengths are told to."""


def band_document(band: RadiusBand, system: System) -> Document:
    """A radius band: low, best and high, and as people read it.

    band: high may have no limit, and is then None. system: of the words.

    >>> band_document(RadiusBand(95.0, 100.0, math.inf), "metric")["text"]
    '95 mm or more, best 100 mm'
    """
    return {
        "low": length(band.low_mm, system),
        "best": length(band.best_mm, system) if math.isfinite(band.best_mm) else None,
        "high": length(band.high_mm, system) if band.is_bounded else None,
        "text": band.words(system),
    }


def arc_band(wall: WallWorkUp, piece_index: int, system: System) -> Document | None:
    """How well the radius of one arc is known; None while nobody says how far the tape may be out.

    wall: worked up. piece_index: from 0. system: of the words.
    """
    arc = next((band for band in wall.bands if band.piece_index == piece_index), None)
    return None if arc is None else _arc_band(arc, system)


def check_band(wall: WallWorkUp, key: str, system: System) -> Document | None:
    """Where the limit of one check stands in the band of its arc; None where no band is known.

    wall: worked up. key: of the check. system: of the words.
    """
    band = next((band for band in wall.check_bands if band.key == key), None)
    return None if band is None else _check_band(band, system)


def order_band(wall: WallWorkUp, trim_key: str, piece_index: int, system: System) -> Document | None:
    """The band of a radius a maker is told, beside its flex tolerance; None where no band is known.

    wall: worked up. trim_key: of the run, "wall/trim-n". piece_index: from 0. system: of the words.
    """
    return check_band(wall, f"{trim_key}/piece-{piece_index + 1}/bend", system)


def survey_part(wall: WallWorkUp, system: System) -> Document:
    """Offsets with their deviations, dimensions with how they are known, what holds trim back, the place in the room.

    wall: worked up. system: of the words.
    """
    return {
        "offsets": None if wall.baseline is None else offsets_document(wall.baseline, system),
        "dimensions": list(dimensions_document(wall.spec)),
        "holds": [hold_document(hold) for hold in wall.holds],
        "room": None if wall.room is None else room_document(wall.room, system),
    }


def room_document(place: RoomPlace, system: System) -> Document:
    """Where a wall stands in the room: its fixed points, whether the tapes agree, and the check diagonals.

    place: as worked out, in the wall's coordinates. system: of the words.
    """
    return {
        "line": place.line,
        "point": place.point_name,
        "fixed": [
            {"name": name, "x": length_at(at[0], system), "y": length_at(at[1], system)}
            for name, at in ((place.tie.first, place.first), (place.tie.second, place.second))
        ],
        "by_tape": length(place.taped_mm, system),
        "by_wall": length(place.own_mm, system),
        "may_differ": None if place.tolerance_mm is None else length(place.tolerance_mm, system),
        "agrees": place.agrees,
        "crossing_deg": round(math.degrees(place.crossing_rad), 2),
        "diagonals": [
            {
                "from": diagonal.from_name,
                "to": diagonal.to_name,
                "distance": length(diagonal.length_mm, system),
                "taped": None if diagonal.taped_mm is None else length(diagonal.taped_mm, system),
            }
            for diagonal in place.diagonals
        ],
    }


def offsets_document(fit: OffsetsFit, system: System) -> Document:
    """How far pieces stand off the offsets they were fitted to, and where the most.

    fit: of the pieces as they are. system: of the words.
    """
    worst = fit.largest
    return {
        "tolerance": length(fit.tolerance_mm, system),
        "within": fit.is_within_tolerance,
        "largest": {"along": length_at(worst.along_mm, system), "off": _off(worst.deviation_mm, system)},
        "rms": _off(fit.rms_mm, system),
        "start": {"along": length_at(fit.start[0], system), "offset": length_at(fit.start[1], system)},
        "heading_deg": round(math.degrees(fit.heading_rad), 4),
        "points": [
            {
                "along": length_at(deviation.along_mm, system),
                "offset": length_at(deviation.offset_mm, system),
                "off": _off(deviation.deviation_mm, system),
            }
            for deviation in fit.deviations
        ],
    }


def dimensions_document(spec: WallSpec) -> Iterable[Document]:
    """Every dimension of a wall and how it is known: by whom, since when; None where nobody says.

    spec: the wall.
    """
    marks = {mark.dimension: mark.mark for mark in spec.taken.marks}
    for dimension in every_dimension(spec):
        mark = marks.get(dimension.place)
        yield {
            "dimension": dimension.place,
            "words": dimension.words,
            "how": mark.how if mark else None,
            "by": mark.by if mark else None,
            "on": mark.on.isoformat() if mark else None,
            "brought_in": _brought(mark.brought_in) if mark and mark.brought_in else None,
        }


def _brought(brought: BroughtIn) -> Document:
    return {
        "by": brought.by,
        "on": brought.on.isoformat(),
        "confirmed_by": brought.confirmed_by or None,
        "confirmed_on": brought.confirmed_on.isoformat() if brought.confirmed_on else None,
    }


def hold_document(hold: Hold) -> Document:
    """What keeps one run of trim from being released to order.

    >>> from jobs.core.measure.findings import Finding
    >>> hold_document(Hold("w/trim-1", "Base", "BASE", "height", "height", Finding("k", "gap", "s")))["open"]
    True
    """
    return {
        "line": hold.line,
        "run": hold.run,
        "material": hold.material,
        "dimension": hold.dimension,
        "words": hold.words,
        "open": hold.is_open,
        "finding": asdict(hold.finding),
    }


def _arc_band(arc: ArcBand, system: System) -> Document:
    return {
        **band_document(arc.band, system),
        "line": arc.line,
        "entered": length(arc.entered_mm, system),
        "tape": length(arc.tape_mm, system),
        "one_radius": arc.found.is_one_radius,
        "readings": [
            {**_span(reading, system), **band_document(band, system)}
            for reading, band in zip(arc.readings, arc.found.bands, strict=True)
        ],
        "at_heights": [_at_height(height, system) for height in arc.at_heights],
    }


def _span(reading: BandReading, system: System) -> Document:
    return {"what": reading.words_of_span, "span": length(reading.span_mm, system)}


def _at_height(height: RadiusAtHeight, system: System) -> Document:
    return {
        "height": length(height.height_mm, system),
        **band_document(height.band, system),
        "off_arc": length(height.off_arc_mm, system),
    }


def _check_band(band: CheckBand, system: System) -> Document:
    return {**band_document(band.band, system), "standing": band.standing, "sentence": band.sentence}


def _off(deviation_mm: float, system: System) -> Document:
    distance = format_length(abs(deviation_mm), system, FINEST)
    # What rounds to nothing has no side.
    sign = "-" if deviation_mm < 0 and distance != format_length(0.0, system, FINEST) else ""
    return {**length_at(deviation_mm, system), "text": f"{sign}{distance}"}
