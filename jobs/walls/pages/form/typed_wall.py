"""What is typed of a wall: the stored wall as a form says it, and what a form sent in its place.

A form sends the parts that are open in it; of the others the stored wall stands, of a row of pieces as well, which
says by `was` which of them it is.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from django.http import QueryDict

from catalog.core.ground.declared import Document
from catalog.core.ground.units import System
from catalog.models import Material
from jobs.core.measure.wall_document import write_wall
from jobs.core.measure.wall_spec import WallSpec
from jobs.walls.pages.form.exact_entries import Exact, read, shorten
from jobs.walls.pages.form.form_parts import (
    LISTS,
    OPENINGS,
    PARTS,
    PIECES,
    ROW,
    STATIONS,
    part_of,
    part_of_list,
    sections,
)
from jobs.walls.pages.form.marks import MARK, PIECE_FIGURES, POINTS, new_marks, stored_marks
from jobs.walls.pages.form.part_form import LONGEST, Options, Typed
from jobs.walls.pages.form.survey_forms import OffsetsForm

_CHANGE = re.compile(rf"(add|remove|up|down)-({'|'.join(LISTS)})(?:-(\d{{1,3}}))?")
OFFSETS_AT_ONCE = 12
EVERY_PART = tuple(part.key for part in PARTS)


@dataclass
class TypedWall:
    """texts: by the names of entries. exact: what figures shown rounded are exactly. sent: parts a form sent."""

    texts: Typed = field(default_factory=dict)
    exact: Exact = field(default_factory=dict)
    sent: frozenset[str] = frozenset()

    def rows(self, name: str) -> list[Typed]:
        found: dict[int, Typed] = {}
        begins = f"{name}-"
        for entry, text in self.texts.items():
            if entry.startswith(begins) and (match := ROW.fullmatch(entry)) and match[1] == name:
                found.setdefault(int(match[2]), {})[match[3]] = text
        return [found[place] for place in sorted(found)]

    def put(self, name: str, rows: list[Typed]) -> None:
        for entry in [entry for entry in self.texts if (match := ROW.fullmatch(entry)) and match[1] == name]:
            del self.texts[entry]
        self.texts |= {f"{name}-{place}-{leaf}": text for place, row in enumerate(rows) for leaf, text in row.items()}

    def meant(self) -> Typed:
        return (
            {name: self.exact.get((name.rpartition("-")[2], text), text) for name, text in self.texts.items()}
            if self.exact
            else self.texts
        )

    def change(self, wanted: str) -> bool:
        """Add, remove or move a row, as a button of the form asks. False when it asks nothing of the kind."""
        match = _CHANGE.fullmatch(wanted)
        if match is None:
            return False
        name, place = match[2], int(match[3] or 0)
        rows, moved = self.rows(name), {}
        most, copies = LISTS[name].most, LISTS[name].copies
        if match[1] == "add":
            times = OFFSETS_AT_ONCE if name == "offsets-points" else 1
            new = dict(rows[-1]) if rows and copies else new_row(name)
            rows += [dict(new) for _ in range(min(times, most - len(rows)))]
        elif match[1] == "remove" and place < len(rows):
            del rows[place]
            moved = {place: None} | {n: n - 1 for n in range(place + 1, len(rows) + 1)}
        elif (
            match[1] in ("up", "down") and 0 <= (other := place + (1 if match[1] == "down" else -1)) < len(rows) > place
        ):
            rows[place], rows[other] = rows[other], rows[place]
            moved = {place: other, other: place}
        self.put(name, rows)
        if name == "pieces" and moved:
            self.follow(moved)
        self.sent |= {part_of_list(name)}
        return True

    def follow(self, moved: Mapping[int, int | None]) -> None:
        """What was read of a piece goes where that goes."""
        for name in ("readings", "leans"):
            rows = [(row, moved.get(place := of_piece(row), place)) for row in self.rows(name)]
            self.put(name, [row | {"of_piece": str(to + 1)} for row, to in rows if to is not None])

    def shorten(self, system: System) -> None:
        """Shows what was fitted as a tape would read it."""
        start = [f"offsets-{name}" for name in OffsetsForm.START]
        shorten(self.texts, start, self.exact, system)
        pieces = range(len(self.rows("pieces")))
        entries = [f"pieces-{place}-{leaf}" for place in pieces for leaf in (*PIECE_FIGURES, *POINTS)]
        shorten(self.texts, entries, self.exact, system)


def of_piece(row: Typed) -> int:
    number = row.get("of_piece", "")
    return int(number) - 1 if number.isascii() and number.isdigit() and 0 < len(number) < 4 and int(number) else 0


def new_row(name: str) -> Typed:
    form = LISTS[name].form
    return {leaf: form.starts_as.get(leaf, "") for leaf in form.base_fields} | new_marks(form.marked)


def typed_of(spec: WallSpec, system: System) -> TypedWall:
    """The form as the stored wall fills it, lengths readable in the firm's units where that is exact."""
    written = write_wall(spec)
    result = TypedWall()
    for _, section in sections():
        if section.form:
            part = (written.get(section.prefix) or {}) if section.prefix else written
            texts = section.form.texts_of(part, system)
            result.texts |= {
                f"{section.prefix}-{leaf}" if section.prefix else leaf: text for leaf, text in texts.items()
            }
        for rows in section.rows:
            values = _values(rows.path, written)
            result.put(rows.name, [rows.form.texts_of(value, system) | _beside(value) for value in values])
    is_level = not isinstance(written["height"], list)
    result.texts["height_way"] = "level" if is_level else "stations"
    if not is_level:
        result.texts["height"] = ""
    result.put("pieces", [row | {"was": str(place)} for place, row in enumerate(result.rows("pieces"))])
    result.shorten(system)
    for rows in (PIECES, STATIONS, OPENINGS):
        marked = enumerate(result.rows(rows.name))
        result.put(
            rows.name,
            [row | stored_marks(row, f"{rows.path}[{at}].", rows.form.marked, spec.taken.marks) for at, row in marked],
        )
    result.texts |= stored_marks(result.texts, "", ("height",), spec.taken.marks)
    return result


