"""An upright section through the wall at one place: floor and ceiling, track, stud, layers and trim.

The middle of the height is broken out; what is drawn is to scale.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from catalog.core.ground.units import System, format_length
from catalog.drawings.canvas import Block, Canvas, Place, block
from catalog.drawings.dimensions import dimension, dimension_line, dimension_text, scale_bar
from catalog.drawings.lettering import fitted
from catalog.drawings.scales import Scale
from catalog.drawings.svg import DrawingInputError, Picture, Point, polyline
from jobs.drawings.faces.section_parts import SectionCap, SectionCut, SectionLayer, SectionParts, SectionTrim

STUB_MM = 130.0
SECTION_SCALES: dict[System, tuple[int, ...]] = {"imperial": (4, 8, 12, 16, 24, 48), "metric": (5, 10, 20, 25, 50)}
NAME_WIDTH_MM = 46.0
Name = tuple[Point, str, int]
"""What is pointed at, what it is called, and the side its name stands on: -1 left, 1 right."""
Naming = Callable[[Canvas, SectionCut, list[Name]], None]


def section_svg(
    parts: SectionParts,
    *,
    title: str,
    system: System = "imperial",
    width_mm: float = 174.0,
    max_height_mm: float = 140.0,
) -> Picture:
    """The section at the largest of its scales that fits. Raises DrawingInputError when none does."""
    for ratio in SECTION_SCALES[system]:
        scale = Scale(ratio, system)
        canvas = drawn(parts, scale, name_beside)
        scale_bar(canvas, scale, (canvas.bounds[0] + canvas.bounds[2]) / 2, canvas.bounds[3] + 4.0)
        if canvas.width <= width_mm - 2 and canvas.height <= max_height_mm - 4:
            return canvas.finished(title=title, desc=described(parts, system), scale=scale, width_mm=width_mm)
    raise DrawingInputError(
        f"paper: the section does not fit {width_mm:g} by {max_height_mm:g} mm; give it a larger sheet"
    )


def described(parts: SectionParts, system: System) -> str:
    sentences = [
        f"{'Height of the half wall' if parts.is_half_wall else 'Clear height'} "
        f"{format_length(parts.clear_height_mm, system)}.",
        f"{parts.stud_name}, {format_length(parts.stud_depth_mm, system)} deep, in {parts.track_name}.",
    ]
    for side, layers in (("Left", parts.left), ("Right", parts.right)):
        names = ", ".join(f"{layer.name} {format_length(layer.thickness_mm, system)}" for layer in layers)
        sentences.append(f"{side} side from the framing outwards: {names or 'no boards'}.")
    sentences.append(f"Overall thickness {format_length(parts.thickness_mm, system)}.")
    sentences += [f"{trim.name}." for trim in parts.trims]
    return " ".join(sentences)


def drawn(parts: SectionParts, scale: Scale, name: Naming) -> Canvas:
    """name: sets the names of its parts."""
    system = scale.system
    # The break is taken above the highest trim that has a foot, so that none is lost in it.
    tallest = max([0.0, *(t.foot_mm + t.height_mm for t in parts.trims if t.foot_mm is not None)])
    crown = max([0.0, *(t.height_mm for t in parts.trims if t.foot_mm is None)])
    cut = SectionCut(parts, scale.ratio, max(STUB_MM, tallest + 60.0), max(STUB_MM, crown + 60.0))
    canvas = Canvas()
    half = parts.stud_depth_mm / 2 / scale.ratio
    _draw_building(canvas, cut)
    _draw_framing(canvas, cut, half)
    names: list[Name] = []
    for side, layers in ((-1, parts.left), (1, parts.right)):
        names += _draw_layers(canvas, cut, half, side, layers, system)
    for side, trims in ((-1, parts.left_trims), (1, parts.right_trims)):
        names += _draw_trims(canvas, cut, side, trims)
    if parts.cap:
        names.append(_draw_cap(canvas, cut, parts.cap))
    if cut.is_broken:
        _draw_break(canvas, cut)
    low = -parts.track_leg_mm * 0.5 / scale.ratio
    names.append(((half, low), f"{parts.track_name}, top and bottom", 1))
    names.append(((half * 0.4, cut.y(cut.low_mm * 0.8)), parts.stud_name, 1))
    if parts.insulated:
        names.append(((-half * 0.4, cut.y(cut.low_mm * 0.7)), "Insulation", -1))
    name(canvas, cut, names)
    _dimension(canvas, cut, half, system)
    return canvas


def _draw_building(canvas: Canvas, cut: SectionCut) -> None:
    reach = (cut.parts.thickness_mm / 2 + 60) / cut.ratio
    levels = [("Floor", 0.0, 1)] if cut.parts.is_half_wall else [("Ceiling", cut.top, -1), ("Floor", 0.0, 1)]
    for _, y, into in levels:
        canvas.line((-reach, y), (reach, y), "ink-heavy")
        count = int(2 * reach / 3)
        for index in range(count):
            x = -reach + 3 * index + 2.0
            canvas.line((x, y + into * 0.4), (x - 1.8, y + into * 2.2), "hatch", keep_clear=False)
    for text, level, into in levels:
        y = level + into * 4.2
        label = block((text, "small-text"))
        canvas.write(label, Place((-reach - label.width / 2 - 1.5, y + (3.6 if y < 0 else -3.6))))


def _draw_framing(canvas: Canvas, cut: SectionCut, half: float) -> None:
    parts = cut.parts
    leg = parts.track_leg_mm / cut.ratio
    for foot, head in cut.runs(0.0, parts.clear_height_mm - parts.stud_short_mm):
        y0, y1 = cut.y(head), cut.y(foot)
        canvas.rect(-half, y0, 2 * half, y1 - y0, "stud")
        if parts.insulated:
            _draw_insulation(canvas, half, y0, y1)
        for x in (-half + 0.9, half - 0.9):
            canvas.line((x, y0), (x, y1), "thin", keep_clear=False)
    for y, up in ((0.0, -1), (cut.top, 1)):
        shape = [(-half, y + up * leg), (-half, y), (half, y), (half, y + up * leg)]
        canvas.path(polyline(shape), "ink", shape)


def _draw_insulation(canvas: Canvas, half: float, top: float, low: float) -> None:
    wide = half - 1.4
    count = max(2, int((low - top) / 3))
    points = [(-wide if i % 2 else wide, low + (top - low) * i / count) for i in range(count + 1)]
    canvas.path(polyline(points), "hatch")


def _draw_layers(
    canvas: Canvas, cut: SectionCut, half: float, side: int, layers: Sequence[SectionLayer], system: System
) -> list[Name]:
    names: list[Name] = []
    near = half
    for index, layer in enumerate(layers):
        thick = layer.thickness_mm / cut.ratio
        x = side * near if side > 0 else -near - thick
        for foot, head in cut.runs(0.0, cut.parts.clear_height_mm):
            y0, y1 = cut.y(head), cut.y(foot)
            canvas.rect(x, y0, thick, y1 - y0, "bar")
        height = cut.parts.clear_height_mm - cut.high_mm * (0.35 + 0.3 * index)
        label = f"{layer.name}, {format_length(layer.thickness_mm, system)}"
        names.append(((x + thick / 2, cut.y(height)), label, side))
        near += thick
    return names


def _draw_trims(canvas: Canvas, cut: SectionCut, side: int, trims: Sequence[SectionTrim]) -> list[Name]:
    parts = cut.parts
    layers = parts.right if side > 0 else parts.left
    face = (parts.stud_depth_mm / 2 + sum(layer.thickness_mm for layer in layers)) / cut.ratio
    names: list[Name] = []
    for trim in trims:
        foot = parts.clear_height_mm - trim.height_mm if trim.foot_mm is None else trim.foot_mm
        thick = trim.thickness_mm / cut.ratio
        x = face if side > 0 else -face - thick
        runs = cut.runs(foot, foot + trim.height_mm)
        for low, high in runs:
            y0, y1 = cut.y(high), cut.y(low)
            canvas.rect(x, y0, thick, y1 - y0, "opening-edge")
            canvas.line((x, y0), (x + thick, y1), "hatch", keep_clear=False)
        if runs:
            low, high = runs[0]
            names.append(((x + thick / 2, cut.y((low + high) / 2)), trim.name, side))
    return names


def _draw_cap(canvas: Canvas, cut: SectionCut, cap: SectionCap) -> Name:
    wide, thick = cap.width_mm / cut.ratio, cap.thickness_mm / cut.ratio
    parts = cut.parts
    layers_mm = [sum(layer.thickness_mm for layer in side) for side in (parts.left, parts.right)]
    middle = (layers_mm[1] - layers_mm[0]) / 2 / cut.ratio
    canvas.rect(middle - wide / 2, cut.top - thick, wide, thick, "opening-edge")
    return (middle + wide / 2 - 0.6, cut.top - thick / 2), cap.name, 1


def _draw_break(canvas: Canvas, cut: SectionCut) -> None:
    reach = (cut.parts.thickness_mm / 2 + 14) / cut.ratio
    low = cut.y(cut.low_mm)
    canvas.rect(-reach - 1, low - cut.gap, 2 * reach + 2, cut.gap, "fill-paper")
    for y in (low, low - cut.gap):
        shape = [(-reach, y), (-1.6, y), (-0.8, y - 1.6), (0.8, y + 1.6), (1.6, y), (reach, y)]
        canvas.path(polyline(shape), "thin", shape)


def _dimension(canvas: Canvas, cut: SectionCut, half: float, system: System) -> None:
    parts = cut.parts
    left = half + sum(layer.thickness_mm for layer in parts.left) / cut.ratio
    right = half + sum(layer.thickness_mm for layer in parts.right) / cut.ratio
    spans = [(-half, half, 0), (-left, -half, -1), (half, right, 1)]
    for a, b, aside in spans:
        line = dimension_line(canvas, (a, 0.0), (b, 0.0), -7.0)
        if line:
            dimension_text(canvas, line, format_length((b - a) * cut.ratio, system), aside=aside)
    dimension(canvas, (-left, 0.0), (right, 0.0), f"{format_length(parts.thickness_mm, system)} overall", -14.0)
    reach = (parts.thickness_mm / 2 + 60) / cut.ratio
    measured = "to the underside of the cap" if parts.cap else "to the top" if parts.is_half_wall else "clear"
    text = f"{format_length(parts.clear_height_mm, system)} {measured}"
    shares = (0.5, 0.55, 0.45, 0.6, 0.4, 0.65, 0.35, 0.7, 0.3)
    dimension(canvas, (reach, 0.0), (reach, cut.top), text, -5.0, shares)


def name_beside(canvas: Canvas, cut: SectionCut, names: list[Name], widest: float = NAME_WIDTH_MM) -> None:
    """Each name to its own side, from the top down, no two at one height."""
    reach = (cut.parts.thickness_mm / 2 + 60) / cut.ratio
    for side in (-1, 1):
        passed = -math.inf
        mine = sorted((name for name in names if name[2] == side), key=lambda name: name[0][1])
        for tip, text, _ in mine:
            label = block((fitted(text, "dim-text", widest), "dim-text"))
            y = max(tip[1], passed + label.height + 1.6)
            passed = y
            _write_name(canvas, label, tip, side, reach + (9.0 if side > 0 else 3.0), y)


def _write_name(canvas: Canvas, label: Block, tip: Point, side: int, away: float, y: float) -> None:
    x = side * (away + 2.0 + label.width / 2)
    canvas.write(label, Place((x, y)))
    elbow = (side * away, y)
    canvas.path(polyline([(side * (away + 1.2), y), elbow, tip]), "dim", [elbow, tip])
    canvas.circle(tip, 0.45, "fill-ink")
