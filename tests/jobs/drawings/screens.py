"""Reading the small pictures of the pages back: their words measured with the font they are set in."""

import re
from datetime import date, timedelta
from itertools import combinations
from pathlib import Path

from shapely.geometry import box

from tests.jobs.drawings.reading import SVG, font, parsed

STYLE = (Path(__file__).resolve().parents[3] / "quoting/static/quoting/on_screen.css").read_text(encoding="utf-8")
SIZES = {name: float(size) for name, size in re.findall(r"\.on-screen \.([a-z-]+) \{ font-size: ([\d.]+)px", STYLE)}
SEMIBOLD = set(re.findall(r"\.on-screen \.([a-z-]+) \{ font-size: [\d.]+px; font-weight: 600", STYLE))


def said(svg: str) -> list[str]:
    return [element.text for element in parsed(svg).iter(f"{SVG}text")]


def title(svg: str) -> str:
    return parsed(svg)[0].text


def outlines(svg: str):
    """Advance by capital height of each text, px."""
    result = []
    for element in parsed(svg).iter(f"{SVG}text"):
        classes = element.get("class").split()
        glyphs, advances = font("Semibold" if set(classes) & SEMIBOLD else "Regular")
        wide = sum(advances[glyphs[ord(c)]][0] for c in element.text) * SIZES[classes[0]] / 1000
        x, y = float(element.get("x")), float(element.get("y"))
        result.append(box(x, y - 0.66 * SIZES[classes[0]], x + wide, y))
    return result


def is_clear(svg: str) -> bool:
    """No words on other words, and none outside the picture."""
    sheet = box(0, 0, float(parsed(svg).get("width")), float(parsed(svg).get("height")))
    shapes = outlines(svg)
    apart = all(entry.intersection(other).area < 0.01 for entry, other in combinations(shapes, 2))
    return apart and all(sheet.contains(shape) for shape in shapes)


def strokes(svg: str, css: str) -> list[list[float]]:
    """Figures of each path of one class."""
    drawn = [element for element in parsed(svg).iter(f"{SVG}path") if element.get("class") == css]
    return [[float(figure) for figure in re.findall(r"-?[\d.]+", element.get("d"))] for element in drawn]


def working_days(first: date, count: int, shut: frozenset[date] = frozenset()) -> tuple[date, ...]:
    days = [first + timedelta(days=n) for n in range(3 * count)]
    return tuple(day for day in days if day.weekday() < 5 and day not in shut)[:count]
