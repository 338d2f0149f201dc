"""What the core says of a wall's document, told beside the entries it is about."""

import re
from dataclasses import replace

from catalog.core.ground.declared import Document, read_fields
from catalog.core.ground.document_reader import DocumentError, DocumentProblem, Reader
from catalog.core.ground.units import BareLengthUnit
from catalog.core.materials.specs import ROLES
from jobs.core.measure.dimension_holds import dimensions_of
from jobs.core.measure.site_document import check_taken
from jobs.core.measure.site_measurements import SiteMeasurements
from jobs.core.measure.survey import SurveyError
from jobs.core.measure.wall_spec import WallSpec
from jobs.walls.pages.conditions import is_shown
from jobs.walls.pages.entries import WallEntries
from jobs.walls.pages.labels import LABELS, ROW_NAMES, ROWS
from jobs.walls.pages.site_entries import of_piece, offsets_typed
from jobs.walls.pages.site_labels import LEAN_NAMES, OFFSET_NAMES, ROOM
from jobs.walls.services.compute_limits import TooMuchAtOnce
from jobs.walls.services.walls import wall_from_document
from quoting.platform.pages.entry_form import sentence
from quoting.platform.pages.error_summary import NotSaved, wrong_of_entries

# Entry -> what is wrong with it. "" and a row such as "pieces-0" hold what is about no one entry.
Errors = dict[str, list[str]]

_ROW = re.compile(r"(pieces|openings|trims|height|left\.layers|right\.layers)\[(\d+)\](?:\.([\w\[\].]+))?")
_OF_A_PIECE = re.compile(r"pieces\[(\d+)\]\.(readings|leans)(?:\[(\d+)\](?:\.(\w+))?)?")
_LEAN_ENTRIES = {name: entry for entry, name in LEAN_NAMES.items()}
_OFFSET_ENTRIES = {name: entry for entry, name in OFFSET_NAMES.items()}
_POINTS = {"points": "x1", "points[0]": "x1", "points[1]": "x2", "points[2]": "x3"}
_STANDS_AT = {
    "shape": "way",
    "left.level": "left-level",
    "right.level": "right-level",
    "left.painted": "left-painted",
    "right.painted": "right-painted",
    "ends.start": "start_end",
    "ends.end": "end_end",
    "ends.studs": "end_studs",
    "casing": "casing_legs",
    "room": "room_first",
    **{f"room.{name}": entry for entry, name in ROOM.items()},
    **{f"casing.{name}": f"casing_{name}" for name in ("legs", "head", "reveal", "faces")},
    **_POINTS,
}


def spec_of(document: Document, unit: BareLengthUnit) -> WallSpec:
    """The posted wall, with the marks of those entries alone that are dimensions of this wall as it now is."""
    spec = wall_from_document(document | {"marks": []}, unit)
    dimensions = set(dimensions_of(spec))
    reader = Reader({"marks": [mark for mark in document["marks"] if mark["dimension"] in dimensions]})
    marks = read_fields(SiteMeasurements, reader)["marks"]
    marked = replace(spec, taken=replace(spec.taken, marks=marks))
    check_taken(marked, Reader(document))
    return marked


def errors_of(error: DocumentError, entries: WallEntries) -> Errors:
    errors: Errors = {}
    for complaint in error.complaints:
        entry = entry_of(complaint.path, entries)
        errors.setdefault(entry, []).append(_not_chosen(entry, entries) or _sentence(entry, complaint))
    return errors


def survey_complaint(error: SurveyError, wall_key: str) -> DocumentError:
    """A wall's own complaint; its field begins with the key of the wall, unless it is about the wall as a whole."""
    if isinstance(error, TooMuchAtOnce):
        return DocumentError.at("", error.reason)
    return DocumentError.at(error.field.removeprefix(f"{wall_key}."), error.reason)


def entry_of(path: str, entries: WallEntries) -> str:
    match = _ROW.match(path)
    if path.startswith("kit"):
        return _kit_entry(path, entries)
    if path.startswith("offsets") or _OF_A_PIECE.match(path):
        return _survey_entry(path, entries)
    if match is None:
        entry = _STANDS_AT.get(path, path)
        if entry == "height" and entries.one["height_way"] == "stations":
            return "height_way"
        return entry if entry in entries.one else _face_entry(entry)
    rows = {"height": "stations"}.get(match[1], match[1].replace(".", "-"))
    place = f"{rows}-{match[2]}"
    if int(match[2]) >= len(entries.rows[rows]):
        return ""
    leaf = _STANDS_AT.get(match[3] or "", match[3] or "")
    row = entries.rows[rows][int(match[2])]
    return f"{place}-{leaf}" if leaf in row and is_shown(rows, row, leaf) else place


