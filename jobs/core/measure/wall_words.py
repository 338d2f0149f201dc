"""A wall's measures in words."""

from __future__ import annotations

from catalog.core.ground.units import System, format_length
from jobs.core.measure.curve import Curve


def height_words(curve: Curve, system: System) -> str:
    """The height of a wall, or from its least to its greatest; heights measured beyond its end are no part of it."""
    least, greatest = (format_length(height, system) for height in (curve.least_height_mm, curve.greatest_height_mm))
    return least if least == greatest else f"{least} to {greatest}"
