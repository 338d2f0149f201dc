"""Offsets from a straight baseline with the pieces that stand for them: points, line, and the place farthest off."""

from __future__ import annotations

from collections.abc import Sequence

from catalog.core.ground.units import System, format_length
from catalog.drawings.canvas import Canvas, Place, block, places_around
from catalog.drawings.dimensions import scale_bar
from catalog.drawings.lettering import PHONE_MM
from catalog.drawings.scales import Scale, scales
from catalog.drawings.svg import DrawingInputError, Picture, Point, polyline
from jobs.core.measure.offsets_fit import Deviation, OffsetsFit, points_along

MAX_SCALE = 5
POINT_MM = 0.7
FINEST = 32
LEAN_HEIGHT_MM = 70.0


def offsets_svg(
    fit: OffsetsFit,
    *,
    title: str,
    system: System = "imperial",
    width_mm: float = 174.0,
    max_height_mm: float = 120.0,
) -> Picture:
    """The baseline, the offsets and the fitted line at the largest standard scale that fits.

    Raises DrawingInputError when none does.
    """
    for scale in scales(system, MAX_SCALE):
        line = [_on_paper(point, scale) for point in points_along(fit.pieces, fit.start, fit.heading_rad)]
        points = [_on_paper((deviation.along_mm, deviation.offset_mm), scale) for deviation in fit.deviations]
        across, down = _extent([*line, *points, (line[0][0], 0.0)])
        if across > width_mm - 12 or down > max_height_mm - 30:
            continue
        canvas = Canvas()
        _draw(canvas, fit, line, points, scale, system)
        scale_bar(canvas, scale, (canvas.bounds[0] + canvas.bounds[2]) / 2, canvas.bounds[3] + 3)
        if canvas.width <= width_mm - 2 and canvas.height <= max_height_mm - 4:
            return canvas.finished(title=title, desc=described(fit, system), scale=scale, width_mm=width_mm)
    raise DrawingInputError(
        f"scale: the offsets do not fit {width_mm:g} by {max_height_mm:g} mm of paper at any standard scale"
    )


def offsets_lean_svg(
    fit: OffsetsFit, *, title: str, system: System = "imperial", width_mm: float = PHONE_MM
) -> Picture:
    """The same for a phone, as large as its width lets it be, at no scale of a rule."""
    line = points_along(fit.pieces, fit.start, fit.heading_rad)
    across, down = _extent(
        [*line, *((deviation.along_mm, deviation.offset_mm) for deviation in fit.deviations), (line[0][0], 0.0)]
    )
    scale = Scale(max(across / (width_mm - 8), down / LEAN_HEIGHT_MM, 0.1), system)
    placed = [_on_paper(point, scale) for point in line]
    points = [_on_paper((deviation.along_mm, deviation.offset_mm), scale) for deviation in fit.deviations]
    xs = [x for x, _ in (*placed, *points)]
    middle = (min(xs) + max(xs)) / 2
    sides = (middle - width_mm / 2 + 0.6, middle + width_mm / 2 - 0.6)
    canvas = Canvas(sides=sides)
    _draw(canvas, fit, placed, points, scale, system)
    canvas.reach((side, 0.0) for side in sides)
    picture = canvas.finished(title=title, desc=described(fit, system), scale=None, width_mm=width_mm)
    return Picture(picture.svg, "", picture.width_mm, picture.height_mm, scale.ratio)


def described(fit: OffsetsFit, system: System) -> str:
    """The drawing in words, for those who do not see it."""
    worst = fit.largest
    return (
        f"{len(fit.deviations)} offsets from a straight baseline and {len(fit.pieces)} pieces fitted to them. The "
        f"largest deviation, {_off(worst, system)}, is {format_length(abs(worst.along_mm), system)} along the baseline."
    )


def _draw(
    canvas: Canvas, fit: OffsetsFit, line: Sequence[Point], points: Sequence[Point], scale: Scale, system: System
) -> None:
    left = min(point[0] for point in (*line, *points))
    right = max(point[0] for point in (*line, *points))
    canvas.line((left - 3, 0.0), (right + 3, 0.0), "centre")
    for point in points:
        canvas.line((point[0], 0.0), point, "dim", keep_clear=False)
    canvas.path(polyline(line), "ink", line)
    worst = fit.largest
    for deviation, point in zip(fit.deviations, points, strict=True):
        canvas.circle(point, POINT_MM, "fill-red" if deviation is worst else "fill-ink")
    tip = _on_paper((worst.along_mm, worst.offset_mm), scale)
    canvas.circle(tip, 2.0, "red")
    css = "dim-text" if fit.is_within_tolerance else "red-text"
    label = block((f"largest: {_off(worst, system)} off", css))
    above = [Place((tip[0] + dx, tip[1] + dy)) for dy in (-6.0, 6.0, -9.0, 9.0) for dx in (0.0, 14.0, -14.0)]
    canvas.leader(tip, label, above if canvas.sides else places_around(canvas, tip, label.width))
    canvas.put(block(("baseline", "small-text")), [Place((right - 6, 2.4)), Place((right - 6, -2.4))])


def _on_paper(point: Point, scale: Scale) -> Point:
    """Left of walking is up on the paper, where y runs down."""
    return scale.paper(point[0]), -scale.paper(point[1])


def _extent(points: Sequence[Point]) -> tuple[float, float]:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return max(xs) - min(xs), max(ys) - min(ys)


def _off(deviation: Deviation, system: System) -> str:
    return format_length(abs(deviation.deviation_mm), system, FINEST)
