"""How each dimension of the form is known. A mark stands beside its entry and moves with its row.

What stands in the choice: a plain word, for what the person at work says now; or a mark that is stored, as
"how|day|typed|who", which holds while the entry still says what was typed.
"""

from collections.abc import Iterable
from datetime import date

from catalog.core.ground.declared import Document
from jobs.core.measure.dimension_status import HOW_KNOWN, DimensionStatus, MarkedDimension
from quoting.platform.screen_days import day_words

Row = dict[str, str]
Options = tuple[tuple[str, str], ...]
MARK = "__how"
"""Of an entry whose figure is a dimension: how it is known."""
NOT_SAID = ("", "not said")
HOW_WORDS = {"fitted": "worked out from offsets"}
BY_ME: Options = (*((how, f"{how} by me") for how in HOW_KNOWN if how not in HOW_WORDS), NOT_SAID)
POINTS = ("x1", "y1", "x2", "y2", "x3", "y3")
# Entry -> the dimension's name in a document, where the two differ.
NAMES = {"x1": "points"}
PIECE_FIGURES = ("length", "radius", "angle", "arc", "chord", "rise", "turned", "kink", "x1")


def new_marks(entries: Iterable[str]) -> Row:
    """What is entered is taken to be measured by whoever enters it."""
    return {f"{entry}{MARK}": "measured" for entry in entries}


def stored_marks(row: Row, at: str, marked: Iterable[str], marks: Iterable[MarkedDimension]) -> Row:
    """Beside each dimension of a stored row, how it is known. at: where the row stands in the wall's document."""
    known = {mark.dimension: mark.mark for mark in marks if mark.dimension.startswith(at)}
    return {
        f"{entry}{MARK}": stored_mark(known.get(f"{at}{NAMES.get(entry, entry)}"), said_of(row, entry))
        for entry in marked
    }


def fitted_marks(row: Row, signed: tuple[str, str]) -> Row:
    """Of a piece worked out from offsets, while its figures stand; signed: who takes it, and the day."""
    by, on = signed
    mark = DimensionStatus("fitted", by, date.fromisoformat(on))
    return {f"{entry}{MARK}": stored_mark(mark, said_of(row, entry)) for entry in PIECE_FIGURES}


def said_of(row: Row, entry: str) -> str:
    return " ".join(row.get(name, "") for name in POINTS) if entry == "x1" else row.get(entry, "")


def stored_mark(mark: DimensionStatus | None, typed: str) -> str:
    return f"||{typed}|" if mark is None else f"{mark.how}|{mark.on.isoformat()}|{typed}|{mark.by}"


def marks_of_row(row: Row, at: str, marked: Iterable[str], signed: tuple[str, str]) -> Iterable[Document]:
    """The marks of a row. at: where it stands in the wall's document. signed: who works here, and the day."""
    # A corner is given by its radius alone; that it is a quarter round stands and falls with it.
    beside = {"angle": "radius"} if row.get("way") == "corner" else {}
    for entry in marked:
        source = beside.get(entry, entry)
        mark = row.get(f"{source}{MARK}")
        yield from _written(f"{at}{NAMES.get(entry, entry)}", mark, said_of(row, source), signed)


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
