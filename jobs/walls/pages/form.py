"""The wall's form as a page shows it: every entry with its label, what was typed and what is wrong with it."""

from dataclasses import dataclass, replace

from catalog.core.materials.specs import ROLES
from catalog.models import Material
from jobs.core.measure.curve import FACES, Face
from jobs.walls.pages.entries import Row, WallEntries
from jobs.walls.pages.form_errors import Errors, is_shown
from jobs.walls.pages.labels import (
    HINTS,
    OPTIONS,
    OWN_LINES,
    ROW_NAMES,
    ROWS,
    TICKS,
    Options,
    label_of,
    options_with,
)
from jobs.walls.pages.marks import options_of
from jobs.walls.pages.site_labels import MARK, ROOM, ROOM_CHOICES, START

MATERIAL_ENTRIES = {"track": "track", "stud": "stud", "board": "board", "material": "trim"}
CASING_ENTRIES = {"casing_legs": "no casing", "casing_head": "of the same profile"}
Offered = dict[str, Options]


@dataclass(frozen=True)
class MarkChoice:
    """How the dimension of an entry is known, chosen beside it."""

    id: str
    value: str
    options: Options


@dataclass(frozen=True)
class Entry:
    """kind: "text", "choice" or "tick". redraws: choosing it changes which entries are shown."""

    id: str
    label: str
    kind: str
    value: str
    options: Options
    hint: str
    errors: tuple[str, ...]
    redraws: bool
    wide: bool
    mark: MarkChoice | None = None


@dataclass(frozen=True)
class RowOfEntries:
    id: str
    title: str
    entries: tuple[Entry, ...]
    errors: tuple[str, ...]
    is_first: bool
    is_last: bool


@dataclass(frozen=True)
class FaceOfForm:
    face: Face
    level: Entry
    painted: Entry
    layers: tuple[RowOfEntries, ...]


@dataclass(frozen=True)
class WallForm:
    one: dict[str, Entry]
    rows: dict[str, tuple[RowOfEntries, ...]]
    errors: tuple[str, ...]
    error_count: int

    @property
    def by_stations(self) -> bool:
        return self.one["height_way"].value == "stations"

    @property
    def start(self) -> tuple[Entry, ...]:
        """Where pieces fitted to offsets start: kept with them and not typed."""
        return tuple(self.one[name] for name in START)

    @property
    def room(self) -> tuple[Entry, ...]:
        """What ties the wall to the building."""
        return tuple(self.one[name] for name in ROOM)

    @property
    def has_room(self) -> bool:
        return any(entry.value for entry in self.room if entry.id not in ROOM_CHOICES)

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


def wall_form(entries: WallEntries, errors: Errors, offered: Offered) -> WallForm:
    pieces = tuple((str(number), f"piece {number}") for number in range(1, len(entries.rows["pieces"]) + 1))

    def shown(entry_id: str, value: str, rows: str = "", row: Row | None = None) -> Entry:
        leaf = entry_id.rpartition("-")[2]
        options = _options(leaf, rows, offered)
        if leaf == "instead":
            options = _kit_options((row or {}).get("role", ""), offered)
        elif leaf == "of_piece":
            options = pieces
        elif leaf == "room_joint":
            options = (("", "its end"), *((number, f"the end of {told}") for number, told in pieces[:-1]))
        mark = _mark(entry_id, entries.height_mark if entry_id == "height" else (row or {}).get(f"{leaf}{MARK}"))
        return replace(_entry(entry_id, value, options, errors), mark=mark)

    return WallForm(
        {name: shown(name, value) for name, value in entries.one.items()},
        {
            name: tuple(
                RowOfEntries(
                    f"{name}-{place}",
                    f"{ROW_NAMES[name]} {place + 1}",
                    tuple(
                        shown(f"{name}-{place}-{leaf}", row[leaf], name, row)
                        for leaf in ROWS[name]
                        if is_shown(name, row, leaf)
                    ),
                    tuple(errors.get(f"{name}-{place}", ())),
                    place == 0,
                    place + 1 == len(rows),
                )
                for place, row in enumerate(rows)
            )
            for name, rows in entries.rows.items()
        },
        tuple(errors.get("", ())),
        sum(len(told) for told in errors.values()),
    )


def _mark(entry_id: str, value: str | None) -> MarkChoice | None:
    return None if value is None else MarkChoice(f"{entry_id}{MARK}", value, options_of(value))


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
        leaf in ("way", "height_way", "role", "head", "casing_legs", "reading_way"),
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


def _kit_options(role: str, offered: Offered) -> Options:
    if role not in ROLES:
        return (("", "say first what it is used as"),)
    return (("", "choose one"), *offered[ROLES[role][0]])


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