def _values(path: str, written: Document) -> list[Document]:
    if path in ("readings", "leans"):
        pieces = enumerate(written["pieces"])
        return [{**value, "of_piece": place + 1} for place, piece in pieces for value in piece.get(path, ())]
    if path == "kit":
        return [{"role": role, "instead": code} for role, codes in written["kit"].items() for code in codes]
    value = written
    for step in path.split("."):
        value = (value or {}).get(step) or []  # type: ignore[assignment]
    return value if isinstance(value, list) else []


def _beside(value: Document) -> Typed:
    return {"of_piece": str(value["of_piece"])} if "of_piece" in value else {}


def typed_from_post(data: QueryDict, base: TypedWall) -> TypedWall:
    """What a form sent; names that are not the form's are passed over. base: the wall it was opened with."""
    sent = frozenset({"survey", *data.getlist("part")} & set(EVERY_PART))
    texts = {
        name: "" if part_of(name) in sent else text for name, text in base.texts.items() if not ROW.fullmatch(name)
    }
    texts |= {name: text for name, text in base.texts.items() if ROW.fullmatch(name) and part_of(name) not in sent}
    for name, value in data.items():
        if part_of(name) in sent:
            texts[name] = str(value)[: LONGEST + 1].strip()
    exact = base.exact | read(data.getlist("exact"))
    result = TypedWall(texts, exact, sent)
    for name in LISTS:
        # Places may have gaps; what is not the first row's is the next one's.
        result.put(name, result.rows(name))
    _keep_unsent(result, base)
    for name, rows in LISTS.items():
        blank = dict.fromkeys(rows.form.base_fields, "")
        result.put(name, [blank | row for row in result.rows(name)])
    return result


def _keep_unsent(result: TypedWall, base: TypedWall) -> None:
    """Of pieces that are closed, or open without what is seldom said, what stands stays."""
    before, rows = base.rows("pieces"), result.rows("pieces")
    was = [int(text) if (text := row.get("was", "")).isdecimal() and text.isascii() else -1 for row in rows]
    kept = [before[at] if 0 <= at < len(before) and was.index(at) == place else {} for place, at in enumerate(was)]
    full = [{**(old or new_marks(PIECE_FIGURES)), **row} for old, row in zip(kept, rows, strict=True)]
    result.put("pieces", full)
    if "readings" not in result.sent:
        places = {at: place for place, (at, old) in enumerate(zip(was, kept, strict=True)) if old}
        result.follow({at: places.get(at) for at in range(len(before))})


def first_typed(offered: Mapping[str, Options], thinnest_board: str) -> TypedWall:
    """A new wall to start from: one arc, and two layers of the thinnest board on each face."""
    result = TypedWall()
    for _, section in sections():
        if section.form:
            at = f"{section.prefix}-" if section.prefix else ""
            result.texts |= {at + leaf: section.form.starts_as.get(leaf, "") for leaf in section.form.base_fields}
    result.texts |= {name: offered[name][0][0] if offered[name] else "" for name in ("track", "stud")}
    result.texts["height" + MARK] = "measured"
    result.put("pieces", [new_row("pieces") | {"was": "0"}])
    for face in ("left", "right"):
        result.put(f"{face}-layers", [new_row(f"{face}-layers") | {"board": thinnest_board} for _ in range(2)])
    result.sent = frozenset()
    return result


def thinnest_board() -> str:
    """Common practice: two thin layers on a curve, never one alone."""
    boards = Material.objects.filter(active=True, kind="board", facts__name="thickness_mm")
    return boards.order_by("facts__value", "code").values_list("code", flat=True).first() or ""
