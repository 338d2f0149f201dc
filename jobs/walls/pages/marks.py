"""How each dimension of the form is known. A mark stands beside its entry and moves with its row.

What stands in the choice: a plain word, for what the person at work says now; or a mark that is stored, as
"how|day|typed|who", which holds while the entry still says what was typed.
"""

from collections.abc import Iterable
from datetime import date

from catalog.core.ground.declared import Document
from jobs.core.measure.dimension_status import HOW_KNOWN, DimensionStatus
from jobs.walls.pages.site_labels import BY_ME, HOW_WORDS, MARK, NOT_SAID, Options
from quoting.platform.screen_days import day_words

Row = dict[str, str]
POINTS = ("x1", "y1", "x2", "y2", "x3", "y3")
# Entry -> the dimension's name in a document, where the two differ.
NAMES = {"x1": "points"}
OPENING_DIMENSIONS = ("centre_at", "width", "height", "sill", "arch_rise")
STATION_DIMENSIONS = ("along", "height")
PIECE_DIMENSIONS = ("length", "radius", "angle", "arc", "chord", "rise", "turned", "kink", "x1")
MARKED = {"pieces": PIECE_DIMENSIONS, "stations": STATION_DIMENSIONS, "openings": OPENING_DIMENSIONS}


def new_marks(rows: str) -> Row:
    """What is entered is taken to be measured by whoever enters it."""
    return {f"{entry}{MARK}": "measured" for entry in MARKED.get(rows, ())}


def fitted_marks(row: Row, signed: tuple[str, str]) -> Row:
    """Of a piece worked out from offsets, while its figures stand; signed: who takes it, and the day."""
    by, on = signed
    mark = DimensionStatus("fitted", by, date.fromisoformat(on))
    return {f"{entry}{MARK}": stored_mark(mark, said_of(row, entry)) for entry in PIECE_DIMENSIONS}


def said_of(row: Row, entry: str) -> str:
    return " ".join(row[name] for name in POINTS) if entry == "x1" else row[entry]


def stored_mark(mark: DimensionStatus | None, typed: str) -> str:
    return f"||{typed}|" if mark is None else f"{mark.how}|{mark.on.isoformat()}|{typed}|{mark.by}"


def marks_of_rows(rows: str, at: str, entries: Iterable[Row], signed: tuple[str, str]) -> Iterable[Document]:
    """The marks of a list of rows. at: its name in the document. signed: who works here, and the day."""
    for place, row in enumerate(entries):
        is_corner = rows == "pieces" and row["way"] == "corner"
        for entry in MARKED[rows]:
            if is_corner and entry == "angle":
                continue
            yield from _written(
                f"{at}[{place}].{NAMES.get(entry, entry)}", row.get(f"{entry}{MARK}"), said_of(row, entry), signed
            )
        if is_corner:
            # A corner is given by its radius alone; that it is a quarter round stands and falls with it.
            yield from _written(f"{at}[{place}].angle", row.get(f"radius{MARK}"), row["radius"], signed)


def mark_of_height(value: str, typed: str, signed: tuple[str, str]) -> Iterable[Document]:
    return _written("height", value, typed, signed)


def _written(dimension: str, value: str | None, typed: str, signed: tuple[str, str]) -> Iterable[Document]:
    how, by, on = _said_by(value or "", typed, signed)
    if how in HOW_KNOWN:
        yield {"dimension": dimension, "how": how, "by": by, "on": on}


def _said_by(value: str, typed: str, signed: tuple[str, str]) -> tuple[str, str, str]:
    if value.count("|") < 3:
        return value, *signed
    how, on, was_typed, by = value.split("|", 3)
    if typed == was_typed:
        return how, by, on
    # What was measured, confirmed or worked out was another figure; an assumption stays one until somebody measures.
    return "assumed" if how == "assumed" else "measured", *signed


def options_of(value: str) -> Options:
    """What may be said of a dimension; a stored mark first, with who said it and when."""
    if value.count("|") < 3:
        return BY_ME
    how, on, _, by = value.split("|", 3)
    if not how:
        return ((value, NOT_SAID[1]), *(pair for pair in BY_ME if pair != NOT_SAID))
    return ((value, f"{HOW_WORDS.get(how, how)}, {by}, {_day(on)}"), *BY_ME)


def _day(on: str) -> str:
    try:
        return day_words(date.fromisoformat(on))
    except ValueError:
        return on
