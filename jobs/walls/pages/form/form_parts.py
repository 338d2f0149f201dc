"""The parts of a wall's form: which forms and lists of rows each holds, and what it says."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from jobs.walls.pages.form.build_forms import EndsForm, FaceForm, KitForm, LayerForm, OpeningForm, StudsForm, TrimForm
from jobs.walls.pages.form.marks import MARK
from jobs.walls.pages.form.part_form import PartForm
from jobs.walls.pages.form.survey_forms import (
    CeilingForm,
    LeanForm,
    OffsetForm,
    OffsetsForm,
    PieceForm,
    ReadingForm,
    RoomForm,
    StationForm,
    SurveyForm,
    TapeForm,
)


@dataclass(frozen=True)
class RowsOf:
    """A list of rows under `name`. label: of one row. words: of all. path: of the list in the wall's document."""

    name: str
    form: type[PartForm]
    label: str
    words: str
    path: str
    add: str = ""
    most: int = 200
    copies: bool = False
    is_folded: bool = False


@dataclass(frozen=True)
class Section:
    """One form with rows under it. prefix: of its entries, and of its values in the document."""

    prefix: str = ""
    form: type[PartForm] | None = None
    rows: tuple[RowsOf, ...] = ()
    heading: str = ""


@dataclass(frozen=True)
class Part:
    """One line of the form; SURVEY stands open above the lines. note: what stands over its entries."""

    key: str
    label: str
    sections: tuple[Section, ...]
    note: str = ""


def _layers(face: str) -> RowsOf:
    return RowsOf(f"{face}-layers", LayerForm, "Layer", "boards", f"{face}.layers", "Add a layer", 8, copies=True)


PIECES = RowsOf("pieces", PieceForm, "Piece", "pieces", "pieces")
READINGS = RowsOf("readings", ReadingForm, "Reading", "readings", "readings", "Add a reading")
LEANS = RowsOf("leans", LeanForm, "Lean", "leans", "leans", "Add a lean")
POINTS = RowsOf("offsets-points", OffsetForm, "Offset", "offsets", "offsets.points", "Add offsets")
KIT = RowsOf("kit", KitForm, "Own material", "own materials", "kit", "Add an own material", 100)
STATIONS = RowsOf("stations", StationForm, "Height", "heights", "height", "Add a height")
OPENINGS = RowsOf("openings", OpeningForm, "Opening", "openings", "openings", "Add an opening", is_folded=True)
TRIMS = RowsOf("trims", TrimForm, "Trim", "trim", "trims", "Add a run of trim", is_folded=True)
SURVEY = Part("survey", "Survey", (Section("", SurveyForm, (PIECES,)),))
PARTS = (
    SURVEY,
    Part("ceiling", "Ceiling", (Section("", CeilingForm, (STATIONS,)),)),
    Part("openings", "Openings", (Section("", None, (OPENINGS,)),)),
    Part(
        "boards",
        "Boards",
        tuple(Section(face, FaceForm, (_layers(face),), f"{face.capitalize()} face") for face in ("left", "right")),
    ),
    Part("studs", "Studs", (Section("", StudsForm), Section("ends", EndsForm))),
    Part("trims", "Trim", (Section("", None, (TRIMS,)),)),
    Part(
        "readings",
        "Readings",
        (Section("", TapeForm, (READINGS, LEANS)),),
        "Each reading is of one arc, on the line it is measured on. They say how well its radius is known.",
    ),
    Part(
        "room",
        "In the room",
        (Section("room", RoomForm),),
        "Tape from two fixed points of the building to the start and to a second point of the wall. Tape to the outer "
        "edge of its track: the convex one of its first arc, else the right.",
    ),
    Part(
        "offsets",
        "Offsets",
        (Section("offsets", OffsetsForm, (POINTS,)),),
        "Along a straight baseline, to one line of the wall, left of walking positive. Pieces are fitted to them.",
    ),
    Part(
        "kit",
        "Own materials",
        (Section("", None, (KIT,)),),
        "What this wall takes instead of the firm's kit. Of several board screws the shortest that reaches is used.",
    ),
)
LINES = PARTS[1:]
LISTS = {rows.name: rows for part in PARTS for section in part.sections for rows in section.rows}
ROW = re.compile(rf"({'|'.join(LISTS)})-(\d{{1,3}})-(\w{{1,20}})", re.ASCII)


def sections() -> Iterator[tuple[Part, Section]]:
    yield from ((part, section) for part in PARTS for section in part.sections)


@cache
def leaves_of(form: type[PartForm]) -> frozenset[str]:
    return frozenset({*form.base_fields, *(name + MARK for name in form.marked), "was"})


@cache
def part_of_list(name: str) -> str:
    return next(part.key for part, section in sections() for rows in section.rows if rows.name == name)


@cache
def _singles() -> dict[str, str]:
    """Entries that stand in no row, and their parts; how the height is known is said with the ceiling."""
    found = {
        f"{section.prefix}-{leaf}" if section.prefix else leaf: part.key
        for part, section in sections()
        if section.form
        for leaf in leaves_of(section.form)
    }
    return found | {"height" + MARK: "survey"}


def part_of(name: str) -> str:
    """The part an entry stands in; empty for what is no entry of the form."""
    match = ROW.fullmatch(name)
    if match is None:
        return _singles().get(name, "")
    rows = LISTS[match[1]]
    return part_of_list(rows.name) if match[3] in leaves_of(rows.form) and int(match[2]) < rows.most else ""
