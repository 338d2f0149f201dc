"""What was read on site: how well each radius is known, the radius at each height, the offsets the pieces stand for."""

import math
from collections.abc import Iterable

from catalog.core.ground.units import System, format_length
from catalog.drawings.svg import DrawingInputError
from jobs.core.measure.offsets_fit import OffsetsFit
from jobs.core.measure.radius_band import ArcBand
from jobs.core.measure.radius_readings import RadiusBand
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.drawings.plan.offsets import offsets_lean_svg, offsets_svg
from jobs.site.papers.site_parts import SiteSection, SiteTable
from jobs.site.services.words import Say, lengths_in
from quoting.platform.papers.drawings import UPRIGHT_WIDTH_MM, Drawing

NO_LIMIT = "no limit"
FINEST = 32


def survey(work_up: WallWorkUp, system: System) -> SiteSection | None:
    """None while neither the tape's accuracy nor offsets say anything."""
    tables = [*_bands(work_up.bands, system), *_heights(work_up.bands, system), *_offsets(work_up.baseline, system)]
    if not tables:
        return None
    drawing = _drawing(work_up, system)
    return SiteSection("What was measured", (), tuple(tables), (drawing,) if drawing else ())


def _bands(bands: tuple[ArcBand, ...], system: System) -> Iterable[SiteTable]:
    say = lengths_in(system)
    rows = []
    for arc in bands:
        place = f"Piece {arc.piece_index + 1}"
        by = "all readings" if arc.found.is_one_radius else "not one radius: the longest"
        rows.append((place, arc.line.replace("_", " "), by, *_figures(arc.band, say)))
        if len(arc.readings) > 1:
            rows += [
                (place, "", f"{reading.words_of_span} {say(reading.span_mm)}", *_figures(band, say))
                for reading, band in zip(arc.readings, arc.found.bands, strict=True)
            ]
    if rows:
        tape = say(bands[0].tape_mm)
        columns = ("Piece", "Line", "Read by", "Least radius", "Best", "Greatest")
        note = f"Readings may be out by {tape} either way unless they say otherwise."
        yield SiteTable("How well each radius is known", columns, tuple(rows), words=(0, 1, 2), notes=(note,))


def _heights(bands: tuple[ArcBand, ...], system: System) -> Iterable[SiteTable]:
    say = lengths_in(system)
    rows = [
        (f"Piece {arc.piece_index + 1}", say(height.height_mm), *_figures(height.band, say))
        for arc in bands
        for height in arc.at_heights
    ]
    if rows:
        columns = ("Piece", "Above the floor", "Least radius", "Best", "Greatest")
        note = "The wall is out of plumb: base is made to the radius at its foot, crown to the radius at the ceiling."
        yield SiteTable("Radius at each height", columns, tuple(rows), notes=(note,))


def _offsets(fit: OffsetsFit | None, system: System) -> Iterable[SiteTable]:
    if fit is None:
        return
    say = lengths_in(system)
    worst = fit.largest
    rows = tuple(
        (
            _signed(deviation.along_mm, say),
            _hand(deviation.offset_mm, say(abs(deviation.offset_mm))),
            _off(deviation.deviation_mm, system),
        )
        for deviation in fit.deviations
    )
    note = (
        f"The pieces stand off the offsets by at most {_off(worst.deviation_mm, system)}, {say(abs(worst.along_mm))} "
        f"along the baseline; {say(fit.tolerance_mm)} was allowed."
    )
    columns = ("Along the baseline", "Offset", "The wall is off by")
    yield SiteTable("Offsets from the baseline", columns, rows, words=(), notes=(note,), narrow=True)


def _drawing(work_up: WallWorkUp, system: System) -> Drawing | None:
    if work_up.baseline is None:
        return None
    title = f"{work_up.spec.name}: offsets from the baseline"
    try:
        picture = offsets_svg(work_up.baseline, title=title, system=system, width_mm=UPRIGHT_WIDTH_MM)
    except DrawingInputError:
        return None
    narrow = offsets_lean_svg(work_up.baseline, title=title, system=system)
    return Drawing(picture.svg, title, picture.scale, narrow=narrow.svg)


def _figures(band: RadiusBand, say: Say) -> tuple[str, str, str]:
    return say(band.low_mm), _or_none(band.best_mm, say), _or_none(band.high_mm, say)


def _or_none(length_mm: float, say: Say) -> str:
    return say(length_mm) if math.isfinite(length_mm) else NO_LIMIT


def _signed(length_mm: float, say: Say) -> str:
    return f"-{say(-length_mm)}" if length_mm < 0 else say(length_mm)


def _off(deviation_mm: float, system: System) -> str:
    return _hand(deviation_mm, format_length(abs(deviation_mm), system, FINEST))


def _hand(offset_mm: float, distance: str) -> str:
    if abs(offset_mm) < 0.5:
        return distance
    return f"{distance} {'left' if offset_mm > 0 else 'right'}"
