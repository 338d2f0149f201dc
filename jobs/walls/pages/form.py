"""The wall's form as a page shows it: every entry with its label, what was typed and what is wrong with it."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from catalog.core.materials.specs import ROLES
from catalog.models import Material
from jobs.core.measure.curve import FACES, Face
from jobs.walls.pages.conditions import condition_of, is_shown, kit_groups
from jobs.walls.pages.entries import COPIED, OFFSETS_AT_ONCE, Row, WallEntries, new_row
from jobs.walls.pages.form_errors import Errors
from jobs.walls.pages.labels import (
    HINTS,
    MAX_ROWS,
    OPTIONS,
    OWN_LINES,
    ROW_NAMES,
    ROWS,
    TICKS,
    Options,
    label_of,
    options_with,
)
from jobs.walls.pages.lines import line_words, open_lines, row_words, way_words
from jobs.walls.pages.marks import MARKED, options_of
from jobs.walls.pages.site_labels import MARK, ROOM, START

MATERIAL_ENTRIES = {"track": "track", "stud": "stud", "board": "board", "material": "trim"}
CASING_ENTRIES = {"casing_legs": "no casing", "casing_head": "of the same profile"}
# Choices among the pieces, and how the first is called.
NUMBERED = {"of_piece": "piece 1", "room_joint": "the end of piece 1"}
Offered = dict[str, Options]


@dataclass(frozen=True)
class MarkChoice:
    """How the dimension of an entry is known, chosen beside it."""

    id: str
    value: str
    options: Options


@dataclass(frozen=True)
class Entry:
    """kind: "text", "choice" or "tick".

    when, words: the entry beside it that is asked, and with which words of it this one is shown. groups: of a choice
    among the materials of a role. numbers: the list whose rows are chosen among, and how the first is called.
    """

    id: str
    label: str
    kind: str
    value: str
    options: Options
    hint: str
    errors: tuple[str, ...]
    wide: bool
    mark: MarkChoice | None = None
    when: str = ""
    words: str = ""
    is_hidden: bool = False
    groups: tuple[tuple[str, str, Options], ...] = ()
    numbers: str = ""
    first_words: str = ""


@dataclass(frozen=True)
class RowOfEntries:
    """nth: its number; for the row that is no row yet, what the browser puts a number for. words: of its line."""

    id: str
    name: str
    nth: str
    words: str
    entries: tuple[Entry, ...]
    errors: tuple[str, ...]
    is_open: bool
    is_blank: bool = False
    way: str = ""
    most: int = 0
    copies: bool = False
    role: str = ""

    @property
    def title(self) -> str:
        return f"{self.name} {self.nth}"

    @property
    def figures(self) -> tuple[Entry, ...]:
        """Of a piece: what is typed of it each time."""
        result = [entry for entry in self.entries if entry not in self.given]
        return tuple(sorted(result, key=lambda entry: entry.id.endswith("-turn")))

    @property
    def given(self) -> tuple[Entry, ...]:
        """Of a piece: how it is given, and what is seldom said."""
        return tuple(entry for entry in self.entries if entry.id.rpartition("-")[2] in ("way", "kink", "measured_on"))


@dataclass(frozen=True)
class FaceOfForm:
    face: Face
    level: Entry
    painted: Entry
    layers: tuple[RowOfEntries, ...]


@dataclass(frozen=True)
class WallForm:
    """rows: of each list, last the one that is no row yet. words: of the lines while they are closed."""

    one: dict[str, Entry]
    rows: dict[str, tuple[RowOfEntries, ...]]
    words: dict[str, str]
    open: frozenset[str]
    errors: tuple[str, ...]
    error_count: int
    offsets_at_once = OFFSETS_AT_ONCE

    @property
    def by_stations(self) -> bool:
        return self.one["height_way"].value == "stations"

    @property
    def has_offsets(self) -> bool:
        return len(self.rows["offsets"]) > 1

    @property
    def start(self) -> tuple[Entry, ...]:
        """Where pieces fitted to offsets start: kept with them and not typed."""
        return tuple(self.one[name] for name in START)

    @property
    def room(self) -> tuple[Entry, ...]:
        """What ties the wall to the building."""
        return tuple(self.one[name] for name in ROOM)

    @property
    def faces(self) -> tuple[FaceOfForm, ...]:
        return tuple(
            FaceOfForm(face, self.one[f"{face}-level"], self.one[f"{face}-painted"], self.rows[f"{face}-layers"])
            for face in FACES
        )


def offered_materials() -> Offered:
    kinds = {*MATERIAL_ENTRIES.values(), *(kind for kind, _ in ROLES.values())}
    rows = Material.objects.filter(active=True, kind__in=kinds).order_by("name", "code")
    offered: dict[str, list[tuple[str, str]]] = {kind: [] for kind in kinds}
    for kind, code, name in rows.values_list("kind", "code", "name"):
        offered[kind].append((code, f"{name} ({code})"))
    return {kind: tuple(options) for kind, options in offered.items()}


def wall_form(
    entries: WallEntries, errors: Errors, offered: Offered, *, base: WallEntries | None = None, more_open: str = ""
) -> WallForm:
    """base: what the form was opened with, for one that comes back with what was typed. more_open: a line to open."""
    is_open = open_lines(entries, errors, base) | {more_open}
    find = EntryFinder(entries, errors, offered)
    return WallForm(
        {name: find.entry(name, value) for name, value in entries.one.items()},
        {name: tuple(find.rows(name, is_open)) for name in ROWS},
        line_words(entries, offered),
        is_open,
        tuple(errors.get("", ())),
        sum(len(error) for error in errors.values()),
    )


@dataclass(frozen=True)
class EntryFinder:
    entries: WallEntries
    errors: Errors
    offered: Offered

    def rows(self, name: str, is_open: frozenset[str]) -> Iterator[RowOfEntries]:
        for place, row in enumerate(self.entries.rows[name]):
            row_id = f"{name}-{place}"
            first = name == "pieces" and place == 0
            yield self._row(name, row_id, str(place + 1), row, is_open=first or row_id in is_open)
        blank = self._row(name, f"{name}-__n__", "__nth__", new_row(name), is_open=True)
        yield replace(blank, is_blank=True, words="", most=MAX_ROWS[name], copies=name in COPIED)

    def _row(self, name: str, row_id: str, nth: str, row: Row, *, is_open: bool) -> RowOfEntries:
        shown = tuple(self.entry(f"{row_id}-{leaf}", row[leaf], name, row) for leaf in ROWS[name])
        sentences, way = tuple(self.errors.get(row_id, ())), way_words(row) if name == "pieces" else ""
        return RowOfEntries(
            row_id,
            ROW_NAMES[name],
            nth,
            row_words(name, row),
            shown,
            sentences,
            is_open,
            way=way,
            role=row.get("role", ""),
        )

    def entry(self, entry_id: str, value: str, rows: str = "", row: Row | None = None) -> Entry:
        leaf = entry_id.rpartition("-")[2]
        result = _entry(entry_id, value, self._options(leaf, rows), self.errors)
        result = replace(result, mark=self._mark(entry_id, leaf, rows, row or {}))
        condition = condition_of(rows, leaf)
        if condition:
            hidden = not is_shown(rows, row if row is not None else self.entries.one, leaf)
            result = replace(result, when=condition[0], words=" ".join(condition[1]), is_hidden=hidden)
        if leaf == "instead":
            groups = kit_groups(self.offered)
            of_role = {code for role, _, among in groups for code, _ in among if role == (row or {}).get("role")}
            stray = () if value in of_role or not value else ((value, value),)
            result = replace(result, kind="choice", options=(("", "choose one"), *stray), groups=groups)
        return replace(result, numbers="pieces", first_words=NUMBERED[leaf]) if leaf in NUMBERED else result

    def _options(self, leaf: str, rows: str) -> Options:
        numbers = [str(number) for number in range(1, len(self.entries.rows["pieces"]) + 1)]
        if leaf == "of_piece":
            return tuple((number, f"piece {number}") for number in numbers)
        if leaf == "room_joint":
            return (("", "its end"), *((number, f"the end of piece {number}") for number in numbers[:-1]))
        return _options(leaf, rows, self.offered)

    def _mark(self, entry_id: str, leaf: str, rows: str, row: Row) -> MarkChoice | None:
        if entry_id == "height":
            return MarkChoice(f"height{MARK}", self.entries.height_mark, options_of(self.entries.height_mark))
        if leaf not in MARKED.get(rows, ()):
            return None
        # Of an entry that was not shown nothing came back; shown again it is as one just entered.
        value = row.get(f"{leaf}{MARK}", "measured")
        return MarkChoice(f"{entry_id}{MARK}", value, options_of(value))


def _entry(entry_id: str, value: str, options: Options, errors: Errors) -> Entry:
    leaf = entry_id.rpartition("-")[2]
    kind = "tick" if entry_id in TICKS or leaf in TICKS else "choice" if options else "text"
    return Entry(
        entry_id,
        label_of(entry_id),
        kind,
        value,
        options_with(options, value) if kind == "choice" else (),
        HINTS.get(leaf, ""),
        tuple(errors.get(entry_id, ())),
        entry_id == "name"
        or leaf
        in ("way", "board", "track", "stud", "material", "measured_on", "application", "height_way", "role", "instead"),
    )


def _options(leaf: str, rows: str, offered: Offered) -> Options:
    if leaf in CASING_ENTRIES:
        return (("", CASING_ENTRIES[leaf]), *offered["trim"])
    if leaf in MATERIAL_ENTRIES:
        return offered[MATERIAL_ENTRIES[leaf]]
    if leaf == "measured_on" and rows in OWN_LINES:
        return OPTIONS["own_line"]
    return OPTIONS.get(leaf, ())


def first_entries(offered: Offered, thinnest_board: str) -> WallEntries:
    """A new wall to start from: one arc, and two layers of the thinnest board on each face."""
    entries = WallEntries()
    entries.change("add-pieces")
    entries.height_mark = "measured"
    entries.one |= {
        "measured_on": "convex_framing",
        "height_way": "level",
        "top": "ceiling",
        "start_end": "free",
        "end_end": "free",
        "end_studs": "1",
        "room_side": "left",
        "left-level": "4",
        "right-level": "4",
        "left-painted": "yes",
        "right-painted": "yes",
        "track": _first(offered["track"]),
        "stud": _first(offered["stud"]),
    }
    for face in ("left", "right"):
        for _ in range(2):
            entries.change(f"add-{face}-layers")
        for row in entries.rows[f"{face}-layers"]:
            row["board"] = thinnest_board
    return entries


def thinnest_board() -> str:
    """Common practice: two thin layers on a curve, never one alone."""
    boards = Material.objects.filter(active=True, kind="board", facts__name="thickness_mm")
    row: Row | None = boards.order_by("facts__value", "code").values("code").first()
    return row["code"] if row else ""


def _first(options: Options) -> str:
    return options[0][0] if options else ""
