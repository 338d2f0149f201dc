"""A wall's form and the wall's document, each made from the other.

An entry is named by its place in the form: `name`, `left-level`, `pieces-0-chord`. Nothing is judged here: the
document goes to the core's reader, and its complaints come back to the entry they are about.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from django.http import QueryDict

from catalog.core.ground.declared import Document, write
from catalog.core.ground.units import System
from jobs.core.measure.wall_document import write_wall
from jobs.core.measure.wall_spec import WallSpec
from jobs.walls.pages.exact_entries import Exact, meant, read, shorten
from jobs.walls.pages.labels import LENGTHS, MAX_ROWS, NO_ARC, ROWS, SINGLES, WAYS
from jobs.walls.pages.marks import (
    MARKED,
    NAMES,
    PIECE_DIMENSIONS,
    POINTS,
    mark_of_height,
    marks_of_rows,
    new_marks,
    said_of,
    stored_mark,
)
from jobs.walls.pages.site_entries import (
    follow,
    lean_rows,
    offset_entries,
    offsets_fitted,
    reading_rows,
    room_entries,
    room_given,
    with_readings,
)
from jobs.walls.pages.site_labels import MARK, START
from jobs.walls.pages.site_labels import NEW_ROWS as NEW_SITE_ROWS
from jobs.walls.pages.unit_text import typed

Row = dict[str, str]
_LIST = "|".join(ROWS)
_ROW = re.compile(rf"({_LIST})-(\d{{1,3}})-(\w{{1,20}})", re.ASCII)
_CHANGE = re.compile(rf"(add|remove|up|down)-({_LIST})(?:-(\d{{1,3}}))?")
LONGEST = 2_000
QUARTER_TURN = 90.0
END_ENTRIES = {"start": "start_end", "end": "end_end", "studs": "end_studs"}
OPTIONAL = {
    "pieces": ("kink", "measured_on"),
    "openings": ("sill", "measured_on"),
    "trims": ("bend", "grade", "foot", "returns", "template", "need_by", "application"),
}
NEW_ROWS: dict[str, Row] = {
    "pieces": {"way": "chord_rise", "turn": "left"},
    "openings": {"frame": "flat", "head": "level", "casing_faces": "both"},
    "left-layers": {"direction": "lengthwise", "moisture": "dry"},
    "right-layers": {"direction": "lengthwise", "moisture": "dry"},
    "trims": {"face": "left", "position": "base", "form": "stock"},
    **NEW_SITE_ROWS,
}
HEIGHT_MARK = f"height{MARK}"
OFFSETS_AT_ONCE = 12
# A further layer is most often of the board before it.
COPIED = frozenset({"left-layers", "right-layers"})


@dataclass
class WallEntries:
    """What stands in the form: `one` entry by name, and the rows of each list."""

    one: Row = field(default_factory=lambda: dict.fromkeys(SINGLES, ""))
    rows: dict[str, list[Row]] = field(default_factory=lambda: {name: [] for name in ROWS})
    # How the height of a level ceiling is known; those of rows stand in their rows.
    height_mark: str = ""
    # Who is at work, and the day: under whom a dimension is marked.
    signed: tuple[str, str] = ("the person who saves", "2000-01-01")
    # What figures shown rounded are exactly.
    exact: Exact = field(default_factory=dict)

    def shorten(self, system: System) -> None:
        """Shows what was fitted as a tape would read it."""
        shorten(self.one, START, self.exact, system)
        for row in self.rows["pieces"]:
            shorten(row, (*PIECE_DIMENSIONS, *POINTS), self.exact, system)

    def change(self, wanted: str) -> bool:
        """Add, remove or move a row, as a button of the form asks. False when it asks nothing of the kind."""
        match = _CHANGE.fullmatch(wanted)
        if match is None:
            return False
        rows, place = self.rows[match[2]], int(match[3] or 0)
        if match[1] == "add" and match[2] == "offsets":
            rows.extend(new_row("offsets") for _ in range(min(OFFSETS_AT_ONCE, MAX_ROWS["offsets"] - len(rows))))
        elif match[1] == "add" and len(rows) < MAX_ROWS[match[2]]:
            rows.append(dict(rows[-1]) if rows and match[2] in COPIED else new_row(match[2]))
        elif match[1] == "remove" and place < len(rows):
            del rows[place]
            self._follow(match[2], {place: None} | {n: n - 1 for n in range(place + 1, len(rows) + 1)})
        elif match[1] == "up" and 0 < place < len(rows):
            rows[place - 1], rows[place] = rows[place], rows[place - 1]
            self._follow(match[2], {place: place - 1, place - 1: place})
        elif match[1] == "down" and place + 1 < len(rows):
            rows[place], rows[place + 1] = rows[place + 1], rows[place]
            self._follow(match[2], {place: place + 1, place + 1: place})
        return True

    def _follow(self, moved_list: str, moved: dict[int, int | None]) -> None:
        if moved_list == "pieces":
            for name in ("readings", "leans"):
                self.rows[name] = follow(self.rows[name], moved)

    def document(self, key: str, wall: WallSpec | None) -> Document:
        """As a job file has the wall. wall: the wall as stored, for what this form does not show."""
        texts = meant(self.one, self.exact)
        return {
            "key": key,
            **_filled(self.one, ("measured_on", "track", "stud", "stud_depth", "stud_spacing", "top")),
            "ends": {name: self.one[entry] for name, entry in END_ENTRIES.items() if self.one[entry]},
            "name": self.one["name"],
            "insulated": bool(self.one["insulated"]),
            "pieces": with_readings(
                [_piece(meant(row, self.exact)) for row in self.rows["pieces"]],
                self.rows["readings"],
                self.rows["leans"],
            ),
            **_filled(self.one, ("tape_accuracy",)),
            "offsets": offsets_fitted(texts, self.rows["offsets"]),
            "marks": self._marks(),
            "room": room_given(self.one),
            "height": self._height(),
            "left": self._face("left"),
            "right": self._face("right"),
            "openings": [_opening(row) for row in self.rows["openings"]],
            "trims": [_trim(row) for row in self.rows["trims"]],
            "kit": self._kit(),
            "overrides": [write(override) for override in wall.overrides] if wall else [],
        }

    def _marks(self) -> list[Document]:
        """Of every entry that may be a dimension; which of them are is the core's to say."""
        marks = [*marks_of_rows("pieces", "pieces", self.rows["pieces"], self.signed)]
        if self.one["height_way"] == "stations":
            marks += marks_of_rows("stations", "height", self.rows["stations"], self.signed)
        else:
            marks += mark_of_height(self.height_mark, self.one["height"], self.signed)
        return [*marks, *marks_of_rows("openings", "openings", self.rows["openings"], self.signed)]

    def _height(self) -> Any:
        if self.one["height_way"] == "stations":
            return [{name: row[name] for name in ROWS["stations"]} for row in self.rows["stations"]]
        return self.one["height"]

    def _kit(self) -> Document:
        """A role may stand in several rows; a row in which nothing is chosen yet says nothing."""
        kit: dict[str, list[str]] = {}
        for row in self.rows["kit"]:
            if row["role"] or row["instead"]:
                kit.setdefault(row["role"], []).append(row["instead"])
        return kit

    def _face(self, face: str) -> Document:
        level = self.one[f"{face}-level"]
        return {
            "layers": [_filled(row, ROWS[f"{face}-layers"]) for row in self.rows[f"{face}-layers"]],
            "level": int(level) if level in set("012345") else level or None,
            "painted": bool(self.one[f"{face}-painted"]),
        }


