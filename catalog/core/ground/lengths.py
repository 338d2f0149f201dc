"""A length as a JSON value: exact, in both units, and as people read it."""

from __future__ import annotations

from typing import Any

from catalog.core.ground.units import MM_PER_INCH, System, format_length

Document = dict[str, Any]


def length(length_mm: float, system: System) -> Document:
    """A length three ways: mm and inches to a millionth (to be rounded once, by who shows it), and as people read it.

    >>> length(4267.2, "imperial")
    {'mm': 4267.2, 'in': 168.0, 'text': '14\\' 0"'}
    """
    return {
        "mm": round(length_mm, 6),
        "in": round(length_mm / MM_PER_INCH, 6),
        "text": format_length(length_mm, system),
    }


def length_at(coordinate_mm: float, system: System) -> Document:
    """A coordinate, which may be negative; its text carries the sign.

    >>> length_at(-25.4, "imperial")["text"]
    '-1"'
    """
    written = length(abs(coordinate_mm), system)
    if coordinate_mm < 0 and written["mm"]:
        return {"mm": -written["mm"], "in": -written["in"], "text": f"-{written['text']}"}
    return written
