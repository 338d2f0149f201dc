"""Reading a drawing back, apart from the code that wrote it."""

import math
import re
from functools import lru_cache
from importlib import resources
from xml.etree import ElementTree

from fontTools.ttLib import TTFont
from shapely import affinity
from shapely.geometry import box

SVG = "{http://www.w3.org/2000/svg}"
# Sizes of the text classes, read from the style sheet of papers.
TEXT_CLASS = re.compile(r"\.([a-z-]+) \{ font-size: ([\d.]+)px")


def parsed(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def paths(svg: str, css: str) -> list[str]:
    return [element.get("d", "") for element in parsed(svg).iter(f"{SVG}path") if element.get("class") == css]


def texts(svg: str) -> list[str]:
    return ["".join(element.itertext()) for element in parsed(svg).iter(f"{SVG}text")]


def steps(d: str) -> list[tuple[str, list[float]]]:
    pairs = []
    for letter, figures in re.findall(r"([A-Z])([^A-Z]*)", d):
        pairs.append((letter, [float(figure) for figure in figures.split()]))
    return pairs


def arc_centre(start, radius, large, clockwise, end):
    """Centre of an SVG arc: SVG 2, appendix B.2.4 (conversion from endpoint to centre), for circles."""
    (x1, y1), (x2, y2) = start, end
    xp, yp = (x1 - x2) / 2, (y1 - y2) / 2
    left = max(radius**2 - xp**2 - yp**2, 0.0) / (xp**2 + yp**2)
    factor = math.sqrt(left) * (-1 if large == clockwise else 1)
    return ((x1 + x2) / 2 + factor * yp, (y1 + y2) / 2 - factor * xp)


def arcs(d: str):
    """(start, centre, radius, signed angle, end) of every arc of a path; the angle grows clockwise on the paper."""
    at, rows = (0.0, 0.0), []
    for letter, figures in steps(d):
        if letter == "A":
            radius, _, _, large, clockwise, x, y = figures
            centre = arc_centre(at, radius, large, clockwise, (x, y))
            turned = math.atan2(y - centre[1], x - centre[0]) - math.atan2(at[1] - centre[1], at[0] - centre[0])
            turned %= math.tau
            rows.append((at, centre, radius, turned if clockwise else turned - math.tau, (x, y)))
        if figures:
            at = (figures[-2], figures[-1])
    return rows


def length_of(d: str) -> float:
    at, total = None, 0.0
    for letter, figures in steps(d):
        if letter == "L":
            total += math.dist(at, figures[-2:])
        if figures:
            at = tuple(figures[-2:])
    return total + sum(radius * abs(angle) for _, _, radius, angle, _ in arcs(d))


@lru_cache
def font(weight: str) -> tuple[dict[int, str], dict[str, tuple[int, int]]]:
    """(glyph of each character, advances) of the family pages and papers are set in, thousandths of its size."""
    opened = TTFont(str(resources.files("font_source_sans_pro") / "files" / f"SourceSansPro-{weight}.ttf"))
    assert opened["head"].unitsPerEm == 1000
    return opened.getBestCmap(), opened["hmtx"].metrics


def text_shapes(svg: str, sizes: dict[str, float]):
    """(words, outline) of every text: its advance by its capital height, turned as it stands."""
    shapes = []
    for element in parsed(svg).iter(f"{SVG}text"):
        classes = element.get("class", "").split()
        weight = "Semibold" if classes[0] in ("label-strong", "red-text") else "Regular"
        glyphs, advances = font(weight)
        text = "".join(element.itertext())
        wide = sum(advances[glyphs[ord(c)]][0] for c in text) * sizes[classes[0]] / 1000
        x, y, high = float(element.get("x")), float(element.get("y")), 0.66 * sizes[classes[0]]
        left = x - wide / 2 if "at-middle" in classes else x
        outline = box(left, y - high, left + wide, y)
        turn = re.match(r"rotate\(([-\d.]+) ([-\d.]+) ([-\d.]+)\)", element.get("transform", ""))
        if turn:
            angle, cx, cy = (float(figure) for figure in turn.groups())
            outline = affinity.rotate(outline, angle, origin=(cx, cy))
        shapes.append((text, outline))
    return shapes


def overlapping_texts(svg: str, sizes: dict[str, float]) -> list[tuple[str, str]]:
    shapes = text_shapes(svg, sizes)
    return [
        (entry, other)
        for index, (entry, outline) in enumerate(shapes)
        for other, second in shapes[:index]
        if outline.intersection(second).area > 0.01
    ]