def _survey_entry(path: str, entries: WallEntries) -> str:
    """Readings and leans stand under their piece in a document and in lists of their own here."""
    of = _OF_A_PIECE.match(path)
    if of is None:
        point = re.match(r"offsets\.points\[(\d+)\](?:\.(\w+))?", path)
        places = offsets_typed(entries.rows["offsets"])
        if point is None or int(point[1]) >= len(places):
            return "offsets_tolerance"
        row, leaf = f"offsets-{places[int(point[1])]}", _OFFSET_ENTRIES.get(point[2] or "", "")
        return f"{row}-{leaf}" if leaf else row
    places = of_piece(entries.rows[of[2]], int(of[1]))
    if of[3] is None or int(of[3]) >= len(places):
        return f"pieces-{of[1]}" if int(of[1]) < len(entries.rows["pieces"]) else ""
    place = places[int(of[3])]
    row, leaf = f"{of[2]}-{place}", of[4] or ""
    leaf = _LEAN_ENTRIES.get(leaf, leaf) if of[2] == "leans" else leaf
    shown = leaf in ROWS[of[2]] and is_shown(of[2], entries.rows[of[2]][place], leaf)
    return f"{row}-{leaf}" if shown else row


def _kit_entry(path: str, entries: WallEntries) -> str:
    """The kit names its materials under their role: kit.tape, kit.board_screw[1]."""
    match = re.fullmatch(r"kit\.(.*?)(?:\[(\d+)\])?", path, re.DOTALL)
    role, nth = (match[1], int(match[2] or 0)) if match else ("", 0)
    places = [place for place, row in enumerate(entries.rows["kit"]) if row["role"] == role and any(row.values())]
    if nth >= len(places):
        return ""
    return f"kit-{places[nth]}-{'instead' if role in ROLES else 'role'}"


def _face_entry(path: str) -> str:
    # The survey calls the layers of a face left_layers, the document left.layers.
    match = re.match(r"(left|right)[._](?:layers)?", path)
    return f"{match[1]}-level" if match else ""


def _not_chosen(entry: str, entries: WallEntries) -> str:
    """Nothing is typed in the kit: of what was not chosen from its lists there is no more to say."""
    rows, _, rest = entry.partition("-")
    place, _, leaf = rest.partition("-")
    if rows != "kit" or entries.rows["kit"][int(place)][leaf]:
        return ""
    return f"{LABELS[leaf]}: choose one, or remove the row."


def _sentence(entry: str, complaint: DocumentProblem) -> str:
    if not entry:
        return sentence("", complaint) if not complaint.path else sentence(complaint.path, complaint)
    leaf = entry.rpartition("-")[2]
    if leaf.isdigit():
        return sentence(f"{ROW_NAMES[entry.rpartition('-')[0]]} {int(leaf) + 1}", complaint)
    return sentence(LABELS[leaf], complaint)


PAGE_ORDER = (
    *("name", "measured_on", "pieces", "height", "top", "height_way", "stations", "openings"),
    *("left-level", "left-painted", "left-layers", "right-level", "right-painted", "right-layers"),
    *("track", "stud", "stud_depth", "stud_spacing", "insulated", "start_end", "end_end", "end_studs", "trims"),
    *("tape_accuracy", "readings", "leans", *ROOM, "offsets_tolerance", "offsets", "kit"),
)


def not_saved_of(errors: Errors, lead: str) -> NotSaved | None:
    words = {entry: [f"{_row_of(entry)}{text}" for text in sentences] for entry, sentences in errors.items()}
    return NotSaved(tuple(wrong_of_entries(words, PAGE_ORDER)), lead) if words else None


def _row_of(entry: str) -> str:
    of_row = re.fullmatch(r"(.+)-(\d+)-\w+", entry)
    return f"{ROW_NAMES[of_row[1]]} {int(of_row[2]) + 1}: " if of_row else ""
