"""A wall's form: its parts as Django forms over what is typed, the wall's document they make, and what is wrong."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from catalog.core.ground.declared import Document, read_fields, write
from catalog.core.ground.document_reader import DocumentError, DocumentProblem, Reader
from catalog.core.ground.units import BareLengthUnit
from catalog.core.materials.specs import ROLES
from catalog.models import Material
from jobs.core.measure.dimension_holds import dimensions_of
from jobs.core.measure.site_document import check_taken
from jobs.core.measure.site_measurements import SiteMeasurements
from jobs.core.measure.survey import SurveyError
from jobs.core.measure.wall_spec import WallSpec
from jobs.walls.pages.form.build_forms import KitForm
from jobs.walls.pages.form.form_lines import line_words
from jobs.walls.pages.form.form_parts import (
    LEANS,
    LINES,
    LISTS,
    OPENINGS,
    PIECES,
    POINTS,
    READINGS,
    ROW,
    STATIONS,
    SURVEY,
    TRIMS,
    Part,
    RowsOf,
    Section,
    part_of,
    part_of_list,
    sections,
)
from jobs.walls.pages.form.marks import MARK, marks_of_row
from jobs.walls.pages.form.part_form import Options, PartForm, Typed
from jobs.walls.pages.form.survey_forms import SurveyForm
from jobs.walls.pages.form.typed_wall import TypedWall, of_piece
from jobs.walls.services.compute_limits import TooMuchAtOnce
from jobs.walls.services.walls import wall_from_document
from quoting.platform.pages.entry_form import sentence
from quoting.platform.pages.error_summary import NotSaved, WrongField

Offered = Mapping[str, Options]
Errors = dict[str, list[str]]
"""Entry -> what is wrong with it. "" and a row such as "pieces-0" hold what is about no one entry."""
NOTHING = ("none", "not taped", "the firm's kit")
_OF_A_PIECE = re.compile(r"pieces\[(\d+)\]\.(readings|leans)(?:\[(\d+)\])?\.?(.*)")
_IN_A_LIST = re.compile(r"([a-z.]+)\[(\d+)\]\.?(.*)")


@dataclass(frozen=True)
class ShownRow:
    """A row of a list. is_blank: none yet, what the browser adds rows from. nth: its number. is_only: the one piece.

    was: its place among the stored ones; unsent: what else a closed row sends. is_given_open: of a piece, whether how
    it is measured is open.
    """

    id: str
    nth: str
    form: PartForm
    errors: list[str]
    is_open: bool
    is_blank: bool = False
    was: str = ""
    unsent: tuple[tuple[str, str], ...] = ()
    is_given_open: bool = True
    is_only: bool = False


@dataclass(frozen=True)
class ShownPart:
    """is_bare: nothing of it is entered, and its name alone is shown."""

    part: Part
    words: str
    is_open: bool
    is_bare: bool
    sections: tuple[tuple[Section, PartForm | None, tuple[tuple[RowsOf, list[ShownRow]], ...]], ...] = ()


class WallForm:
    """typed: what stands in it. base: what it was opened with. opened: parts and rows that were opened in it."""

    def __init__(self, typed: TypedWall, offered: Offered, base: TypedWall | None = None, opened: str = "") -> None:
        self.typed, self.offered, self.base, self.opened = typed, offered, base or typed, opened
        self.errors: Errors = {}
        self._forms: dict[tuple[str, type[PartForm]], PartForm] = {}

    @cached_property
    def pieces(self) -> int:
        return len(self.typed.rows("pieces"))

    def form(self, section: Section) -> PartForm | None:
        if section.form is None:
            return None
        key = (section.prefix, section.form)
        if key not in self._forms:
            self._forms[key] = self._made(section.form, section.prefix, self.typed.texts)
        return self._forms[key]

    def row(self, rows: RowsOf, place: int) -> PartForm:
        key = (f"{rows.name}-{place}", rows.form)
        if key not in self._forms:
            self._forms[key] = self._made(rows.form, key[0], self.typed.texts)
        return self._forms[key]

    def _made(self, form: type[PartForm], prefix: str, texts: Typed | None) -> PartForm:
        return form(texts, prefix=prefix or None, offered=self.offered, pieces=self.pieces)

    def rows_of(self, rows: RowsOf) -> list[PartForm]:
        return [self.row(rows, place) for place in range(len(self.typed.rows(rows.name)))]

    @cached_property
    def lines(self) -> list[ShownPart]:
        words = line_words(self.typed, self.offered)
        return [self._shown(part, words[part.key]) for part in LINES]

    def line(self, key: str) -> ShownPart:
        return next(line for line in self.lines if line.part.key == key)

    @cached_property
    def survey_form(self) -> PartForm:
        form = self.form(SURVEY.sections[0])
        assert form is not None
        height: Any = form.fields["height"]
        height.asked, height.words, height.off = "height_way", "level", not self.is_level
        return form

    @property
    def is_level(self) -> bool:
        return self.typed.texts.get("height_way") != "stations"

    @property
    def pieces_shown(self) -> list[ShownRow]:
        return self._rows_shown(PIECES)

    def _shown(self, part: Part, words: str) -> ShownPart:
        is_wrong = any(part_of(entry) == part.key or self._list_part(entry) == part.key for entry in self.errors)
        is_open = part.key in self.typed.sent or part.key == self.opened or is_wrong
        is_bare = words in NOTHING
        if not is_open:
            return ShownPart(part, words, False, is_bare)
        shown = tuple(
            (section, self.form(section), tuple((rows, self._rows_shown(rows)) for rows in section.rows))
            for section in part.sections
        )
        return ShownPart(part, words, True, is_bare, shown)

    @staticmethod
    def _list_part(entry: str) -> str:
        name = entry.rpartition("-")[0]
        return part_of_list(name) if name in LISTS else ""

    def _rows_shown(self, rows: RowsOf) -> list[ShownRow]:
        shown = [self._row_shown(rows, place, row) for place, row in enumerate(self.typed.rows(rows.name))]
        at = f"{rows.name}-__n__"
        return [*shown, ShownRow(at, "__nth__", self._made(rows.form, at, None), [], True, is_blank=True)]

    def _row_shown(self, rows: RowsOf, place: int, row: Typed) -> ShownRow:
        at, is_piece = f"{rows.name}-{place}", rows is PIECES
        wrong = [entry for entry in self.errors if entry == at or entry.startswith(f"{at}-")]
        is_asked = self.opened in (at, f"{at}-given")
        form = self.row(rows, place)
        if is_piece:
            is_empty = not any(row.get(name) for name in rows.form.marked)
            is_open = bool(wrong) or is_asked or place == 0 or is_empty
            is_given_open = self.opened == f"{at}-given" or any(
                entry.rpartition("-")[2] in form.GIVEN for entry in wrong
            )
        else:
            is_new = row not in self.base.rows(rows.name)
            is_open, is_given_open = bool(wrong) or is_asked or is_new or len(self.typed.rows(rows.name)) == 1, True
        return ShownRow(
            at,
            str(place + 1),
            form,
            self.errors.get(at, []),
            is_open,
            was=row.get("was", ""),
            unsent=self._unsent(row, form, is_open, is_given_open) if is_piece else (),
            is_given_open=is_given_open,
            is_only=is_piece and self.pieces == 1,
        )

    def _unsent(self, row: Typed, form: PartForm, is_open: bool, is_given_open: bool) -> tuple[tuple[str, str], ...]:
        """What of a piece is not shown and is not as it was."""
        before, was = self.base.rows("pieces"), row.get("was", "")
        base = before[int(was)] if was.isdecimal() and int(was) < len(before) else {}
        shown = {field.name for field in form.figures()} if is_open else set()
        if is_open and is_given_open:
            shown |= {field.name for field in (*form.given(), *form.known())}  # type: ignore[attr-defined]
        return tuple(
            (leaf, text) for leaf, text in row.items() if leaf not in {*shown, "was"} and text != base.get(leaf, "")
        )

    @property
    def height_known(self) -> Any:
        return self.survey_form["height" + MARK]

    def document(self, key: str, stored: WallSpec | None, signed: tuple[str, str]) -> Document:
        """As a job file has the wall. stored: for its decisions. signed: who works here, and the day."""
        exact = WallForm(replace(self.typed, texts=self.typed.meant(), exact={}), self.offered)
        return {
            "key": key,
            **exact._written(),
            "marks": list(self._marks(signed)),
            "overrides": [write(override) for override in stored.overrides] if stored else [],
        }

    def _written(self) -> Document:
        document: Document = {}
        for _, section in sections():
            form = self.form(section)
            part = form.document() if form else {}
            if section.prefix in ("left", "right"):
                part["layers"] = [row.document() for row in self.rows_of(section.rows[0])]
            document |= {section.prefix: part or None} if section.prefix else part
        if document.pop("height_way", "") == "stations":
            document["height"] = [row.document() for row in self.rows_of(STATIONS)]
        offsets = self.offsets()
        return document | {
            "pieces": self._pieces(),
            "offsets": offsets if offsets["points"] and "start" in offsets else None,
            "openings": [row.document() for row in self.rows_of(OPENINGS)],
            "trims": [row.document() for row in self.rows_of(TRIMS)],
            "kit": self._kit(),
        }

    def offsets(self) -> Document:
        """As typed; `start` only where pieces were fitted to them."""
        points = [row.document() for row in self.rows_of(POINTS) if row.is_typed()]
        tolerance = next(self.form(section) for part, section in sections() if part.key == "offsets")
        assert tolerance is not None
        return {**tolerance.document(), "points": points}

    def _pieces(self) -> list[Document]:
        pieces = [row.document() for row in self.rows_of(PIECES)]
        for rows in (READINGS, LEANS):
            for row, form in zip(self.typed.rows(rows.name), self.rows_of(rows), strict=True):
                # Of a piece that is not there nothing can be read; the row says so once there is one.
                if (place := of_piece(row)) < len(pieces):
                    pieces[place].setdefault(rows.name, []).append(form.document())
        return pieces

    def _kit(self) -> Document:
        """A role may stand in several rows; a row in which nothing is chosen yet says nothing."""
        kit: dict[str, list[str]] = {}
        for row in self.typed.rows("kit"):
            if row.get("role") or row.get("instead"):
                kit.setdefault(row.get("role", ""), []).append(row.get("instead", ""))
        return kit

    def _marks(self, signed: tuple[str, str]) -> Iterator[Document]:
        """Of every entry that may be a dimension; which of them are is the core's to say."""
        texts = self.typed.texts
        if self.is_level:
            yield from marks_of_row(texts, "", ("height",), signed)
        for rows in (PIECES, *(() if self.is_level else (STATIONS,)), OPENINGS):
            for place, row in enumerate(self.typed.rows(rows.name)):
                yield from marks_of_row(row, f"{rows.path}[{place}].", rows.form.marked, signed)

    def complain(self, error: DocumentError) -> None:
        for complaint in error.complaints:
            entry = self.entry_at(complaint.path)
            self.errors.setdefault(entry, []).append(self._sentence(entry, complaint))
        for entry, sentences in self.errors.items():
            form, leaf = self._field(entry)
            if form is not None and leaf:
                form.errors[leaf] = form.error_class(sentences)

    def entry_at(self, path: str) -> str:
        """The entry a place of the wall's document is about; a row where no entry of it is, empty for none."""
        path = re.sub(r"^(left|right)_layers", r"\1.layers", path)
        of = _OF_A_PIECE.fullmatch(path)
        if of and (places := [at for at, row in enumerate(self.typed.rows(of[2])) if of_piece(row) == int(of[1])]):
            return self._in_row(LISTS[of[2]], places[int(of[3])], of[4]) if int(of[3] or 99) < len(places) else ""
        row = _IN_A_LIST.fullmatch(path)
        rows = next((rows for rows in LISTS.values() if row and rows.path == row[1]), None)
        if row and rows:
            return self._in_row(rows, self._place(rows, int(row[2])), row[3])
        if path.startswith("kit"):
            return self._in_kit(path)
        if path == "height" and not self.is_level:
            return "height_way"
        return next(filter(None, (self._in_section(section, path) for _, section in sections())), "")

    def _place(self, rows: RowsOf, nth: int) -> int:
        """Rows of offsets in which nothing is typed are passed over."""
        forms = self.rows_of(rows)
        filled = [at for at, form in enumerate(forms) if rows is not POINTS or form.is_typed()]
        return filled[nth] if nth < len(filled) else -1

    def _in_row(self, rows: RowsOf, place: int, leaf: str) -> str:
        if not 0 <= place < len(self.typed.rows(rows.name)):
            return ""
        entry = self.row(rows, place).entry_at(leaf) if leaf else ""
        return "-".join(filter(None, (rows.name, str(place), entry)))

    def _in_section(self, section: Section, path: str) -> str:
        form = self.form(section)
        if form is None or (section.prefix and path.partition(".")[0] != section.prefix):
            return ""
        entry = form.entry_at(path.partition(".")[2] if section.prefix else path)
        return "-".join(filter(None, (section.prefix, entry))) if entry else ""

    def _in_kit(self, path: str) -> str:
        """The kit names its materials under their role: kit.tape, kit.board_screw[1]."""
        match = re.fullmatch(r"kit\.(.*?)(?:\[(\d+)\])?", path, re.DOTALL)
        role, nth = (match[1], int(match[2] or 0)) if match else ("", 0)
        rows = enumerate(self.typed.rows("kit"))
        places = [place for place, row in rows if row.get("role", "") == role and any(row.values())]
        return f"kit-{places[nth]}-{'instead' if role in ROLES else 'role'}" if nth < len(places) else ""

    def has(self, entry: str) -> bool:
        name, _, place = entry.rpartition("-")
        is_row = name in LISTS and place.isdecimal() and int(place) < len(self.typed.rows(name))
        return is_row or self._field(entry)[0] is not None

    def _field(self, entry: str) -> tuple[PartForm | None, str]:
        match = ROW.fullmatch(entry)
        if match and int(match[2]) < len(self.typed.rows(match[1])):
            form = self.row(LISTS[match[1]], int(match[2]))
            return (form, match[3]) if match[3] in form.fields else (None, "")
        for _, section in sections():
            single, leaf = self.form(section), entry.removeprefix(f"{section.prefix}-")
            if single and leaf in single.fields and single.add_prefix(leaf) == entry:
                return single, leaf
        return None, ""

    def _sentence(self, entry: str, complaint: DocumentProblem) -> str:
        form, leaf = self._field(entry)
        if form is None:
            name, _, place = entry.rpartition("-")
            label = f"{LISTS[name].label} {int(place) + 1}" if name in LISTS else complaint.path
            return sentence(label, complaint)
        label = str(form.fields[leaf].label)
        is_unchosen = isinstance(form, KitForm) and not form.typed(leaf)
        return f"{label}: {form.ABSENT}." if is_unchosen else sentence(label, complaint)

    def not_saved(self, lead: str) -> NotSaved | None:
        """Each wrong entry in the order of the page, the first in focus."""
        if not self.errors:
            return None
        wrong = [WrongField(text) for text in self.errors.get("", ())]
        wrong += [
            WrongField(f"{self._row_of(at)}{text}", at) for at in self._in_order() for text in self.errors.get(at, ())
        ]
        form, leaf = self._field(next((field.anchor for field in wrong if field.anchor), ""))
        if form is not None:
            form.fields[leaf].widget.attrs["autofocus"] = True
        return NotSaved(tuple(wrong), lead)

    def _in_order(self) -> Iterator[str]:
        for _, section in sections():
            form = self.form(section)
            yield from (form.add_prefix(name) for name in form.fields if name != "height") if form else ()
            for rows in section.rows:
                for at, row in ((f"{rows.name}-{place}", form) for place, form in enumerate(self.rows_of(rows))):
                    yield at
                    yield from (row.add_prefix(name) for name in row.fields)
            yield from ("height",) if section.form is SurveyForm else ()

    @staticmethod
    def _row_of(entry: str) -> str:
        match = ROW.fullmatch(entry)
        return f"{LISTS[match[1]].label} {int(match[2]) + 1}: " if match else ""