def new_row(name: str) -> Row:
    return dict.fromkeys(ROWS[name], "") | NEW_ROWS.get(name, {}) | new_marks(name)


def _filled(row: Row, names: tuple[str, ...]) -> Document:
    return {name: row[name] for name in names if row[name]}


def _piece(row: Row) -> Document:
    more = _filled(row, OPTIONAL["pieces"])
    way = row["way"]
    if way not in WAYS:
        return {"shape": way or None}
    if way == "straight":
        more.pop("measured_on", None)
        return {"shape": "straight", "length": row["length"], **more}
    if way == "template":
        more |= _filled(row, ("turned", "template"))
        return {"shape": "template", "length": row["length"], "chord": row["chord"], **more}
    arc = {"shape": "arc", **_filled(row, ("turn",)), **more}
    if way == "points":
        figures = [row[name] for name in POINTS]
        arc.pop("turn", None)  # three points say it themselves
        return arc | {"points": [figures[at : at + 2] for at in (0, 2, 4)]}
    arc |= {name: row[name] for name in WAYS[way][1]}
    if way == "corner":
        arc["angle"] = "90"
    return arc | {"major": way.endswith("_major")} if way.startswith("radius_chord") else arc


def _opening(row: Row) -> Document:
    opening = {name: row[name] for name in ("name", "centre_at", "width", "height")}
    opening |= _filled(row, ("sill", "frame", "measured_on"))
    if row["head"] == "arch":
        opening["arch_rise"] = row["arch_rise"]
    if row["casing_legs"]:
        names = {"legs": "casing_legs", "head": "casing_head", "reveal": "casing_reveal", "faces": "casing_faces"}
        opening["casing"] = {name: row[entry] for name, entry in names.items() if row[entry]}
    return opening


def _opening_row(written: Document, system: System) -> Row:
    row = _row("openings", written, system)
    casing = written["casing"] or {}
    return row | {
        "head": "level" if written["arch_rise"] is None else "arch",
        "casing_legs": casing.get("legs", ""),
        "casing_head": casing.get("head") or "",
        "casing_reveal": typed(casing.get("reveal"), system),
        "casing_faces": casing.get("faces", "both"),
    }


def _trim(row: Row) -> Document:
    splices = {"yes": True, "no": False, "": None}.get(row["splices_allowed"], row["splices_allowed"])
    return {
        **{name: row[name] for name in ("name", "face", "position", "material", "form")},
        **_filled(row, OPTIONAL["trims"]),
        "splices_allowed": splices,
        "needs_backing": bool(row["needs_backing"]),
    }


