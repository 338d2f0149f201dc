"""The section through the wall for a phone: its parts are numbered, and named below."""

from __future__ import annotations

from catalog.core.ground.units import System
from catalog.drawings.canvas import Canvas
from catalog.drawings.lettering import PHONE_MM, fitted
from catalog.drawings.scales import Scale
from catalog.drawings.svg import DrawingInputError, Picture
from jobs.drawings.faces.section import SECTION_SCALES, Name, described, drawn, name_beside
from jobs.drawings.faces.section_parts import SectionCut, SectionParts

LINE_MM = 3.9


def section_lean_svg(
    parts: SectionParts, *, title: str, system: System = "imperial", width_mm: float = PHONE_MM
) -> Picture:
    """The section at the largest of its scales that fits. Raises DrawingInputError when none does."""
    for ratio in SECTION_SCALES[system]:
        legend: list[str] = []

        def number(canvas: Canvas, cut: SectionCut, names: list[Name], legend: list[str] = legend) -> None:
            ordered = sorted(names, key=lambda name: (name[2], name[0][1]))
            legend += [text for _, text, _ in ordered]
            numbered = [(tip, str(count), side) for count, (tip, _, side) in enumerate(ordered, start=1)]
            name_beside(canvas, cut, numbered)

        canvas = drawn(parts, Scale(ratio, system), number)
        if canvas.width <= width_mm - 2:
            left = (canvas.bounds[0] + canvas.bounds[2]) / 2 - width_mm / 2 + 1.5
            for count, text in enumerate(legend, start=1):
                label = fitted(f"{count}  {text}", "dim-text", width_mm - 3)
                canvas.write_from(label, "dim-text", left, canvas.bounds[3] + (LINE_MM if count == 1 else LINE_MM / 2))
            desc = described(parts, system)
            picture = canvas.finished(title=title, desc=desc, scale=None, width_mm=width_mm)
            return Picture(picture.svg, "", picture.width_mm, picture.height_mm, ratio)
    raise DrawingInputError(f"paper: the section does not fit {width_mm:g} mm across; give it a wider sheet")
