"""A small SVG writer: elements to text, numbers to three places, words made safe.

One unit is one millimetre of paper. Colours and line weights are classes only; the page and the paper each
style them in their own way.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

Point = tuple[float, float]

# All that XML 1.0 cannot carry, and the marks that turn the direction of the words around them.
_NOT_TEXT = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]|[\u202a-\u202e\u2066-\u2069]")
_ESCAPES = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;"})


class DrawingInputError(ValueError):
    """Something that cannot be drawn; the message names the entry, the value and what would be right."""


@dataclass(frozen=True)
class Picture:
    """A finished drawing: its SVG, the words of its scale and its ratio ("" and 0 when it has none), its size in mm."""

    svg: str
    scale: str
    width_mm: float
    height_mm: float
    ratio: float = 0.0


@dataclass(frozen=True)
class Redrawn:
    """A drawing made twice, once more for a phone; a page shows one of them."""

    wide: Picture
    narrow: Picture


def number(value: float) -> str:
    """A number to a thousandth of a millimetre of paper, without needless digits, never minus zero.

    >>> number(12.5), number(-0.0001), number(3.0)
    ('12.5', '0', '3')
    """
    if not math.isfinite(value):
        raise DrawingInputError(f"a drawing holds finite numbers only, not {value}")
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def words(text: str, longest: int = 200) -> str:
    """Words on one line that XML can carry, cut at `longest` characters.

    >>> words("Front\\x00 desk\\n  screen")
    'Front desk screen'
    """
    plain = " ".join(_NOT_TEXT.sub("", text).split())
    return plain if len(plain) <= longest else plain[: longest - 1].rstrip() + "…"


def escaped(text: str) -> str:
    return text.translate(_ESCAPES)


def element(tag: str, attributes: dict[str, str | float], *children: str) -> str:
    """One element as text; children are elements already written.

    >>> element("line", {"x1": 0.5, "class": "ink"})
    '<line x1="0.5" class="ink"/>'
    """
    written = "".join(
        f' {name}="{escaped(value) if isinstance(value, str) else number(value)}"' for name, value in attributes.items()
    )
    return f"<{tag}{written}>{''.join(children)}</{tag}>" if children else f"<{tag}{written}/>"


def move(point: Point) -> str:
    return f"M {number(point[0])} {number(point[1])}"


def line_to(point: Point) -> str:
    return f"L {number(point[0])} {number(point[1])}"


def arc_to(radius: float, clockwise: bool, point: Point, large: bool = False) -> str:
    """A circular arc; `clockwise` as seen on the paper, where y runs down."""
    return f"A {number(radius)} {number(radius)} 0 {int(large)} {int(clockwise)} {number(point[0])} {number(point[1])}"


def polyline(points: Sequence[Point], closed: bool = False) -> str:
    steps = [move(points[0]), *(line_to(point) for point in points[1:])]
    return " ".join([*steps, "Z"] if closed else steps)


def document(
    body: Iterable[str],
    *,
    title: str,
    desc: str,
    left: float,
    top: float,
    width: float,
    height: float,
) -> str:
    """The whole drawing. It scales to the width it is given and is true to scale at its own."""
    named = element("title", {}, escaped(words(title)))
    message = element("desc", {}, escaped(words(desc, 40_000)))
    box = " ".join(number(value) for value in (left, top, width, height))
    return element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "role": "img",
            "width": f"{number(width)}mm",
            "height": f"{number(height)}mm",
            "viewBox": box,
        },
        named,
        message,
        *body,
    )