def _is_entry(rows: str, entry: str) -> bool:
    return entry in ROWS[rows] or entry.removesuffix(MARK) in MARKED.get(rows, ())


def entries_from_post(data: Mapping[str, Any]) -> WallEntries:
    """What a form sent; names that are not the form's are passed over."""
    entries = WallEntries()
    texts: dict[str, dict[int, Row]] = {name: {} for name in ROWS}
    for name, value in data.items():
        text = str(value)[: LONGEST + 1].strip()
        match = _ROW.fullmatch(name)
        if name in entries.one:
            entries.one[name] = text
        elif name == HEIGHT_MARK:
            entries.height_mark = text
        elif match and _is_entry(match[1], match[3]) and int(match[2]) < MAX_ROWS[match[1]]:
            texts[match[1]].setdefault(int(match[2]), dict.fromkeys(ROWS[match[1]], ""))[match[3]] = text
    entries.rows = {name: [rows[place] for place in sorted(rows)] for name, rows in texts.items()}
    entries.exact = read(data.getlist("exact") if isinstance(data, QueryDict) else data.get("exact", ()))
    return entries


def entries_of(spec: WallSpec, system: System) -> WallEntries:
    """The form as the stored wall fills it, lengths readable in the firm's units where that is exact."""
    written = write_wall(spec)
    entries = WallEntries()
    entries.one |= {
        "name": spec.name,
        "measured_on": spec.measured_on,
        "track": spec.track,
        "stud": spec.stud,
        "stud_depth": typed(written["stud_depth"], system),
        "stud_spacing": typed(written["stud_spacing"], system),
        "insulated": _tick(spec.insulated),
        "top": spec.top,
        **{entry: str(written["ends"][name]) for name, entry in END_ENTRIES.items()},
        **_heights(entries, written["height"], system),
    }
    for face in ("left", "right"):
        entries.one[f"{face}-level"] = str(written[face]["level"])
        entries.one[f"{face}-painted"] = _tick(written[face]["painted"])
        entries.rows[f"{face}-layers"] = [_row(f"{face}-layers", entry, system) for entry in written[face]["layers"]]
    entries.rows["pieces"] = [piece_row(entry, system) for entry in written["pieces"]]
    entries.one |= offset_entries(written["offsets"], system)[0]
    entries.shorten(system)
    entries.rows["openings"] = [_opening_row(entry, system) for entry in written["openings"]]
    entries.rows["trims"] = [
        _row("trims", entry, system) | {"needs_backing": _tick(entry["needs_backing"])} for entry in written["trims"]
    ]
    entries.rows["kit"] = [{"role": role, "instead": code} for role, codes in written["kit"].items() for code in codes]
    _fill_survey(entries, spec, written, system)
    return entries


def _fill_survey(entries: WallEntries, spec: WallSpec, written: Document, system: System) -> None:
    entries.rows["readings"] = reading_rows(written["pieces"], system)
    entries.rows["leans"] = lean_rows(written["pieces"], system)
    _, entries.rows["offsets"] = offset_entries(written["offsets"], system)
    entries.one |= room_entries(written["room"], system) | {"tape_accuracy": typed(written["tape_accuracy"], system)}
    marks = {marked.dimension: marked.mark for marked in spec.taken.marks}
    for rows, at in (("pieces", "pieces"), ("stations", "height"), ("openings", "openings")):
        for place, row in enumerate(entries.rows[rows]):
            for entry in MARKED[rows]:
                mark = marks.get(f"{at}[{place}].{NAMES.get(entry, entry)}")
                row[f"{entry}{MARK}"] = stored_mark(mark, said_of(row, entry))
    entries.height_mark = stored_mark(marks.get("height"), entries.one["height"])


def _tick(value: bool) -> str:
    return "yes" if value else ""


def _heights(entries: WallEntries, written: Any, system: System) -> Row:
    if not isinstance(written, list):
        return {"height_way": "level", "height": typed(written, system)}
    entries.rows["stations"] = [_row("stations", entry, system) for entry in written]
    return {"height_way": "stations", "height": ""}


def _row(name: str, written: Document, system: System) -> Row:
    return {entry: typed(written.get(entry), system if entry in LENGTHS else None) for entry in ROWS[name]}


def piece_row(written: Document, system: System) -> Row:
    row = _row("pieces", written, system)
    if "points" in written:
        flat = [entry for point in written["points"] for entry in point]
        row |= {name: typed(value, system) for name, value in zip(POINTS, flat, strict=True)}
    return row | {"way": _way(written)}


def _way(written: Document) -> str:
    if written["shape"] in NO_ARC:
        return str(written["shape"])
    if written.get("angle") == QUARTER_TURN:
        return "corner"
    if "points" in written:
        return "points"
    if written.get("major"):
        return "radius_chord_major"
    given = [way for way in WAYS if way not in (*NO_ARC, "corner")]
    held = [way for way in given if all(figure in written for figure in WAYS[way][1])]
    # Whoever gives chord, rise and arc gives chord and rise as well.
    return max(held, key=lambda way: len(WAYS[way][1]))
