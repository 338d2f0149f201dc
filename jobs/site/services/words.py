"""How the site sheet names lines, stations and sides, and how it writes lengths."""

from collections.abc import Callable
from functools import partial

from catalog.core.ground.units import MM_PER_INCH, System, format_length
from jobs.core.framing.framing import StationKind
from jobs.core.measure.curve import Curve, CurvePiece
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


def chain_line(curve: Curve) -> Line:
    """The framing face the whole chain is set out on: the convex one of its first arc."""
    first = next((piece for piece in curve.pieces if piece.is_arc), None)
    return curve.line_of(first, "convex", "framing") if first else "right_framing"


def piece_words(piece: CurvePiece) -> str:
    return f"Piece {piece.index + 1}"