def offered_materials() -> Offered:
    kinds = {"track", "stud", "board", "trim", *(kind for kind, _ in ROLES.values())}
    rows = Material.objects.filter(active=True, kind__in=kinds).order_by("name", "code")
    offered: dict[str, list[tuple[str, str]]] = {kind: [] for kind in kinds}
    for kind, code, name in rows.values_list("kind", "code", "name"):
        offered[kind].append((code, f"{name} ({code})"))
    return {kind: tuple(options) for kind, options in offered.items()}


def spec_of(document: Document, unit: BareLengthUnit) -> WallSpec:
    """The posted wall, with the marks of those entries alone that are dimensions of this wall as it now is."""
    spec = wall_from_document(document | {"marks": []}, unit)
    dimensions = set(dimensions_of(spec))
    reader = Reader({"marks": [mark for mark in document["marks"] if mark["dimension"] in dimensions]})
    marks = read_fields(SiteMeasurements, reader)["marks"]
    marked = replace(spec, taken=replace(spec.taken, marks=marks))
    check_taken(marked, Reader(document))
    return marked


def survey_complaint(error: SurveyError, wall_key: str) -> DocumentError:
    """A wall's own complaint; its field begins with the key of the wall, unless it is about the wall as a whole."""
    if isinstance(error, TooMuchAtOnce):
        return DocumentError.at("", error.reason)
    return DocumentError.at(error.field.removeprefix(f"{wall_key}."), error.reason)
