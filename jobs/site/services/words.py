"""How the site sheet names lines, stations and sides, and how it writes lengths."""

from collections.abc import Callable
from functools import partial

from catalog.core.ground.refusal import Refused
from catalog.core.ground.units import (
    MM_PER_INCH,
    BareLengthUnit,
    System,
    UnitError,
    format_both,
    format_length,
    parse_length,
)
from jobs.core.framing.framing import StationKind
from jobs.core.measure.curve import CurvePiece
from jobs.core.measure.survey import Line

Say = Callable[[float], str]

LINE_WORDS: dict[Line, str] = {
    "left_finished": "left finished face",
    "left_framing": "left framing face",
    "centre": "centreline",
    "right_framing": "right framing face",
    "right_finished": "right finished face",
}
STATION_WORDS: dict[StationKind, tuple[str, str]] = {
    "stud": ("stud", "studs"),
    "jamb": ("jamb", "jambs"),
    "end": ("stud at the end of the wall", "studs at the end of the wall"),
    "piece_change": ("stud at a change of piece", "studs at a change of piece"),
    "cripple_over": ("cripple over the opening", "cripples over the opening"),
    "cripple_under": ("cripple under the opening", "cripples under the opening"),
}
# Tapes and chalk lines are stepped off in whole feet or in 300 mm: our own convention.
INTERVAL_MM: dict[System, float] = {"imperial": 12 * MM_PER_INCH, "metric": 300.0}
LASER_REACH_MM: dict[System, float] = {"imperial": 48 * MM_PER_INCH, "metric": 1200.0}


def lengths_in(system: System) -> Say:
    return partial(format_length, system=system)


def piece_words(piece: CurvePiece) -> str:
    return f"Piece {piece.index + 1}"


MIN_INTERVAL_MM = 10.0
MAX_INTERVAL_MM = 10_000.0


def interval_typed(text: str, system: System) -> float | None:
    """The interval of the ordinates as typed, in mm; None while nothing is typed. Raises Refused."""
    if not text.strip():
        return None
    unit: BareLengthUnit = "in" if system == "imperial" else "mm"
    try:
        return interval_in_bounds(parse_length(text.strip()[:60], what="", bare_unit=unit))
    except (UnitError, ValueError) as error:
        raise Refused(f"Interval: {str(error).strip().removeprefix(': ')}.") from error


def interval_in_bounds(interval_mm: float) -> float:
    """Raises ValueError."""
    if not MIN_INTERVAL_MM <= interval_mm <= MAX_INTERVAL_MM:
        bounds = f"{format_both(MIN_INTERVAL_MM)} to {format_both(MAX_INTERVAL_MM)}"
        raise ValueError(f"must be from {bounds}; {format_both(interval_mm)} was given")
    return interval_mm
