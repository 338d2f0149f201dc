"""One wall of a job file, read into a `WallSpec` and written back."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from catalog.core.ground.declared import Document, build, read_fields, write, write_fields
from catalog.core.ground.document_reader import Reader
from jobs.core.measure.site_document import check_taken, kept_offsets
from jobs.core.measure.site_measurements import ArcTaken, LeanTaken, SiteMeasurements
from jobs.core.measure.survey import ArcPiece, Piece
from jobs.core.measure.wall_spec import WallSpec


def read_wall(reader: Reader) -> WallSpec:
    """One wall of the document.

    reader: the wall's object. Returns the specification, lengths in mm. Raises DocumentError naming each entry.

    >>> face = {"layers": [{"board": "GB-1/4"}], "level": 4}
    >>> wall = read_wall(Reader({"key": "screen", "name": "Screen", "measured_on": "centre", "height": "9'",
    ...     "pieces": [{"shape": "arc", "turn": "left", "chord": "14'", "rise": 30}],
    ...     "track": "T", "stud": "S", "left": face, "right": face}))
    >>> wall.heights.stations
    ((0.0, 2743.2),)
    """
    values = read_fields(WallSpec, reader)
    given, taken = values["pieces"], values["taken"]
    baseline, fitted = kept_offsets(taken.baseline, bool(given), "wall", reader)
    values["pieces"] = tuple(_alone(piece) for piece in given) or fitted
    if not values["pieces"]:
        raise reader.error("pieces", "a wall needs at least one piece, straight or arc, or offsets to fit pieces to")
    values["taken"] = _of_pieces(replace(taken, baseline=baseline), given)
    wall = build(WallSpec, reader, values)
    check_taken(wall, reader)
    return wall


def write_wall(wall: WallSpec) -> Document:
    """The wall as a document that `read_wall` reads back the same."""
    pieces = [write(_with_taken(wall.taken, place, piece)) for place, piece in enumerate(wall.pieces)]
    return write_fields(wall) | {"pieces": pieces}


def _alone(piece: Any) -> Piece:
    return ArcPiece(piece.given, piece.turn, piece.measured_on, piece.kink_rad) if type(piece) is ArcTaken else piece


def _of_pieces(taken: SiteMeasurements, pieces: tuple[Any, ...]) -> SiteMeasurements:
    """With what was read of each piece, which says there which it is."""
    arcs = [(place, piece) for place, piece in enumerate(pieces) if isinstance(piece, ArcTaken)]
    readings = tuple(replace(reading, piece=place) for place, arc in arcs for reading in arc.readings)
    leans = tuple(LeanTaken(place, lean) for place, arc in arcs for lean in arc.leans)
    return replace(taken, readings=readings, leans=leans)


def _with_taken(taken: SiteMeasurements, place: int, piece: Piece) -> Piece:
    if not isinstance(piece, ArcPiece):
        return piece
    readings = tuple(reading for reading in taken.readings if reading.piece == place)
    leans = tuple(lean.lean for lean in taken.leans if lean.piece == place)
    return ArcTaken(piece.given, piece.turn, piece.measured_on, piece.kink_rad, readings, leans)
