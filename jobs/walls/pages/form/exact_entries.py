"""Figures no tape reads, such as those of fitted pieces: the form shows them rounded and keeps them exact.

A figure that was fitted comes to a millionth of a millimetre. The form shows the nearest sixteenth, tenth of a
millimetre or hundredth of a degree; while that stands untouched in an entry, the exact figure is meant.
"""

from collections.abc import Iterable
from decimal import Decimal

from catalog.core.ground.units import System, UnitError, format_length, parse_angle_deg, parse_length

Row = dict[str, str]
Exact = dict[tuple[str, str], str]
"""What is meant by what an entry shows: (its name, the text) to the text that says it exactly."""
ANGLES = frozenset({"angle", "turned", "kink", "heading"})
LENGTHS = frozenset(
    {"length", "radius", "arc", "chord", "rise", "x1", "y1", "x2", "y2", "x3", "y3", "start_along", "start_offset"}
)
PARTED_BY = "|"
MOST = 500


def shorten(row: Row, entries: Iterable[str], exact: Exact, system: System) -> None:
    """Shows the row's long figures rounded; one that would be mistaken for another stays as it is."""
    for name in entries:
        entry, text = name.rpartition("-")[2], row.get(name, "")
        shown = rounded(entry, text, system)
        if shown is not None and exact.setdefault((entry, shown), text) == text:
            row[name] = shown


def rounded(entry: str, text: str, system: System) -> str | None:
    """As people read it; None for what is short already, or no figure that may be fitted."""
    try:
        if entry in LENGTHS and text.endswith(" mm"):
            shown = format_length(float(parse_length(text, what="", bare_unit="mm", allow_negative=True)), system)
        elif entry in ANGLES and len(text.partition(".")[2]) > 2:
            figure = round(parse_angle_deg(text, what="", allow_negative=True), 2)
            shown = f"{figure.normalize():f}" if figure else "0"
        else:
            return None
        return None if _same(entry, shown, text) else shown
    except UnitError:  # no figure, or one that rounded is longer than a length may be
        return None


def _same(entry: str, shown: str, text: str) -> bool:
    return entry in LENGTHS and _mm(shown) == _mm(text)


def _mm(text: str) -> Decimal:
    return parse_length(text, what="", bare_unit="mm", allow_negative=True)


def written(exact: Exact) -> list[str]:
    """For the form to carry."""
    return [PARTED_BY.join((entry, shown, text)) for (entry, shown), text in exact.items()]


def read(carried: Iterable[str], systems: Iterable[System] = ("imperial", "metric")) -> Exact:
    """As the form carried it; what does not round to what is shown is not believed."""
    texts: Exact = {}
    for each in list(carried)[:MOST]:
        entry, _, rest = each[:200].partition(PARTED_BY)
        shown, _, text = rest.partition(PARTED_BY)
        if any(rounded(entry, text, system) == shown for system in systems):
            texts[entry, shown] = text
    return texts
