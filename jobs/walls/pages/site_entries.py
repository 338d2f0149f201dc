"""A wall's survey in the form: readings, leans and offsets, to the wall's document and back."""

from collections.abc import Iterable, Sequence

from catalog.core.ground.declared import Document
from catalog.core.ground.units import System
from jobs.walls.pages.site_labels import (
    FIGURES_OF_WAYS,
    LEAN_NAMES,
    LENGTHS,
    OFFSET_NAMES,
    READING_FIGURES,
    READING_MORE,
    ROOM,
    ROOM_CHOICES,
    START,
)
from jobs.walls.pages.unit_text import typed

Row = dict[str, str]


def with_readings(pieces: Sequence[Document], readings: Iterable[Row], leans: Iterable[Row]) -> list[Document]:
    """The pieces of a document, each with what was read of it."""
    result: list[Document] = [dict(piece) for piece in pieces]
    for name, rows, written in (("readings", readings, _reading), ("leans", leans, _lean)):
        for row in rows:
            place = _place(row)
            # Of a piece that is not there nothing can be read; the row says so once there is one.
            if place < len(result):
                result[place].setdefault(name, []).append(written(row))
    return result


def _place(row: Row) -> int:
    number = row["of_piece"]
    return int(number) - 1 if number.isascii() and number.isdigit() and 0 < len(number) < 4 and int(number) else 0


def of_piece(rows: Sequence[Row], piece: int) -> list[int]:
    """Places of the rows that are of a piece, by its index."""
    return [place for place, row in enumerate(rows) if _place(row) == piece]


def follow(rows: list[Row], moved: dict[int, int | None]) -> list[Row]:
    """The rows after pieces changed places; what was read of a piece that is gone goes with it."""
    texts = []
    for row in rows:
        place = moved.get(_place(row), _place(row))
        if place is not None:
            texts.append(row | {"of_piece": str(place + 1)})
    return texts


def _reading(row: Row) -> Document:
    figures = dict[str, tuple[str, ...]](FIGURES_OF_WAYS).get(row["reading_way"], ())
    return {name: row[name] for name in figures} | {name: row[name] for name in READING_MORE if row[name]}


def _lean(row: Row) -> Document:
    return {name: row[entry] for entry, name in LEAN_NAMES.items() if row[entry] or entry != "lean_along"}


def offsets_typed(rows: Sequence[Row]) -> list[int]:
    """Places of the rows in which anything is typed: an empty row is no offset."""
    return [place for place, row in enumerate(rows) if any(row[entry] for entry in OFFSET_NAMES)]


def offsets_given(texts: Row, rows: Sequence[Row]) -> Document | None:
    """The offsets as typed, to be fitted; None while there are none."""
    places = offsets_typed(rows)
    if not places:
        return None
    points = [{name: rows[place][entry] for entry, name in OFFSET_NAMES.items()} for place in places]
    return {"tolerance": texts["offsets_tolerance"], "points": points}


def offsets_fitted(texts: Row, rows: Sequence[Row]) -> Document | None:
    """The offsets with where the pieces start; None while no pieces were fitted to them."""
    given = offsets_given(texts, rows)
    if given is None or not all(texts[entry] for entry in START):
        return None
    start = {"along": texts["start_along"], "offset": texts["start_offset"]}
    return given | {"start": start, "heading": texts["offsets_heading"]}


def room_given(texts: Row) -> Document | None:
    """The tapes that tie the wall to the building; None while nothing of them is entered."""
    if not any(texts[entry] for entry in ROOM if entry not in ROOM_CHOICES):
        return None
    return {name: texts[entry] for entry, name in ROOM.items() if texts[entry]}


def room_entries(written: Document | None, system: System) -> Row:
    given = written or {}
    entries = {entry: typed(given.get(name), system if entry in LENGTHS else None) for entry, name in ROOM.items()}
    return entries | {"room_side": entries["room_side"] or "left"}


def reading_rows(pieces: Sequence[Document], system: System) -> list[Row]:
    return [
        {"of_piece": str(place + 1), "reading_way": _way(entry)}
        | {name: typed(entry.get(name), system) for name in (*READING_FIGURES, *READING_MORE)}
        for place, piece in enumerate(pieces)
        for entry in piece.get("readings", ())
    ]


def _way(reading: Document) -> str:
    return next(way for way, names in FIGURES_OF_WAYS.items() if names[0] in reading)


def lean_rows(pieces: Sequence[Document], system: System) -> list[Row]:
    return [
        {"of_piece": str(place + 1)} | {entry: typed(each[name], system) for entry, name in LEAN_NAMES.items()}
        for place, piece in enumerate(pieces)
        for each in piece.get("leans", ())
    ]


def offset_entries(written: Document | None, system: System) -> tuple[Row, list[Row]]:
    """The entries and rows of offsets as a document has them, with where their pieces start."""
    if written is None:
        return {}, []
    texts = {
        "offsets_tolerance": typed(written["tolerance"], system),
        "start_along": typed(written["start"]["along"], system),
        "start_offset": typed(written["start"]["offset"], system),
        "offsets_heading": typed(written["heading"], None),
    }
    rows = [{entry: typed(at[name], system) for entry, name in OFFSET_NAMES.items()} for at in written["points"]]
    return texts, rows
