"""The tapes that tie a wall to the building, in a job file."""

from __future__ import annotations

from catalog.core.ground.declared import Document, write_length
from catalog.core.ground.document_reader import Reader, read_all
from jobs.core.measure.room_tie import MAX_NAME_LENGTH, RoomTie
from jobs.core.measure.survey import SurveyError

MAX_JOINTS = 199


def read_room(reader: Reader) -> RoomTie | None:
    """The entry `room` of a wall; None where it is left out.

    reader: the wall's object. Raises DocumentError naming each entry that is wrong.

    >>> given = {"first": "Column C4", "second": "Corner", "apart": 200, "first_to_start": 120, "second_to_start": 160,
    ...     "first_to_point": 160, "second_to_point": 120}
    >>> read_room(Reader({"room": given})).apart_mm
    5080.0
    """
    inner = reader.optional_object("room")
    if inner is None:
        return None
    figures = read_all(
        first=lambda: inner.text("first", longest=MAX_NAME_LENGTH),
        second=lambda: inner.text("second", longest=MAX_NAME_LENGTH),
        apart_mm=lambda: inner.length("apart"),
        first_to_start_mm=lambda: inner.length("first_to_start"),
        second_to_start_mm=lambda: inner.length("second_to_start"),
        first_to_point_mm=lambda: inner.length("first_to_point"),
        second_to_point_mm=lambda: inner.length("second_to_point"),
        joint=lambda: inner.optional_whole("joint", 1, MAX_JOINTS),
        side=lambda: inner.choice("side", ("left", "right"), "left"),
    )
    inner.finish()
    try:
        return RoomTie(**figures)
    except SurveyError as error:
        raise inner.error(error.field, error.reason) from error


def write_room(tie: RoomTie | None) -> Document | None:
    """As `read_room` reads it back the same."""
    if tie is None:
        return None
    return {
        "first": tie.first,
        "second": tie.second,
        "apart": write_length(tie.apart_mm),
        "first_to_start": write_length(tie.first_to_start_mm),
        "second_to_start": write_length(tie.second_to_start_mm),
        "first_to_point": write_length(tie.first_to_point_mm),
        "second_to_point": write_length(tie.second_to_point_mm),
        "joint": tie.joint,
        "side": tie.side,
    }
