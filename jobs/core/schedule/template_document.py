"""One template of a job's register, read into a `HeldTemplate` and written back."""

from __future__ import annotations

from catalog.core.ground.declared import Document
from catalog.core.ground.document_reader import Reader, read_all
from jobs.core.measure.survey import SurveyError
from jobs.core.takeoff.held_templates import TEMPLATE_STATES, HeldTemplate, TemplateMove

MAX_TEMPLATES = 500
MAX_MOVES = 200


def read_template(reader: Reader) -> HeldTemplate:
    """One template of the register, with what became of it.

    reader: its object. Returns the template. Raises DocumentError naming each entry.

    >>> held = {"state": "held", "on": "2027-02-03", "by": "Ines Quarrell", "kept_at": "Workshop, rack 2"}
    >>> read_template(Reader({"name": "T1", "shape": "Back of the base", "wall": "nook", "line": "Base",
    ...     "traced_by": "Ines Quarrell", "traced_on": "2027-02-03", "moves": [held]})).kept_at
    'Workshop, rack 2'
    """
    entries = read_all(
        name=lambda: reader.text("name", longest=100),
        shape=lambda: reader.text("shape", longest=500),
        wall=lambda: reader.text("wall", longest=40),
        line=lambda: reader.text("line", "", longest=100),
        piece=lambda: reader.optional_whole("piece", 1, 200),
        traced_by=lambda: reader.text("traced_by", longest=200),
        traced_on=lambda: reader.day("traced_on"),
        moves=lambda: reader.items("moves", read_move, most=MAX_MOVES),
    )
    try:
        return HeldTemplate(**entries)
    except SurveyError as error:
        raise reader.error(error.field, error.reason) from error


def read_move(reader: Reader) -> TemplateMove:
    """What became of a template on a day.

    reader: its object. Returns the move. Raises DocumentError naming each entry.

    >>> read_move(Reader({"state": "lost", "on": "2027-02-09", "by": "Ines Quarrell"})).state
    'lost'
    """
    entries = read_all(
        state=lambda: reader.choice("state", TEMPLATE_STATES),
        on=lambda: reader.day("on"),
        by=lambda: reader.text("by", longest=200),
        kept_at=lambda: reader.text("kept_at", "", longest=200),
    )
    try:
        return TemplateMove(**entries)
    except SurveyError as error:
        raise reader.error(error.field, error.reason) from error


def write_template(template: HeldTemplate) -> Document:
    """The template as a document that `read_template` reads back the same."""
    return {
        "name": template.name,
        "shape": template.shape,
        "wall": template.wall,
        "line": template.line,
        "piece": template.piece,
        "traced_by": template.traced_by,
        "traced_on": template.traced_on.isoformat(),
        "moves": [
            {"state": move.state, "on": move.on.isoformat(), "by": move.by, "kept_at": move.kept_at}
            for move in template.moves
        ],
    }
