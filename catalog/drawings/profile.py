"""The section of a trim profile: as it was drawn corner by corner, or the plain rectangle of its two sizes."""

from __future__ import annotations

from collections.abc import Sequence

from catalog.core.ground.units import System, format_length
from catalog.core.materials.profiles import Corner
from catalog.core.materials.specs import Material
from catalog.drawings.canvas import Canvas
from catalog.drawings.dimensions import dimension, scale_bar
from catalog.drawings.scales import Scale
from catalog.drawings.svg import DrawingInputError, Picture

RATIOS = (0.5, 1, 2, 4, 5, 8, 10, 20)
WALL_MM = 6.0
"""How far the wall is drawn past the profile, on paper."""


def profile_svg(
    section: tuple[Corner, ...],
    *,
    title: str,
    thickness_mm: float | None = None,
    width_mm: float | None = None,
    system: System = "imperial",
    paper_width_mm: float = 90.0,
    max_height_mm: float = 110.0,
    ratios: Sequence[float] = RATIOS,
    has_bar: bool = True,
) -> Picture:
    """The section with its back on the wall, at the largest scale of `ratios` that fits.

    section: corners in mm, out from the back and up from the foot; none for the rectangle of thickness_mm by width_mm,
    which the description then says. Raises DrawingInputError where there is neither.
    """
    is_plain = not section
    if is_plain:
        if thickness_mm is None or width_mm is None:
            raise DrawingInputError("section: draw its corners, or state its thickness and width")
        section = ((0.0, 0.0), (thickness_mm, 0.0), (thickness_mm, width_mm), (0.0, width_mm))
    out_mm, low_mm, high_mm = max(x for x, _ in section), min(y for _, y in section), max(y for _, y in section)
    message = f"{format_length(out_mm, system)} out from the wall, {format_length(high_mm - low_mm, system)} high."
    desc = ("Drawn as a plain rectangle: its section is not entered. " if is_plain else "") + message
    for ratio in ratios:
        scale = Scale(ratio, system)
        canvas = _drawn(section, scale, out_mm, low_mm, high_mm, has_bar)
        if canvas.width <= paper_width_mm - 2 and canvas.height <= max_height_mm - 4:
            return canvas.finished(title=title, desc=desc, scale=scale, width_mm=paper_width_mm)
    raise DrawingInputError(f"paper: the section does not fit {paper_width_mm:g} by {max_height_mm:g} mm")


def material_profile_svg(
    material: Material,
    *,
    system: System,
    paper_width_mm: float = 90.0,
    max_height_mm: float = 110.0,
    ratios: Sequence[float] = RATIOS,
    has_bar: bool = True,
) -> Picture:
    """The section of a trim as its card has it, or the rectangle of its sizes. Raises DrawingInputError."""
    thickness, width = material.fact("thickness_mm"), material.fact("width_mm")
    return profile_svg(
        material.profile.section if material.profile else (),
        title=f"{material.name}: section",
        thickness_mm=thickness.number if thickness else None,
        width_mm=width.number if width else None,
        system=system,
        paper_width_mm=paper_width_mm,
        max_height_mm=max_height_mm,
        ratios=ratios,
        has_bar=has_bar,
    )


def _drawn(
    section: tuple[Corner, ...], scale: Scale, out_mm: float, low_mm: float, high_mm: float, has_bar: bool
) -> Canvas:
    canvas = Canvas()
    low, high, out = -scale.paper(low_mm), -scale.paper(high_mm), scale.paper(out_mm)
    canvas.line((0.0, low + WALL_MM), (0.0, high - WALL_MM), "ink-heavy")
    count = int((low - high + 2 * WALL_MM) / 3)
    for index in range(count):
        y = high - WALL_MM + 3 * index + 2.0
        canvas.line((-0.4, y - 1.8), (-2.2, y), "hatch", keep_clear=False)
    canvas.polygon([(scale.paper(x), -scale.paper(y)) for x, y in section], "opening-edge")
    # Walked from right to left a dimension stands under the line, from the top down to the right of it.
    dimension(canvas, (out, low), (0.0, low), format_length(out_mm, scale.system), -9.0)
    dimension(canvas, (out, high), (out, low), format_length(high_mm - low_mm, scale.system), 7.0)
    if has_bar:
        scale_bar(canvas, scale, (canvas.bounds[0] + canvas.bounds[2]) / 2, canvas.bounds[3] + 4.0)
    return canvas
